// Package day holds calendar dates without a time or a zone.
package day

import (
	"fmt"
	"time"
)

// Date is a day of the proleptic Gregorian calendar, counted from 1970-01-01.
// None is no date.
type Date int32

// None is the absence of a date.
const None Date = -1 << 31

// Of is the date of a year, month (1 to 12) and day; like time.Date it
// normalises values outside their ranges.
func Of(year, month, dayOfMonth int) Date {
	return FromTime(time.Date(year, time.Month(month), dayOfMonth, 0, 0, 0, 0, time.UTC))
}

// FromTime is the wall-clock date of t, whatever its zone.
func FromTime(t time.Time) Date {
	y, m, d := t.Date()
	s := time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix()
	if s < 0 && s%86400 != 0 {
		return Date(s/86400 - 1)
	}
	return Date(s / 86400)
}

// Time is midnight UTC of d.
func (d Date) Time() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// Parse reads ISO 8601 text such as "2026-10-31"; any other text, or a day that
// there is not, is an error that quotes it.
func Parse(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return None, fmt.Errorf("%q is not a date such as 2026-10-31", s)
	}
	return FromTime(t), nil
}

// String is the ISO 8601 text; "" for None.
func (d Date) String() string {
	if d == None {
		return ""
	}
	return d.Time().Format(time.DateOnly)
}

// MarshalText is String; there is no error.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// IsZero reports whether there is no date, for encoding/json's omitzero.
func (d Date) IsZero() bool { return d == None }

// YMD is the year, month and day of d.
func (d Date) YMD() (year, month, dayOfMonth int) {
	y, m, n := d.Time().Date()
	return y, int(m), n
}

// Month is the calendar month of d.
func (d Date) Month() Month {
	y, m, _ := d.YMD()
	return Month(y*12 + m - 1)
}

// Month is a calendar month: 12 x year + month - 1.
type Month int32

// ParseMonth reads text such as "2026-10"; any other is an error that quotes
// it.
func ParseMonth(s string) (Month, error) {
	t, err := time.Parse("2006-01", s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a month such as 2026-10", s)
	}
	return FromTime(t).Month(), nil
}

// First is the first day of m.
func (m Month) First() Date { return Of(int(m)/12, int(m)%12+1, 1) }

// Last is the last day of m.
func (m Month) Last() Date { return (m + 1).First() - 1 }

// String is "2026-10".
func (m Month) String() string { return fmt.Sprintf("%04d-%02d", int(m)/12, int(m)%12+1) }

// AddMonths is the same day n months later, or the last day of that month
// where the month is shorter.
func (d Date) AddMonths(n int) Date {
	m := d.Month() + Month(n)
	_, _, dom := d.YMD()
	return min(m.First()+Date(dom)-1, m.Last())
}

// MonthDay is a day of any year: 100 x month + day.
type MonthDay int

// MD is the month and day of d.
func (d Date) MD() MonthDay {
	_, m, n := d.YMD()
	return MonthDay(m*100 + n)
}

// String is "12-01".
func (md MonthDay) String() string { return fmt.Sprintf("%02d-%02d", int(md)/100, int(md)%100) }

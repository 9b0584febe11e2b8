package parse

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pourbook/compute/day"
	"pourbook/ingest/grid"
)

func TestDateIn(t *testing.T) {
	for _, c := range []struct {
		cell  grid.Cell
		order Order
		want  string
		code  string
	}{
		{grid.Cell{Kind: grid.Date, Day: day.Of(2026, 10, 31), Raw: "2026-10-31"}, OrderUnknown, "2026-10-31", ""},
		{grid.Cell{Kind: grid.Date, Day: day.None, Raw: "60"}, OrderUnknown, "", "bad-date"},
		{typed("2026-10-31"), OrderUnknown, "2026-10-31", ""},
		{typed("2026-10-31T23:59:59Z"), OrderUnknown, "2026-10-31", ""},
		{typed("2026-10-31T23:59:59.999-08:00"), OrderUnknown, "2026-10-31", ""},
		{typed("2026-10-31 14:22:05 +0100"), OrderUnknown, "2026-10-31", ""},
		{typed("2026-1-5"), OrderUnknown, "2026-01-05", ""},
		{typed("2026/10/31"), OrderUnknown, "2026-10-31", ""},
		{typed("20261031"), OrderUnknown, "2026-10-31", ""},
		{typed("31 October 2026"), OrderUnknown, "2026-10-31", ""},
		{typed("Oct 31, 2026"), OrderUnknown, "2026-10-31", ""},
		{typed("31st of October, 2026"), OrderUnknown, "2026-10-31", ""},
		{typed("Sat, Oct 31 2026 9:15 am"), OrderUnknown, "2026-10-31", ""},
		{typed("Saturday, 31 October 2026"), OrderUnknown, "2026-10-31", ""},
		{typed("31-Oct-26"), OrderUnknown, "2026-10-31", ""},
		{typed("Sept. 3, 2026"), OrderUnknown, "2026-09-03", ""},
		{typed("3/4/2026"), DayFirst, "2026-04-03", ""},
		{typed("3/4/2026"), MonthFirst, "2026-03-04", ""},
		{typed("3.4.2026"), DayFirst, "2026-04-03", ""},
		{typed("3/4/26"), MonthFirst, "2026-03-04", ""},
		{typed("3/4/2026 2:15 PM"), MonthFirst, "2026-03-04", ""},
		{typed("2/29/2028"), MonthFirst, "2028-02-29", ""},
		{number(46326), OrderUnknown, "2026-10-31", "~bad-date.serial"},
		{typed("46326"), OrderUnknown, "2026-10-31", "~bad-date.serial"},
		{number(46326.75), OrderUnknown, "2026-10-31", "~bad-date.serial"},
		{grid.Cell{Kind: grid.Number, Num: 44864, Since1904: true}, OrderUnknown, "2026-10-31", "~bad-date.serial"},
		{number(20000), OrderUnknown, "1954-10-03", "~bad-date.serial"},
		{number(80000), OrderUnknown, "2119-01-11", "~bad-date.serial"},
		{number(20261031), OrderUnknown, "2026-10-31", "~bad-date.digits"},

		{typed("3/4/2026"), OrderUnknown, "", "bad-date.order"},
		{typed("13/4/2026"), Mixed, "", "bad-date.mixed"},
		{typed("13/4/2026"), MonthFirst, "", "bad-date"},
		{typed("31 Feb 2026"), OrderUnknown, "", "bad-date"},
		{typed("2026-02-30"), OrderUnknown, "", "bad-date"},
		{typed("2026-13-01"), OrderUnknown, "", "bad-date"},
		{typed("2/29/2026"), MonthFirst, "", "bad-date"},
		{typed("3/4/88"), MonthFirst, "", "bad-date.year"},
		{typed("1 Apr"), OrderUnknown, "", "bad-date.no-year"},
		{typed("3/4"), MonthFirst, "", "bad-date.no-year"},
		{typed("next week"), OrderUnknown, "", "bad-date"},
		{typed("May"), OrderUnknown, "", "bad-date"},
		{typed("31.10.2026.5"), DayFirst, "", "bad-date"},
		{typed("12"), OrderUnknown, "", "bad-date"},
		{typed("n/a"), OrderUnknown, "", "bad-date"},
		{typed("12:30"), OrderUnknown, "", "bad-date"},
		{number(19999), OrderUnknown, "", "bad-date"},
		{number(80001), OrderUnknown, "", "bad-date"},
		{number(12), OrderUnknown, "", "bad-date"},
		{number(20261332), OrderUnknown, "", "bad-date"},
		{grid.Cell{Kind: grid.Bool, Raw: "TRUE"}, OrderUnknown, "", "bad-date"},
		{grid.Cell{Kind: grid.Error, Raw: "#N/A"}, OrderUnknown, "", "cell-error"},
		{grid.Cell{Kind: grid.NoValue, Raw: "=TODAY()"}, OrderUnknown, "", "cell-error.no-value"},
	} {
		d := DateIn(c.cell, c.order)
		if code(d.Finding) != c.code || d.OK() && d.V.String() != c.want || d.OK() == (c.want == "") {
			t.Errorf("%+v, order %d: %v %q, want %s %q", c.cell, c.order, d.V, code(d.Finding), c.want, c.code)
		}
		inWords(t, d.Finding)
	}
}

func TestDateEvidence(t *testing.T) {
	for _, c := range []struct {
		column []string
		want   Order
	}{
		{[]string{"3/4/2026", "5/6/2026"}, OrderUnknown},
		{[]string{"3/4/2026", "13/6/2026"}, DayFirst},
		{[]string{"3/4/2026", "6/13/2026"}, MonthFirst},
		{[]string{"13/6/2026", "6/13/2026"}, Mixed},
		{[]string{"13/6/26", "1/6/26"}, DayFirst},
		{[]string{"26/10/05", "26/10/17", "26/11/02"}, Mixed},
		{[]string{"2026-10-31", "31 Oct 2026", "n/a", "40/40/2026"}, OrderUnknown},
		{[]string{"3/20", "12/1"}, MonthFirst},
	} {
		var e DateEvidence
		for _, s := range c.column {
			e.Look(typed(s))
		}
		e.Look(number(46326))
		if got := e.Order(); got != c.want {
			t.Errorf("%q: order %d, want %d", c.column, got, c.want)
		}
	}
}

func TestMonthDayIn(t *testing.T) {
	for _, c := range []struct {
		cell  grid.Cell
		order Order
		want  string
		code  string
	}{
		{typed("12-01"), OrderUnknown, "12-01", ""},
		{typed("12-1"), DayFirst, "12-01", ""},
		{typed("02-29"), OrderUnknown, "02-29", ""},
		{typed("Dec 1"), OrderUnknown, "12-01", ""},
		{typed("1 December"), OrderUnknown, "12-01", ""},
		{typed("December 1st"), OrderUnknown, "12-01", ""},
		{typed("2026-12-01"), OrderUnknown, "12-01", ""},
		{typed("12/1"), MonthFirst, "12-01", ""},
		{typed("1/12"), DayFirst, "12-01", ""},
		{grid.Cell{Kind: grid.Date, Day: day.Of(2026, 12, 1)}, OrderUnknown, "12-01", ""},
		{number(46357), OrderUnknown, "12-01", "~bad-date.serial"},
		{typed("12/1"), OrderUnknown, "", "bad-date.order"},
		{typed("12/1"), Mixed, "", "bad-date.mixed"},
		{typed("13-01"), OrderUnknown, "", "bad-date.season"},
		{typed("02-30"), OrderUnknown, "", "bad-date.season"},
		{typed("spring"), OrderUnknown, "", "bad-date.season"},
		{number(1201), OrderUnknown, "", "bad-date"},
		{grid.Cell{Kind: grid.Error, Raw: "#N/A"}, OrderUnknown, "", "cell-error"},
	} {
		d := MonthDayIn(c.cell, c.order)
		if code(d.Finding) != c.code || d.OK() && d.V.String() != c.want || d.OK() == (c.want == "") {
			t.Errorf("%+v, order %d: %v %q, want %s %q", c.cell, c.order, d.V, code(d.Finding), c.want, c.code)
		}
		inWords(t, d.Finding)
	}
}

// A column of dates in one layout gives every one of them back, once a day
// above 12 is among them, and never another date before that.
func TestDateColumnsReadWhatIsWritten(t *testing.T) {
	layouts := []string{
		"2006-01-02", "2006-1-2", "2006-01-02T15:04:05Z", "2006/01/02", "1/2/2006", "01/02/2006", "2/1/2006", "02.01.2006",
		"1/2/06", "2/1/06", "2-1-2006", "January 2, 2006", "2 Jan 2006", "Mon, 02 Jan 2006 15:04:05 MST", "02-Jan-06", "1/2/2006 3:04 PM", "20060102",
	}
	rapid.Check(t, func(t *rapid.T) {
		layout := rapid.SampledFrom(layouts).Draw(t, "layout")
		days := rapid.SliceOfN(rapid.IntRange(int(day.Of(2000, 1, 1)), int(day.Of(2069, 12, 31))), 1, 8).Draw(t, "days")
		var e DateEvidence
		var texts []string
		for i, d := range days {
			at := day.Date(d).Time().Add(time.Duration(i) * 3 * time.Hour)
			texts = append(texts, at.Format(layout))
			e.Look(typed(texts[i]))
		}
		for i, s := range texts {
			got := DateIn(typed(s), e.Order())
			if got.OK() && got.V != day.Date(days[i]) {
				t.Fatalf("%q was read as %v", s, got.V)
			}
			if !got.OK() && e.Order() != OrderUnknown && e.Order() != Mixed {
				t.Fatalf("%q in order %d was not read: %v", s, e.Order(), got.Finding)
			}
		}
	})
}

func TestMonthDaysReadWhatIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		md := day.Date(rapid.IntRange(int(day.Of(2024, 1, 1)), int(day.Of(2024, 12, 31))).Draw(t, "day")).MD()
		for _, s := range []string{md.String(), fmt.Sprintf("%d-%d", md/100, md%100), fmt.Sprintf("%d %s", md%100, time.Month(md/100))} {
			if got := MonthDayIn(typed(s), OrderUnknown); !got.OK() || got.V != md {
				t.Fatalf("%q: %+v", s, got)
			}
		}
	})
}

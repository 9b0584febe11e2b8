package day

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestDatesEqualTheTimePackage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := time.Date(rapid.IntRange(1900, 2200).Draw(t, "y"), time.Month(rapid.IntRange(1, 12).Draw(t, "m")),
			rapid.IntRange(1, 31).Draw(t, "d"), rapid.IntRange(0, 23).Draw(t, "h"), 59, 59, 0, time.FixedZone("", 5*3600))
		d := FromTime(at)
		if got, want := d.String(), at.Format(time.DateOnly); got != want {
			t.Fatalf("%v became %s", at, got)
		}
		back, err := Parse(d.String())
		if err != nil || back != d {
			t.Fatalf("%s read back as %s, %v", d, back, err)
		}
		if m := d.Month(); d < m.First() || d > m.Last() || m.First().Month() != m || (m.Last()+1).Month() != m+1 {
			t.Fatalf("%s lies outside its month %s", d, m)
		}
		if next := (d + 1).Time(); !next.Equal(d.Time().AddDate(0, 0, 1)) {
			t.Fatalf("the day after %s is %s", d, next)
		}
	})
}

func TestAddMonths(t *testing.T) {
	for _, c := range []struct {
		from string
		n    int
		want string
	}{
		{"2026-10-31", -24, "2024-10-31"}, {"2026-03-31", -1, "2026-02-28"}, {"2024-02-29", 12, "2025-02-28"}, {"2026-11-15", 2, "2027-01-15"},
	} {
		d, _ := Parse(c.from)
		if got := d.AddMonths(c.n).String(); got != c.want {
			t.Errorf("%s %+d months = %s, want %s", c.from, c.n, got, c.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, s := range []string{"", "2026-02-30", "10/31/2026", "2026-1-1"} {
		if d, err := Parse(s); err == nil {
			t.Errorf("Parse(%q) = %s", s, d)
		}
	}
	if m, err := ParseMonth("2026-13"); err == nil {
		t.Errorf("ParseMonth(2026-13) = %s", m)
	}
}

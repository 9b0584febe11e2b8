package ingest

import (
	"slices"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
)

// Settings that count say what they count, and take no number of anything else.
func TestWhatSettingsCount(t *testing.T) {
	for _, c := range []struct {
		name book.Setting
		row  string
		want float64
		say  string
	}{
		{book.ProductiveHours, "productive hours per month|60 hrs", 60, ""},
		{book.ProductiveHours, "Productive hours|90 min", 1.5, ""},
		{book.ProductiveHours, "productive hours per month|10 days", 0, "error bad-number"},
		{book.ProductiveHours, "productive hours per month|60 candles", 0, "error bad-number"},
		{book.CureDays, "cure days|2 weeks", 14, ""},
		{book.CureDays, "cure time (weeks)|2", 14, ""},
		{book.CureDays, "cure time (weeks)|10 days", 10, ""},
		{book.CureMargin, "cure margin (hours)|24", 0, "error bad-unit"},
		{book.CureMargin, "cure margin (days)|3", 3, ""},
		{book.CureMargin, "cure margin (to be safe)|3", 3, ""},
		{book.TestJars, "test jars per wick|4 jars", 4, ""},
		{book.DropsPerML, "drops per mL|22 drops", 22, ""},
		{book.DropsPerML, "drops per mL|22 days", 0, "error bad-number"},
		{book.MixPrior, "mix prior|12 candles", 12, ""},
		{book.DemandSpread, "demand spread r|3", 3, ""},
	} {
		b := readBook(t, with("Settings", sheet{name: "Settings", rows: "name|value\n" + c.row})...)
		n := b.Settings.Num(c.name)
		said := slices.ContainsFunc(found(b, "Settings"), func(s string) bool {
			return c.say != "" && strings.HasPrefix("error "+s, c.say) && strings.Contains(s, "B2")
		})
		if n.OK() != (c.say == "") || n.OK() && n.V != c.want || said != (c.say != "") {
			t.Errorf("%s: %v, %q", c.row, n, found(b, "Settings"))
		}
	}
}

// A default is the same as a text and as a number.
func TestDefaultsAreWhatTheySay(t *testing.T) {
	for _, d := range book.Defs {
		if d.Default == "" || d.Kind == book.KText || d.Kind == book.KWeekdays {
			continue
		}
		b := readBook(t, with("Settings", sheet{name: "Settings", rows: "name|value\n" + string(d.Name) + "|" + d.Default})...)
		if n := b.Settings.Num(d.Name); n.State != cell.Typed || n.V != d.Value {
			t.Errorf("%s: %q is read as %v, the default is %v", d.Name, d.Default, n, d.Value)
		}
	}
}

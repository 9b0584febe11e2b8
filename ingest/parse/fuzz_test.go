package parse

import (
	"math"
	"testing"
	"unicode/utf8"

	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/templates"
)

// corpus is what people type, and what breaks readers.
var corpus = []string{
	"", " ", "12", "1,234.50", "1.234,50 EUR", "$1,234.50", "(12.50)", "($12.50)", "12.50-", "−5", "1\u00a0234,50", "1'234.50", "１２", "½", "1 1/2",
	"1-1/2", "1e3", "1e-400", "1e999999999", "NaN", "0x10", "1_000", "1,2O", "n/a", "-", "TBD", "%", "8 %", "8%%", "12.-", "kr", "EUR", "€", "₿1", "((1))", "--1",
	"1 lb 4 oz", "16oz", "6 drops/lb", "10-lb", "2 x 16 oz", "x", "2x", "x2", "2 x", "packs of", "3 packs", "4 fl oz", "100 ct", "1 lb 4 lb", "oz", "#", "10#", "1/0 lb",
	"2026-10-31", "2026-10-31T12:00:00Z", "10/31/2026 2:15 PM", "31st October 2026", "Oct", "1 Apr", "3/4/26", "99/99/9999", "20261031", "0000-00-00", "12-01", "12/1",
	":", "T:", "1:", "////", "....", "1.1.1", "9999-12-31", "10000-01-01", "Price (USD)", "Size oz", "()", "(g)", "per lb", "in oz", "[", "a (b",
	"\xff\xfe", "\x00", "\u200b12\ufeff", "é", "e\u0301", "🕯 12 oz", "99999999999999999999999999999999999999999", "0.00000000000000000000000000000001",
}

func checkFinding(t *testing.T, f Finding) {
	t.Helper()
	if f.None() {
		return
	}
	key := "problem." + string(f.Code)
	if f.Say != "" {
		key += "." + f.Say
	}
	if !templates.Has(key) || f.Severity != problem.Error && f.Severity != problem.Warning {
		t.Errorf("finding %+v", f)
	}
}

func FuzzNumber(f *testing.F) {
	for _, s := range corpus {
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, s string, comma bool) {
		st := Style{Decimal: '.'}
		if comma {
			st.Decimal = ','
		}
		for _, r := range []Result{Number(s, st), MoneyIn(typed(s), st, "USD"), PercentIn(typed(s), st, WholePercent)} {
			checkFinding(t, r.Finding)
			if r.OK() && (math.IsNaN(r.V) || math.Abs(r.V) > tooLarge || r.V != r.A.Float64()) {
				t.Errorf("%q: %v, %v", s, r.V, r.A)
			}
			if r.Blank && r.Finding.Bad() {
				t.Errorf("%q is blank and bad", s)
			}
		}
		var e Evidence
		e.Look(s)
		if got := e.Style(st); got.Decimal != '.' && got.Decimal != ',' {
			t.Errorf("%q: style %v", s, got)
		}
	})
}

func FuzzQuantity(f *testing.F) {
	for _, s := range corpus {
		f.Add(s, "", "")
		f.Add("12", s, "")
		f.Add("12", "", s)
	}
	f.Fuzz(func(t *testing.T, s, column, heading string) {
		q := QuantityIn(typed(s), Style{}, Units{column, heading})
		checkFinding(t, q.Finding)
		checkFinding(t, q.Suspect(LoadPercent))
		if q.OK() && (math.IsNaN(q.Base) || math.IsInf(q.Base, 0) || q.Rate != nil && q.Unit.Name != "") {
			t.Errorf("%q: %+v", s, q)
		}
		h := SplitHeading(heading)
		if utf8.ValidString(heading) && !utf8.ValidString(h.Name+h.Unit+h.Note) {
			t.Errorf("%q: %+v", heading, h)
		}
	})
}

func FuzzDate(f *testing.F) {
	for _, s := range corpus {
		f.Add(s, uint8(DayFirst))
	}
	f.Fuzz(func(t *testing.T, s string, order uint8) {
		o := Order(order % 4)
		d, md := DateIn(typed(s), o), MonthDayIn(typed(s), o)
		checkFinding(t, d.Finding)
		checkFinding(t, md.Finding)
		if d.OK() && (d.V < day.Of(1900, 1, 1) || d.V > day.Of(9999, 12, 31)) {
			t.Errorf("%q: %v", s, d.V)
		}
		if md.OK() && (md.V < 101 || md.V > 1231) {
			t.Errorf("%q: %v", s, md.V)
		}
		var e DateEvidence
		e.Look(typed(s))
		if e.Order() > Mixed {
			t.Errorf("%q: order %d", s, e.Order())
		}
		checkFinding(t, YesNo(typed(s)).Finding)
		if text, f := Text(typed(s)); Blank(typed(s)) != (text == "") || !f.None() {
			t.Errorf("%q: text %q", s, text)
		}
		checkFinding(t, NumberIn(grid.Cell{Kind: grid.Kind(order), Raw: s}, Style{}).Finding)
	})
}

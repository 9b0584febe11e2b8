package plan

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
)

// off is how far a dose is off when it is rounded to steps.
func off(e, step float64) float64 {
	n := math.Max(math.Floor(e/step+0.5), 0)
	return math.Abs(n*step-e) / e
}

func TestCuresAreWithinTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := float64(rapid.IntRange(1, 4000).Draw(t, "exact")) / 100
		step := rapid.SampledFrom([]float64{0.1, 1, 5}).Draw(t, "step")
		limit := float64(rapid.IntRange(1, 20).Draw(t, "limit")) / 100
		above, below := cures(e, step, limit)
		if above < e || off(above*(1+1e-12), step) > limit+1e-9 {
			t.Fatalf("above: %v is off by %v", above, off(above, step))
		}
		if below != 0 && (below > e || off(below*(1-1e-12), step) > limit+1e-9) {
			t.Fatalf("below: %v is off by %v", below, off(below, step))
		}
		for x := e; x < above*(1-1e-6); x += (above - e) / 50 {
			if x > e && off(x, step) < limit-1e-9 {
				t.Fatalf("%v is nearer than %v and off by %v only", x, above, off(x, step))
			}
		}
	})
}

func TestDosesOfAPour(t *testing.T) {
	b := plainBook()
	r := &run{book: b, opts: options()}
	r.engine = newEngine(b)
	dye, wax := b.Materials[1], b.Materials[0]
	blend := calc.Const(1000)
	for _, x := range []struct {
		exact, drops, off float64
		grams             bool
	}{
		{2.4, 2, -1.0 / 6, false}, {0.2, 1, 4, false}, {0.5, 1, 1, false}, {59.4, 59, -0.4 / 59.4, false}, {59.5, 60, 0.5 / 59.5, true}, {120.2, 120, -0.2 / 120.2, true},
	} {
		w := r.weigh(dye, "x", blend, consts(x.exact/20*0.9), consts(x.exact))
		near(t, "drops", w.Drops, x.drops)
		near(t, "dose error", w.DoseError, x.off)
		if w.Grams.Known() != x.grams {
			t.Errorf("%v drops: grams given %v", x.exact, w.Grams.Known())
		}
	}
	w := r.weigh(wax, "x", blend, consts(1234.5), nil)
	near(t, "grams", w.Grams, 1235)
	if w.Drops.Known() || w.CureBatch.Known() {
		t.Error("wax has drops, or a weight that would cure it")
	}
	// 2.4 drops are off by a sixth; 2.4 x 1000 / 2.4 = 1000 g; 3 drops are within
	// 5 % from 3 / 1.05 drops on.
	w = r.weigh(dye, "x", blend, consts(0.1), consts(2.4))
	near(t, "weight that cures", w.CureBatch, 1000*3/1.05/2.4)
}

func TestWeekdays(t *testing.T) {
	for text, want := range map[string]string{
		"every day": "SMTWTFS", "": "SMTWTFS", "Mon, Wed and Fri": ".M.W.F.", "Tue-Thu": "..TWT..", "Sat to Mon": "SM....S",
		"weekends": "S.....S", "Weekdays": ".MTWTF.", "Tuesdays; Thurs.": "..T.T..", "Fri–Sun": "S....FS", "whenever": "SMTWTFS",
	} {
		got := ""
		for d, ok := range weekdays(text) {
			if ok {
				got += time.Weekday(d).String()[:1]
			} else {
				got += "."
			}
		}
		if got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}

func TestPourDaysAndTheFlagsOfTheCommand(t *testing.T) {
	b := plainBook()
	b.Settings.SetText(book.PourDays, text("Tue, Thu"))
	o := options()
	o.Start, o.Skip, o.FirstBatch, o.Minutes = date("2026-03-10"), []day.Date{date("2026-03-12")}, 14, 400
	r := mustRun(t, b, o)
	if len(r.Pours) == 0 || r.Pours[0].Batch != 14 {
		t.Fatalf("%d pours, the first is batch %d", len(r.Pours), r.Pours[0].Batch)
	}
	for _, p := range r.Pours {
		if w := p.Day.Time().Weekday(); w != time.Tuesday && w != time.Thursday || p.Day < o.Start || p.Day == o.Skip[0] {
			t.Errorf("pours on %v, a %v", p.Day, w)
		}
	}
	for _, d := range r.Days {
		near(t, "limit", d.Limit, 400)
	}
}

func TestFlags(t *testing.T) {
	b := plainBook()
	red, rose, wax := b.Recipes[0], b.Materials[3], b.Materials[0]
	red.Ingredients[2].Amount = num(11) // drops per lb, above 10
	rose.MaxLoad, wax.MaxLoad = num(0.07), num(0.2)
	b.Materials[1].Base = text("Water")
	for _, p := range b.Products {
		b.Burns = append(b.Burns, book.Burn{Day: date("2026-01-05"), Recipe: p.Recipe, Jar: p.Jar, Finish: p.Finish, Wick: text("wick"), Pass: true})
	}
	b.Burns[5].Pass = false // cedar, glass, natural
	b.Burns = append(b.Burns, book.Burn{Day: date("2026-02-01"), Recipe: b.Recipes[1], Jar: b.Jars[1], Finish: book.Natural, Wick: text("another wick")})
	for _, m := range b.Materials {
		m.LeadDays = num(0)
	}
	b.Materials[5].OnHand = num(3) // wicks
	r := mustRun(t, b, options())
	for _, p := range r.Pours {
		has := map[string]bool{}
		for _, f := range p.Flags {
			has[f] = true
		}
		rose, colored := p.Recipe == "Rose", p.Finish == book.Colored
		glass := p.Jars[0].Of.Jar == b.Jars[0]
		if has[FlagDropLimit] != (rose && colored) || has[FlagWater] != (rose && colored) || has[FlagMaxLoad] != rose || has[FlagUntested] ||
			has[FlagFailed] != (!rose && !colored && glass) || !has[FlagWaits] || has[FlagAdditive] || has[FlagNoDye] {
			t.Errorf("%s %s: %v", p.Recipe, p.Finish, p.Flags)
		}
	}
	if len(r.Tests) != 1 || !r.Tests[0].Failed || r.Tests[0].Jars != 3 || r.Tests[0].Recipe != b.Recipes[1] {
		t.Errorf("tests %+v", r.Tests)
	}
	wax.ContainsAdditive = cell.Bool{V: true, State: cell.Typed}
	polymer := material(b, "Polymer", book.Additive, wax.Dim, 500, 9, 100)
	red.Ingredients = append(red.Ingredients, book.Ingredient{Material: polymer, Amount: num(0.5), Rate: rate("% of wax")})
	double := false
	for _, f := range mustRun(t, b, options()).Pours[0].Flags {
		double = double || f == FlagAdditive
	}
	if !double {
		t.Error("a second additive is not flagged")
	}
}

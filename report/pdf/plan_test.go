package pdf

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/oracle"
	"pourbook/compute/plan"
	"pourbook/compute/problem"
	"pourbook/report/show"
	"pourbook/templates"
)

func planOptions(paper string) Options {
	return Options{Paper: paper, Today: planToday, Shop: "Quince Shed Candles", Print: "3f9a-71c2"}
}

func drawPlan(t testing.TB, r *plan.Result, paper string) []byte {
	t.Helper()
	b, _, err := Plan(r, planOptions(paper))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// sheetsOf is the text of each sheet, its spaces collapsed.
func sheetsOf(t testing.TB, pdf []byte) []string {
	t.Helper()
	var out []string
	for s := range strings.SplitSeq(strings.TrimSuffix(tool(t, pdf, "pdftotext", "-layout", "FILE", "-"), "\f"), "\f") {
		out = append(out, strings.Join(strings.Fields(s), " "))
	}
	return out
}

func TestPlansOfAllShapes(t *testing.T) {
	for name, s := range planShapes {
		r := benchPlan(t, s)
		for _, paper := range []string{"Letter", "A4"} {
			t.Run(name+" on "+paper, func(t *testing.T) {
				b := drawPlan(t, r, paper)
				if dir := os.Getenv("PLANS"); dir != "" {
					if err := os.WriteFile(filepath.Join(dir, name+"-"+paper+".pdf"), b, 0o600); err != nil {
						t.Fatal(err)
					}
				}
				sound(t, name, b, paper)
			})
		}
	}
	oracle.Cases(t, 2*len(planShapes))
}

func TestPlanHasTheSameBytes(t *testing.T) {
	r := benchPlan(t, planShapes["small"])
	first := drawPlan(t, r, "Letter")
	var all sync.WaitGroup
	for range 3 {
		all.Go(func() {
			if b, _, err := Plan(r, planOptions("Letter")); err != nil || !bytes.Equal(b, first) {
				t.Error("other bytes for the same plan", err)
			}
		})
	}
	all.Wait()
}

// Each card says what to weigh, how many drops to count, when to pour, and when
// the batch is cured.
func TestCardsSayWhatToDo(t *testing.T) {
	r := benchPlan(t, planShapes["small"])
	sheets := sheetsOf(t, drawPlan(t, r, "Letter"))
	for i := range r.Pours {
		x := &r.Pours[i]
		at := slices.IndexFunc(sheets, func(s string) bool {
			return strings.Contains(s, fmt.Sprintf("%s, card %d of %d", batchName(x), i+1, len(r.Pours)))
		})
		if at < 0 {
			t.Errorf("no card for %s", batchName(x))
			continue
		}
		want := []string{show.ShortDate(x.Day), show.Date(x.Cured), "185 °F 85 °C", "135 °F 57 °C", "for Harbor Lights Fair, Sat 5 Dec"}
		for _, w := range x.Weigh {
			n := show.Decimals(w.Grams.Or(0), 0)
			if v, ok := w.Drops.Value(); ok {
				n = show.Decimals(v, 0)
			}
			want = append(want, w.Material, strings.ReplaceAll(n, ",", "")+" ")
		}
		for _, j := range x.Jars {
			want = append(want, making(x), show.Decimals(j.Fill.Or(0), 0)+" g")
		}
		for _, s := range want {
			if !strings.Contains(sheets[at], strings.ReplaceAll(s, "\u00a0", " ")) {
				t.Errorf("%s: no %q in\n%s", batchName(x), s, sheets[at])
			}
		}
	}
}

func TestContentsNameTheSheets(t *testing.T) {
	r := benchPlan(t, planShapes["small"])
	sheets := sheetsOf(t, drawPlan(t, r, "Letter"))
	p := newPlanPages(r, planOptions("Letter"))
	p.parts = p.pack()
	p.first()
	for i := range p.parts {
		x := &p.parts[i]
		x.from = p.Sheets() + 1
		x.draw()
		title := strings.TrimSuffix(strings.SplitN(x.name, ",", 2)[0], "s")
		if x.key == partCards {
			title = batchName(&r.Pours[0])
		}
		if !strings.Contains(sheets[x.from-1], title) {
			t.Errorf("%s is not on sheet %d", x.name, x.from)
		}
		if !strings.Contains(sheets[0], x.name) || !strings.Contains(sheets[0], " "+strconv.Itoa(x.from)) {
			t.Errorf("sheet 1 does not send to %s on sheet %d", x.name, x.from)
		}
	}
}

func TestWhatGoesInFirst(t *testing.T) {
	var weigh []plan.Weigh
	for _, k := range []book.Kind{book.Fragrance, book.Dye, book.Wax, book.Additive, book.Fragrance} {
		weigh = append(weigh, plan.Weigh{Material: string(k), Of: &book.Material{Kind: k}})
	}
	var got []string
	for _, w := range inPotOrder(append(weigh, plan.Weigh{Material: "unknown"})) {
		got = append(got, w.Material)
	}
	if s := strings.Join(got, " "); s != "wax additive dye fragrance fragrance unknown" {
		t.Error(s)
	}
}

func TestEveryFlagHasWords(t *testing.T) {
	for _, f := range plan.Flags {
		if !templates.Has("plan.flag."+f) || !templates.Has("plan.flag.text."+f) {
			t.Errorf("no words for flag %s", f)
		}
	}
	for _, k := range book.Kinds {
		if !templates.Has("plan.kind." + string(k)) {
			t.Errorf("no words for kind %s", k)
		}
	}
}

// The first sentence of page one is what the plan comes to.
func TestFindings(t *testing.T) {
	for name, want := range map[string]string{
		"nothing": "Nothing has to be poured: what is on hand covers the ",
		"late":    "candles that are missing can be poured in time. That costs $",
		"small":   "About 55 should sell and leave $",
		"tight":   "do not fit and are left out. That costs $",
		"by":      "to have them cured by Sat 5 Dec 2026.",
		"two":     "to Harbor Lights Fair and Winter Yard: none is on hand; start",
	} {
		r := benchPlan(t, planShapes[name])
		if s := newPlanPages(r, planOptions("Letter")).finding(); !strings.Contains(s, want) {
			t.Errorf("%s: %q", name, s)
		}
		if first := sheetsOf(t, drawPlan(t, r, "A4"))[0]; !strings.Contains(first, want) {
			t.Errorf("%s: page one has no %q:\n%s", name, want, first)
		}
	}
}

func TestPlanWithoutAMarketHasNoDemand(t *testing.T) {
	sheets := strings.Join(sheetsOf(t, drawPlan(t, benchPlan(t, planShapes["by"]), "Letter")), " ")
	for _, s := range []string{"Expected demand", "booth", "list price"} {
		if strings.Contains(sheets, s) {
			t.Errorf("a plan without a market speaks of %q", s)
		}
	}
	// 30 and 12 good candles were asked for.
	if !strings.Contains(sheets, "About 42 candles will be ready.") {
		t.Error("the packing list does not say how many will be ready")
	}
}

// What is late, short or over its limit comes first, and each with a remedy.
func TestLookFirst(t *testing.T) {
	r := benchPlan(t, planShapes["crowded"])
	r.LeftOut = []plan.LeftOut{{Product: "P1-1C", Units: 3, Contribution: calc.Const(12)}}
	r.MoreDay = calc.Const(7)
	r.Buy[0].Late, r.Buy[0].OrderBy = true, planToday-2
	r.Pours[1].Cured = r.By + 3
	r.Problems.Add(problem.Problem{Severity: problem.Error, Code: problem.BadNumber})
	looks := newPlanPages(r, planOptions("Letter")).looksFirst()
	var got []string
	for i, l := range looks {
		if l.alarm && i > 0 && !looks[i-1].alarm {
			t.Errorf("%q comes after what can wait", l.title)
		}
		got = append(got, l.title+": "+l.text)
	}
	all := strings.Join(got, "\n")
	for _, want := range []string{
		"1 pour cures too late: B-015. B-015 is cured on Tue 8 Dec, 3 days after Sat 5 Dec (Harbor Lights Fair). Start it earlier",
		"3 candles are left out: ", "That costs $12.00. One more evening would earn $7.00 more.",
		"1 order is late: The last useful day is past: Soy wax flake (Tue 3 Nov). Order today",
		"Over the drop limit: B-015, ", "Never burn-tested: ", "1 thing left out of the book: ",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in\n%s", want, all)
		}
	}
}

func TestDoseErrorSaysWhichBatchWouldDo(t *testing.T) {
	r := benchPlan(t, planShapes["fewdrops"])
	at := slices.IndexFunc(r.Pours, func(x plan.Pour) bool { return slices.Contains(x.Flags, plan.FlagDose) })
	if at < 0 {
		t.Fatal("no dose is off in this plan")
	}
	x := r.Pours[at]
	w := x.Weigh[slices.IndexFunc(x.Weigh, func(w plan.Weigh) bool { return w.CureBatch.Known() })]
	sheets := strings.Join(sheetsOf(t, drawPlan(t, r, "Letter")), " ")
	want := "A batch of " + show.Decimal(w.CureBatch, 0) + " g would bring it within 5 %."
	if !strings.Contains(sheets, want) {
		t.Errorf("no %q", want)
	}
}

// Names of 80 characters stand whole on the packing list, and what cannot be
// printed is reported.
func TestLongNames(t *testing.T) {
	s := planShapes["small"]
	s.long, s.plain = true, true
	r := benchPlan(t, s)
	b, missing, err := Plan(r, planOptions("Letter"))
	if err != nil || len(missing) == 0 {
		t.Fatalf("an emoji is not reported: %v, %v", missing, err)
	}
	text := strings.Join(sheetsOf(t, b), " ")
	if strings.Contains(text, "\ufffd") || strings.ContainsRune(text, 0x1f56f) {
		t.Error("a letter that cannot be printed is in the text")
	}
	letters := func(s string) string { return strings.Join(strings.Fields(s), "") }
	name := letters(strings.SplitN(r.Pours[0].Recipe, "of", 2)[1])
	if !strings.Contains(letters(tool(t, b, "pdftotext", "FILE", "-")), name) {
		t.Errorf("%q is cut everywhere", r.Pours[0].Recipe)
	}
}

// A result made by hand may lack anything.
func TestPlansThatLackThings(t *testing.T) {
	unknown := calc.Unknown("nothing")
	for name, r := range map[string]*plan.Result{
		"empty":   {},
		"no date": {By: day.None, Today: day.None, Market: &plan.Market{Market: "Fair", Date: day.None}},
		"bare": {
			Today: planToday, By: planToday + 30, Pours: []plan.Pour{{}, {
				Batch: 1, Day: planToday, Cured: planToday + 14, Flags: []string{plan.FlagDose, "new-flag"}, Jars: []plan.Jar{{}, {Product: "X", Units: 3, Fill: unknown}},
				Weigh: []plan.Weigh{{}, {Drops: calc.Const(1e9), Grams: unknown, DoseError: calc.Const(0.2)}}, Parts: []plan.Take{{}},
			}},
			Days: []plan.Day{{Pull: []plan.Pull{{}}}, {Day: planToday, Minutes: unknown}}, Buy: []plan.Buy{{}, {OrderBy: day.None, Late: true}},
			Tests: []plan.Test{{}}, LeftOut: []plan.LeftOut{{}}, Demand: []plan.Demand{{}}, Market: &plan.Market{},
		},
	} {
		t.Run(name, func(t *testing.T) { tool(t, drawPlan(t, r, "Letter"), "qpdf", "--check", "FILE") })
	}
}

func TestReadTemperature(t *testing.T) {
	for s, want := range map[string]temperature{
		"185 F": {"185 °F", "85 °C"}, "85C": {"85 °C", "185 °F"}, "85 °C": {"85 °C", "185 °F"}, "57.5 Celsius": {"57.5 °C", "136 °F"},
		"180-185 deg F": {"180–185 °F", "82–85 °C"}, "60 to 62 c": {"60–62 °C", "140–144 °F"}, "212 degrees Fahrenheit": {"212 °F", "100 °C"},
		"32°F": {"32 °F", "0 °C"}, "75": {"75", ""}, "": {"", ""}, "hot": {"hot", ""}, "85 C / 185 F": {"85 C / 185 F", ""}, "below 60 C": {"below 60 C", ""},
	} {
		if got := readTemperature(s); got != want {
			t.Errorf("%q: %v, want %v", s, got, want)
		}
	}
}

func BenchmarkPlan(b *testing.B) {
	r := benchPlan(b, benchShape{shape: shape{recipes: 10, jars: 2}, units: 500, minutes: 400, away: 45, stocked: true})
	b.Logf("%d pours", len(r.Pours))
	for b.Loop() {
		drawPlan(b, r, "Letter")
	}
}

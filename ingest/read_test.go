package ingest

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// only fails for every problem that is not expected: "code cell".
func only(t *testing.T, b *book.Book, want ...string) {
	t.Helper()
	left := map[string]int{}
	for _, w := range want {
		left[w]++
	}
	for _, p := range b.Problems.Sorted() {
		got := string(p.Code) + " " + p.At.String()
		if left[got] == 0 {
			t.Errorf("unexpected %s %s %s %v", p.Severity, got, p.Say, p.Args)
		}
		left[got]--
	}
	for w, n := range left {
		if n > 0 {
			t.Errorf("missing %s", w)
		}
	}
}

func close3(a, b float64) bool { return math.Abs(a-b) < 1e-9*max(1, math.Abs(b)) }

func TestCleanBook(t *testing.T) {
	b := readBook(t, cleanBook()...)
	only(t, b, "unknown-channel Sales!G6")
	if n := len(b.Tables); n != 15 {
		t.Fatalf("%d tables", n)
	}
	for _, x := range b.Tables {
		if x.LeftOut != 0 || x.Sure != 1 {
			t.Errorf("%s: %d left out, sure %v", x.Table, x.LeftOut, x.Sure)
		}
	}
	t.Run("settings", func(t *testing.T) { settingsOf(t, b) })
	t.Run("supplies", func(t *testing.T) { suppliesOf(t, b) })
	t.Run("range", func(t *testing.T) { rangeOf(t, b) })
	t.Run("sales", func(t *testing.T) { salesOf(t, b) })
	t.Run("events", func(t *testing.T) { eventsOf(t, b) })
}

func settingsOf(t *testing.T, b *book.Book) {
	s := b.Settings
	for name, want := range map[book.Setting]float64{
		book.PourLoss: 0.02, book.LaborRate: 18, book.Pitcher: 4 * unit.GramsPerPound, book.CureMargin: 2, book.WipeMinutes: 3,
		book.WashMinutes: 10, book.PriceEnding: 0.95,
	} {
		if got := s.Num(name); !close3(got.V, want) || got.State != cell.Typed {
			t.Errorf("%s = %v (%v), want %v", name, got.V, got.State, want)
		}
	}
	if s.Num(book.RejectRate).State != cell.Assumed || s.Text(book.PourDays).V != "Mon, Wed" {
		t.Errorf("defaults and texts: %v, %q", s.Num(book.RejectRate).State, s.Text(book.PourDays).V)
	}
}

func suppliesOf(t *testing.T, b *book.Book) {
	if len(b.Materials) != 7 {
		t.Fatalf("%d materials", len(b.Materials))
	}
	wax, dye, wick := b.Materials[0], b.Materials[2], b.Materials[3]
	if len(wax.Packs) != 2 || !close3(wax.Packs[1].Size.V, 45*unit.GramsPerPound) || wax.Packs[0].Freight.V.String() != "4.5" {
		t.Errorf("packs of wax: %+v", wax.Packs)
	}
	if !close3(wax.OnHand.V, 12*unit.GramsPerPound) || !close3(wax.MaxLoad.V, 0.1) || wax.Density.V != 0.9 || wax.LeadDays.V != 5 {
		t.Errorf("wax: %+v", wax)
	}
	if dye.Dim != unit.Volume || dye.DropsPerML.V != 25 || dye.Base.V != "oil" || dye.OnHand.State != cell.Blank {
		t.Errorf("dye: %+v", dye)
	}
	if wick.Dim != unit.Count || wick.OnHand.V != 80 {
		t.Errorf("wick: %+v", wick)
	}
	want := []struct {
		qty float64
		dim unit.Dimension
	}{{20 * unit.GramsPerPound, unit.Mass}, {300, unit.Count}, {32 * unit.GramsPerOunce, unit.Mass}}
	for i, p := range b.Purchases {
		if !close3(p.Qty.V, want[i].qty) || p.Dim != want[i].dim {
			t.Errorf("purchase %d: %v %v", i, p.Qty.V, p.Dim)
		}
	}
	if p := b.Purchases[0]; p.Day != day.Of(2026, 8, 3) || p.Paid.V.String() != "60" || p.Freight.V.String() != "9" || p.At.String() != "Purchases!A2" {
		t.Errorf("purchase: %+v", p)
	}
}

func rangeOf(t *testing.T, b *book.Book) {
	r := b.Recipes[0]
	if len(b.Recipes) != 1 || len(r.Ingredients) != 3 || r.CureDays.V != 14 || r.Swatch.V != "#8866aa" || !close3(r.BatchWax.V, 2*unit.GramsPerPound) {
		t.Fatalf("recipe: %+v", r)
	}
	if i := r.Ingredients[2]; i.Amount.V != 6 || i.Rate.Name != "drops/lb" || i.Material.Kind != book.Dye || i.At.String() != "Recipes!C4" {
		t.Errorf("dye: %+v", i)
	}
	if r.MeltTemp.V != "185 F" || r.PourTemp.V != "135" {
		t.Errorf("temperatures: %q, %q", r.MeltTemp.V, r.PourTemp.V)
	}
	glass, tin := b.Jars[0], b.Jars[1]
	if !close3(glass.Fill.V, 6.5*unit.GramsPerOunce) || tin.Capacity.V != 135 || !close3(tin.FillPercent.V, 0.85) || !tin.Opaque.V || tin.Fill.State != cell.Blank {
		t.Errorf("jars: %+v %+v", glass, tin)
	}
	if len(glass.Parts) != 3 || glass.Parts[0].Count.V != 1 || glass.Parts[2].Finish != book.Colored || tin.Parts[1].Count.V != 8 || tin.Parts[1].Dim != unit.Mass {
		t.Errorf("parts: %+v %+v", glass.Parts, tin.Parts)
	}
	p := b.Products
	if len(p) != 3 || p[0].Finish != book.Colored || p[0].List.V.String() != "22" || p[0].OnHand.V != 6 || p[1].Minutes.V != 3.5 {
		t.Errorf("products: %+v", p)
	}
	if !p[0].Active.V || p[0].Active.State != cell.Assumed || p[2].Active.V || p[0].Minutes.State != cell.Blank {
		t.Errorf("active: %+v", p[0].Active)
	}
	c := b.Channels
	if len(c) != 3 || !close3(c[0].Fee.V, 0.03) || !c[1].Wholesale || c[2].Listed || c[2].Name.V != "Studio" {
		t.Errorf("channels: %+v", c)
	}
}

func salesOf(t *testing.T, b *book.Book) {
	if b.Sales.Len() != 5 {
		t.Fatalf("%d sales", b.Sales.Len())
	}
	var s []book.Sale
	for _, x := range b.Sales.All() {
		s = append(s, x)
	}
	if s[0].Has != book.HasPrice|book.HasDiscount || s[0].Price.String() != "22" || s[0].Discount.String() != "1" || s[0].Qty.String() != "2" {
		t.Errorf("first line: %+v", s[0])
	}
	if s[1].Product != 1 || s[1].Channel != 0 || s[1].Order != 2 || s[1].Row != 3 || b.SaleSheets[s[1].Sheet] != "Sales" {
		t.Errorf("second line: %+v", s[1])
	}
	if s[2].Channel != -1 || s[2].Order != 0 || s[2].Customer != s[0].Customer || s[2].Qty.String() != "-1" {
		t.Errorf("third line: %+v", s[2])
	}
	if s[3].Market != s[4].Market || b.SaleMarkets.At(s[3].Market) != "Fall Fair" || s[3].Has != book.HasTotal {
		t.Errorf("market lines: %+v %+v", s[3], s[4])
	}
}

func eventsOf(t *testing.T, b *book.Book) {
	if len(b.Pours) != 1 || b.Pours[0].Units.V != 20 || b.Pours[0].Batch.V != "7" {
		t.Errorf("pours: %+v", b.Pours)
	}
	if len(b.Counts) != 3 || b.Counts[1].Product != b.Products[0] || b.Counts[0].Material != b.Materials[0] || !close3(b.Counts[0].Qty.V, 9*unit.GramsPerPound) {
		t.Errorf("counts: %+v", b.Counts)
	}
	if o := b.Overheads; len(o) != 2 || o[0].From.V != day.Of(2026, 1, 1) || o[0].To.State != cell.Blank {
		t.Errorf("overheads: %+v", o)
	}
	m := b.Markets
	if len(m) != 2 || m[0].Days.V != 2 || m[1].Days.V != 1 || m[1].Like.V != "Fall Fair" || !close3(m[1].Growth.V, 0.1) || m[1].Expected.V != 80 {
		t.Errorf("markets: %+v", m)
	}
	if s := b.Seasons; len(s) != 2 || s[0].From != 1101 || s[0].To != 228 {
		t.Errorf("seasons: %+v", s)
	}
	if x := b.Burns; len(x) != 1 || !x[0].Pass || x[0].Jar != b.Jars[0] || x[0].Finish != book.Colored {
		t.Errorf("burn tests: %+v", x)
	}
}

// A season may come more than once a year, on a row for each time.
func TestSeasonOnTwoRows(t *testing.T) {
	b := readBook(t, sheet{name: "Seasons", rows: "season|from|to\nGifts|02-01|02-14\ngifts|11-15|12-31\nGIFTS|02-01|02-14"})
	if s := b.Seasons; len(s) != 2 || s[0].From != 201 || s[1].From != 1115 || s[1].To != 1231 {
		t.Errorf("seasons: %+v", s)
	}
}

func TestBookWithoutTables(t *testing.T) {
	b := readBook(t, sheet{name: "Notes", rows: "buy wax|soon"})
	only(t, b, "unread-sheet Notes", "missing-table ", "missing-table ", "missing-table ", "missing-table ")
	if b.Problems.Sorted()[0].Severity != problem.Error {
		t.Error("a missing table is no error")
	}
}

// Rows of recipes and jars that cannot be read stay known on the recipe and the jar.
func TestRowsLeftOutAreKept(t *testing.T) {
	b := readBook(t,
		sheet{name: "Materials", rows: `Name | Kind | Pack size | Pack price
			Soy | wax | 10 lb | 30
			Rose | fragrance | 16 oz | 25
			Red | dye | 1 oz | 6`},
		sheet{name: "Recipes", rows: `Recipe | Material | Amount | Per
			Rose | Soy | 1 | parts
			Rose | Rose | 0.06 | %
			Rose | Red | six | drops/lb
			Rose | Cedar | 2 | %
			Rose | | 2 | %
			Two | Soy | |
			Two | Soy | |`},
		sheet{name: "Jars", rows: `Jar | Fill weight
			Tin | 8 oz`},
		sheet{name: "Jar parts", rows: `Jar | Material | Count | Finish
			Tin | Lid | 1 | natural`},
	)
	var got []string
	for _, r := range b.Recipes {
		for _, x := range r.LeftOut {
			got = append(got, fmt.Sprintf("%s: %s/%s/%s %s", r.Name.V, x.Name, x.Kind, x.Finish, x.At))
		}
	}
	for _, x := range b.Jars[0].LeftOut {
		got = append(got, fmt.Sprintf("%s: %s/%s/%s %s", b.Jars[0].Name.V, x.Name, x.Kind, x.Finish, x.At))
	}
	want := []string{
		"Rose: Rose/fragrance/any Recipes!B3", "Rose: Red/dye/colored Recipes!B4", "Rose: Cedar//any Recipes!B5", "Rose: //any Recipes!B6",
		"Two: Soy/wax/any Recipes!B7", "Two: Soy/wax/any Recipes!B8", "Tin: Lid//natural Jar parts!B2",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

package ingest

import (
	"slices"
	"strings"
	"testing"

	"pourbook/compute/problem"
)

// bad is one thing wrong with the clean book: what stands in one of its sheets
// instead of what, and the problems that this has, each as "severity code cell".
// A change of "" adds a row.
type badCase struct {
	sheet    string
	from, to string
	want     []string
}

func one(sheet, from, to string, want ...string) badCase { return badCase{sheet, from, to, want} }

func TestCatalogueOfBadInput(t *testing.T) {
	for _, c := range append(badNumbers, slices.Concat(badDates, badNames, badTables, badRows)...) {
		t.Run(c.sheet+" "+c.to, func(t *testing.T) {
			sheets := cleanBook()
			i := slices.IndexFunc(sheets, func(s sheet) bool { return s.name == c.sheet })
			if i < 0 {
				t.Fatal("no such sheet")
			}
			if c.from == "" {
				sheets[i].rows += "\n" + c.to
			} else {
				if !strings.Contains(sheets[i].rows, c.from) {
					t.Fatalf("%q does not stand there", c.from)
				}
				sheets[i].rows = strings.Replace(sheets[i].rows, c.from, c.to, 1)
			}
			b := readBook(t, sheets...)
			var got []string
			for _, p := range b.Problems.Sorted() {
				if p.Code != problem.UnknownChannel || p.At.String() != "Sales!G6" {
					got = append(got, string(p.Severity)+" "+string(p.Code)+" "+p.At.String())
				}
			}
			for _, w := range c.want {
				if !slices.Contains(got, w) {
					t.Errorf("missing %q in %q", w, got)
				}
			}
			for _, g := range got {
				if !slices.Contains(c.want, g) && !follows(g, c) {
					t.Errorf("unexpected %q", g)
				}
			}
		})
	}
}

// follows reports whether a problem is in another sheet: a row that was left
// out is missed where it is referred to.
func follows(got string, c badCase) bool { return !strings.Contains(got, " "+c.sheet+"!") }

var badNumbers = []badCase{
	one("Materials", "10 lb|32|", "10 lb|3Z|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|1,2O|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|TBD|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|-32|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb||", "error missing-field Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|0|", "warning zero-price Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|€32|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|1e20|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|pct:0.32|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|$2.95/lb|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|10% off|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|bool:1|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|2026-01-02|", "error bad-number Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|err:#REF!|", "error cell-error Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|=none|", "error cell-error Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|'1.234|", "warning number-style Materials!D2"),
	one("Materials", "10 lb|32|", "10 lb|32-|", "warning number-style Materials!D2", "error bad-number Materials!D2"),
	one("Materials", "|10 lb|", "|10|", "error no-unit Materials!C2"),
	one("Materials", "|100 ct|", "|100|"),
	one("Materials", "|10 lb|", "|10 stone|", "error bad-unit Materials!C2"),
	one("Materials", "|10 lb|", "|10 min|", "error bad-unit Materials!C2"),
	one("Materials", "|10 lb|", "|0 lb|", "error bad-number Materials!C2"),
	one("Materials", "|10 lb|", "||", "error missing-field Materials!C2"),
	one("Materials", "|12 lb|", "|0|"),
	one("Materials", "|12 lb|", "|12|", "error no-unit Materials!G2"),
	one("Materials", "|12 lb|", "|3 gal|"),
	one("Materials", "|9|||80", "|9|||80 g", "error bad-unit Materials!G6"),
	one("Materials", "|0.9|||10|", "|heavy|||10|", "error bad-number Materials!I2"),
	one("Materials", "|0.9|||10|", "|0|||10|", "error bad-number Materials!I2"),
	one("Materials", "|0.9|||10|", "|0.9|||0.1|", "error percent-as-fraction Materials!L2"),
	one("Materials", "|10|||no", "|10|||maybe", "error bad-number Materials!O2"),
	one("Purchases", "|60|9|", "|sixty|9|", "error bad-number Purchases!D2"),
	one("Purchases", "|60|9|", "|60|free|", "error bad-number Purchases!E2"),
	one("Purchases", "|3|27|", "|3 boxes|27|"),
	one("Purchases", "2 x 10 lb", "2", "error no-unit Purchases!C2"),
	one("Purchases", "2 x 10 lb", "2 bushels", "error bad-unit Purchases!C2"),
	one("Purchases", "|3|27|", "||27|", "error missing-field Purchases!C3"),
	one("Recipes", "8|% of wax", "8|", "error no-unit Recipes!C3"),
	one("Recipes", "8|% of wax", "8|spoons", "error bad-unit Recipes!C3"),
	one("Recipes", "8|% of wax", "8|oz", "error bad-unit Recipes!C3"),
	one("Recipes", "8|% of wax", "0.08|%", "error percent-as-fraction Recipes!C3"),
	one("Recipes", "8|% of wax", "pct:0.08|%"),
	one("Recipes", "8|% of wax", "|%", "error missing-field Recipes!C3"),
	one("Recipes", "8|% of wax", "-8|%", "error bad-number Recipes!C3"),
	one("Recipes", "6 drops/lb", "six drops/lb", "error bad-number Recipes!C4"),
	one("Recipes", "|1|parts", "|0|parts", "error bad-number Recipes!C2"),
	one("Recipes", "|1|parts", "||"),
	one("Recipes", "|2 lb", "|2", "error no-unit Recipes!K2"),
	one("Recipes", "|14|185 F", "|two weeks|185 F", "error bad-number Recipes!E2"),
	one("Recipes", "#8866aa", "#88", "warning bad-number Recipes!J2"),
	one("Jars", "6.5 oz", "6.5", "error no-unit Jars!B2"),
	one("Jars", "6.5 oz", "6.5 fl oz", "error bad-unit Jars!B2"),
	one("Jars", "6.5 oz", "", "error missing-field Jars!B2"),
	one("Jars", "135|85", "135|0.85", "error percent-as-fraction Jars!D3"),
	one("Jars", "135|85", "135|", "error missing-field Jars!D3"),
	one("Jars", "||no|", "||?|", "error bad-number Jars!E2"),
	one("Jar parts", "Wick 8|1|", "Wick 8|one|", "error bad-number Jar parts!C3"),
	one("Jar parts", "Shred|8 g", "Shred|8", "error no-unit Jar parts!C6"),
	one("Products", "|22|11|", "|n/a|11|", "error bad-number Products!F2"),
	one("Products", "||3.5|", "||4:30 min|", "error bad-number Products!I3"),
	one("Products", "|6||", "|6 oz||", "error bad-unit Products!H2"),
	one("Channels", "Website|3|", "Website|0.03|", "error percent-as-fraction Channels!B2"),
	one("Channels", "Website|3|", "Website|-3|", "error bad-number Channels!B2"),
	one("Channels", "Website|3|", "Website|pct:3|", "error bad-number Channels!B2"),
	one("Jars", "135|85", "135|850", "error bad-number Jars!D3"),
	one("Channels", "Website|3|", "Website|3 oz|", "error bad-number Channels!B2"),
	one("Sales", "|2|22||1|", "|2|22||$x|", "error bad-number Sales!F2"),
	one("Sales", "|2|22||1|", "|two|22||1|", "error bad-number Sales!C2"),
	one("Sales", "|2|22||1|", "|2 oz|22||1|", "error bad-unit Sales!C2"),
	one("Sales", "|2|22||1|", "|2|err:#N/A||1|", "error cell-error Sales!D2"),
	one("Sales", "|2|22||1|", "|2|||1|", "error missing-field Sales!D2"),
	one("Sales", "|2|22||1|", "||22||1|", "error missing-field Sales!C2"),
	one("Sales", "|2|22||1|", "|2|'1,234||1|", "warning number-style Sales!D2"),
	one("Sales", "|2|22||1|", "|2|(22)||1|"),
	one("Settings", "Pour loss|2", "Pour loss|0.02", "error percent-as-fraction Settings!B3"),
	one("Settings", "4 lb", "4 mL", "error bad-unit Settings!B5"),
	one("Settings", "|18", "|err:#NAME?", "error cell-error Settings!B4"),
	one("Settings", "minutes|3", "minutes|a while", "error bad-number Settings!B7"),
	one("Overheads", "Rent|240", "Rent|?", "error bad-number Overheads!B2"),
	one("Markets", "|60|45", "|sixty|45", "error bad-number Markets!H2"),
	one("Markets", "|Fall Fair|10|", "|Fall Fair|0.1|", "error percent-as-fraction Markets!G3"),
	one("Stock counts", "|9 lb", "|9", "error no-unit Stock counts!C2"),
	one("Stock counts", "C|14", "C|-14", "error bad-number Stock counts!C3"),
	one("Pours", "|20|7", "|20 lb|7", "error bad-unit Pours!C2"),
}

var badDates = []badCase{
	one("Sales", "2026-10-01", "soon", "error bad-date Sales!A2"),
	one("Sales", "2026-10-01", "31 Feb 2026", "error bad-date Sales!A2"),
	one("Sales", "2026-10-01", "3/4/2026", "error bad-date Sales!A2"),
	one("Sales", "2026-10-01", "13/4/2026"),
	one("Sales", "2026-10-01", "Oct 1, 2026"),
	one("Sales", "2026-10-01", "1 Apr", "error bad-date Sales!A2"),
	one("Sales", "2026-10-01", "46296", "warning bad-date Sales!A2"),
	one("Sales", "2026-10-01", "20261001", "warning bad-date Sales!A2"),
	one("Sales", "2026-10-01", "12", "error bad-date Sales!A2"),
	one("Sales", "2026-10-01", "", "error missing-field Sales!A2"),
	one("Sales", "2026-10-01", "2027-10-01", "warning future-date Sales!A2"),
	one("Sales", "2026-10-01", "'2026-10-01 14:30"),
	one("Purchases", "2026-08-03", "2026-13-03", "error bad-date Purchases!A2"),
	one("Overheads", "|240|2026-01-01", "|240|January", "error bad-date Overheads!C2"),
	one("Markets", "2026-10-04", "next week", "error bad-date Markets!B2", "warning unknown-market Markets!F3"),
	one("Seasons", "11-01", "13-45", "error bad-date Seasons!B2"),
	one("Seasons", "11-01", "", "error missing-field Seasons!B2"),
	one("Burn tests", "2026-05-01", "=none", "error cell-error Burn tests!A2"),
	one("Stock counts", "2026-09-30", "yesterday", "error bad-date Stock counts!A2"),
}

var badNames = []badCase{
	one("Sales", "LAV-8-C", "LAV-9-C", "error unknown-product Sales!B2"),
	one("Sales", "LAV-8-C", "", "error missing-field Sales!B2"),
	one("Sales", "LAV-8-C", "err:#N/A", "error cell-error Sales!B2"),
	one("Sales", "|Website|", "|Web site|", "warning unknown-channel Sales!G2"),
	one("Sales", "Fall Fair", "Fall Fare", "warning unknown-market Sales!J5"),
	one("Recipes", "Lavender oil", "Lavendar oil", "error unknown-material Recipes!B3"),
	one("Recipes", "Lavender|Soy", "|Soy", "error missing-field Recipes!A2"),
	one("Recipes", "", "Lavender|Lavender oil|1|% of wax", "warning duplicate Recipes!C5"),
	one("Purchases", "|Soy wax|", "|Soya wax|", "error unknown-material Purchases!B2"),
	one("Jar parts", "Jar 8oz|Lid", "Jar 8 oz|Lid", "note unknown-jar Jar parts!A4"),
	one("Jar parts", "Jar 8oz|Lid", "Jar 9oz|Lid", "error unknown-jar Jar parts!A4"),
	one("Jar parts", "|Lid|", "|Lids|", "error unknown-material Jar parts!B4"),
	one("Jar parts", "|1|colored", "|1|purple", "error missing-field Jar parts!D4"),
	one("Products", "|Lavender|Jar 8oz|colored", "|Lavander|Jar 8oz|colored", "error unknown-recipe Products!C2"),
	one("Products", "|Jar 8oz|colored", "|Jar 9oz|colored", "error unknown-jar Products!D2"),
	one("Products", "|colored|", "|striped|", "error missing-field Products!E2"),
	one("Products", "|colored|", "||", "error missing-field Products!E2"),
	one("Products", "LAV-8-N", "lav-8-c", "error duplicate Products!A3"),
	one("Products", "Lavender 8 colored", "lavender 8  NATURAL", "error ambiguous-name Sales!B3"),
	one("Materials", "Lavender oil|fragrance", "Lavender oil|perfumery", "error missing-field Materials!B4"),
	one("Materials", "Red dye|dye", "Red dye|food coloring", "warning not-oil-soluble Materials!B5"),
	one("Materials", "wax|45 lb", "dye|45 lb", "error duplicate Materials!B3"),
	one("Materials", "Jar glass", "LAV-8-C", "error ambiguous-name Stock counts!B3", "error unknown-material Jar parts!B2"),
	one("Stock counts", "Wick 8", "Wick 9", "error unknown-material Stock counts!B4"),
	one("Channels", "Shops", "website", "error duplicate Channels!A3"),
	one("Jars", "Tin 4oz", "JAR 8oz", "error duplicate Jars!A3"),
	one("Seasons", "Warm", "cold", "warning duplicate Seasons!A3"),
	one("Seasons", "", "COLD|11-01|02-28", "error duplicate Seasons!A4"),
	one("Markets", "Winter Fair|2026-12-05", "Fall Fair|2026-10-04", "error duplicate Markets!A3"),
	one("Markets", "|Fall Fair|", "|Spring Fair|", "warning unknown-market Markets!F3"),
	one("Settings", "Pour loss", "Poor loss", "warning unread-sheet Settings!A3"),
	one("Settings", "wash minutes", "wipe minutes", "error duplicate Settings!A8"),
	one("Settings", "|USD", "|doubloons", "error missing-field Settings!B2"),
	one("Burn tests", "|pass|", "|meh|", "error missing-field Burn tests!F2"),
	one("Burn tests", "|Lavender|", "|Lilac|", "error unknown-recipe Burn tests!B2"),
}

var badTables = []badCase{
	one("Sales", "date|product|quantity|", "date|product|colour of ribbon|", "error missing-field Sales!A1"),
	one("Sales", "unit price|line total", "remark|other remark", "error missing-field Sales!A1"),
	one("Sales", "discount", "Price each", "note ambiguous-heading Sales!F1"),
	one("Sales", "product|quantity|unit price|", "SKU|Item code|unit price|", "error ambiguous-heading Sales!C1", "error missing-field Sales!A1"),
	one("Sales", "|quantity|", "|quantaty|", "note ambiguous-heading Sales!C1"),
	one("Materials", "|kind|", "|whatever|", "error missing-field Materials!A1"),
	one("Products", "finish", "sparkle", "error missing-field Products!A1"),
	one("Jars", "fill weight|capacity mL", "heft|room", "error missing-field Jars!A1"),
	one("Seasons", "season|from|to", "eins|zwei|drei", "note unread-sheet Seasons"),
}

var badRows = []badCase{
	one("Sales", "", "Total||17|97", "note totals-row Sales!A7"),
	one("Sales", "", "||17|76|153|1", "note totals-row Sales!C7"),
	one("Sales", "", "thank you all", "note unread-sheet Sales!A7"),
	one("Sales", "", "date|product|quantity|unit price|line total|discount|channel|order|customer|market"),
	one("Channels", "", "Studio"),
	one("Channels", "", "\nFees as of May 2026, see the contract.", "note unread-sheet Channels!A5"),
	one("Overheads", "", "Sum|270", "note totals-row Overheads!A4"),
	one("Overheads", "", "Grand total|270", "note totals-row Overheads!A4"),
	one("Overheads", "", "|270", "note totals-row Overheads!B4"),
	one("Overheads", "", "|271", "error missing-field Overheads!A4"),
	one("Overheads", "", "Summer staff|50"),
	one("Sales", "", "Total: 17 candles||17|76", "note totals-row Sales!A7"),
	one("Sales", "", "17 candles||17|76", "note totals-row Sales!A7"),
	one("Sales", "", "|17 candles|17||153", "note totals-row Sales!B7"),
	one("Sales", "", "All of October|October total|17|76", "error bad-date Sales!A7", "error unknown-product Sales!B7"),
	one("Sales", "", "October total||17|76", "note totals-row Sales!A7"),
	one("Sales", "", "|16 candles|17||153", "error missing-field Sales!A7", "error unknown-product Sales!B7"),
	one("Sales", "", "|17 candles|16||153", "error missing-field Sales!A7", "error unknown-product Sales!B7"),
	one("Purchases", "", "||7 packs|131", "error missing-field Purchases!A5"),
	one("Overheads", "", "270 for all|270"),
	one("Purchases", "", "Subtotal|||131", "note totals-row Purchases!A5"),
}

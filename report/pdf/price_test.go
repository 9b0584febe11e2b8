package pdf

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/oracle"
	"pourbook/compute/price"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// priceDocuments are the three documents of prices by name.
func priceDocuments(t *testing.T, s shape, paper string) (*price.Result, map[string][]byte) {
	t.Helper()
	b := makeBook(s)
	today := day.Of(2026, 11, 5)
	sheet, err := price.Run(b, price.Options{Jar: "Bowl", Today: today, Fill: num(454), Parts: []price.Part{
		{Name: "jar", Cost: num(4.1)}, {Name: "wick", Cost: num(0.36)},
	}})
	if err != nil {
		t.Fatal(err)
	}
	whole, err := price.Run(b, price.Options{All: true, Today: today})
	if err != nil {
		t.Fatal(err)
	}
	pair, err := price.Compare(b, [2]string{b.Jars[0].Name.V, b.Jars[len(b.Jars)-1].Name.V}, price.Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	keep := func(name string, data []byte, _ []string, err error) {
		if err != nil {
			t.Fatal(err)
		}
		out[name] = data
		if dir := os.Getenv("POURBOOK_LOOK"); dir != "" {
			if err := os.WriteFile(filepath.Join(dir, name+map[bool]string{true: "-long"}[s.long]+"-"+show.Decimals(float64(s.recipes), 0)+"-"+paper+".pdf"), data, 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	data, missing, err := Price(sheet, options(paper))
	keep("sheet", data, missing, err)
	data, missing, err = PriceRange(whole, options(paper))
	keep("range", data, missing, err)
	data, missing, err = PriceCompare(pair, options(paper))
	keep("pair", data, missing, err)
	return sheet, out
}

func TestPriceDocuments(t *testing.T) {
	documents := 0
	for _, s := range []shape{{recipes: 1, jars: 1, bare: true}, {recipes: 3, jars: 3}, {recipes: 12, jars: 4}, {recipes: 12, jars: 4, long: true}} {
		for _, paper := range []string{"Letter", "A4"} {
			r, docs := priceDocuments(t, s, paper)
			_, again := priceDocuments(t, s, paper)
			for name, data := range docs {
				if !bytes.Equal(data, again[name]) {
					t.Errorf("%s of %d recipes: the same book gives other bytes", name, s.recipes)
				}
				sound(t, name, data, paper)
				documents++
			}
			if s.long { // names of many lines fill the first page with prices
				continue
			}
			first := strings.Join(strings.Fields(strings.ReplaceAll(tool(t, docs["sheet"], "pdftotext", "-l", "1", "-layout", "FILE", "-"), "\u00a0", " ")), " ")
			c := show.In("USD")
			x := r.Prices[0]
			wants := []string{c.Number(x.UnitCost.Total), c.Number(x.Wholesale.Price), c.Number(x.Nearest.Total), templates.Text("price.costs"), x.NearestJar}
			for _, channel := range x.Channels {
				wants = append(wants, c.Number(channel.Rounded))
			}
			for _, want := range wants {
				if !strings.Contains(first, want) {
					t.Errorf("%d recipes on %s: the first page lacks %q", s.recipes, paper, want)
				}
			}
		}
	}
	oracle.Cases(t, documents)
}

// The wholesale margin below the floor is marked with the ink of alarms, which
// changes nothing but the drawing.
func TestWholesaleBelowTheFloorIsMarked(t *testing.T) {
	b := makeBook(shape{recipes: 1, jars: 1, bare: true})
	r, err := price.Run(b, price.Options{Jar: b.Jars[0].Name.V, Today: day.Of(2026, 11, 5)})
	if err != nil {
		t.Fatal(err)
	}
	p := &pricePages{r: r, money: show.In("USD")}
	for floor, want := range map[float64]bool{0: false, 0.99: true} {
		b.Settings.SetNum(book.WholesaleFloor, cell.Num{V: floor, State: cell.Typed})
		if got := p.wholesale(r.Prices[0].Wholesale)[1].Alarm; got != want {
			t.Errorf("a floor of %v: marked %v", floor, got)
		}
	}
}

func TestPriceOfNothing(t *testing.T) {
	b := &book.Book{}
	for name, r := range map[string]*price.Result{
		"empty":   {Source: b},
		"no cost": {Source: b, Currency: "USD", Prices: []price.Price{{Recipe: "A"}}},
		"range":   {Source: b, Currency: "USD", Whole: []price.RangePrice{{Product: "A"}}},
	} {
		draw := Price
		if r.Whole != nil {
			draw = PriceRange
		}
		data, _, err := draw(r, options("Letter"))
		if err != nil || !strings.Contains(printed(t, data), "Before you pour and sell") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestPricesBreakBetweenRecipes(t *testing.T) {
	group, row := draw.Row{Group: true}, draw.Row{}
	for n, want := range map[int]int{1: 1, 2: 2, 3: 2, 4: 4, 5: 5} {
		if got := beforeGroup([]draw.Row{group, row, group, row, group}, n); got != want {
			t.Errorf("rows are parted at %d, not %d: %d", n, want, got)
		}
	}
}

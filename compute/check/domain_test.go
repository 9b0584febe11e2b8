package check

import (
	"slices"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

func num(v float64) cell.Num { return cell.Num{V: v, State: cell.Typed} }

func text(s string, row int) cell.Text {
	return cell.Text{V: s, State: cell.Typed, At: cell.Ref{Sheet: "S", Row: row, Col: 1}}
}

func rate(name string) unit.Rate {
	r, _ := unit.FindRate(name)
	return r
}

// sound is a book with one candle in which nothing looks wrong.
func sound() (*book.Book, map[string]*book.Material) {
	wax := &book.Material{Name: text("Wax", 1), Kind: book.Wax, Dim: unit.Mass, MaxLoad: num(0.1)}
	oil := &book.Material{Name: text("Oil", 2), Kind: book.Fragrance, Dim: unit.Mass, MaxLoad: num(0.12)}
	dye := &book.Material{Name: text("Red dye", 3), Kind: book.Dye, Dim: unit.Mass, Base: text("oil", 3)}
	add := &book.Material{Name: text("Polymer", 4), Kind: book.Additive, Dim: unit.Mass}
	for _, m := range []*book.Material{wax, oil, dye, add} {
		m.Packs = []book.Pack{{Size: num(1000), Dim: unit.Mass, Price: book.Money{V: money.Float(10), State: cell.Typed}}}
	}
	r := &book.Recipe{Name: text("Rose", 5), Ingredients: []book.Ingredient{
		{Material: wax, Amount: num(1)},
		{Material: oil, Amount: num(8), Rate: rate("%")},
		{Material: dye, Amount: num(6), Rate: rate("drops/lb")},
		{Material: add, Amount: num(1), Rate: rate("% of wax")},
	}}
	j := &book.Jar{Name: text("Jar", 6), Fill: num(200), Parts: []book.Part{{Material: wax, Count: num(1)}}}
	p := &book.Product{
		Code: text("R", 7), Recipe: r, Jar: j, Finish: book.Colored, Active: cell.Bool{V: true, State: cell.Typed},
		List: book.Money{V: money.Float(12), State: cell.Typed},
	}
	b := &book.Book{
		Materials: []*book.Material{wax, oil, dye, add}, Recipes: []*book.Recipe{r}, Jars: []*book.Jar{j}, Products: []*book.Product{p},
		Burns:  []book.Burn{{Day: day.Of(2026, 1, 1), Recipe: r, Jar: j, Finish: book.Colored, Pass: true}},
		Tables: []book.Table{{Table: book.TBurnTests}, {Table: book.TMaterials}},
	}
	return b, map[string]*book.Material{"wax": wax, "oil": oil, "dye": dye, "additive": add}
}

func codes(l problem.List) []string {
	var out []string
	for _, p := range l.Sorted() {
		if p.Severity != problem.Note {
			out = append(out, string(p.Code)+" "+p.At.Name())
		}
	}
	return out
}

var today = day.Of(2026, 11, 5)

func TestNothingWrong(t *testing.T) {
	b, _ := sound()
	if got := codes(Domain(b, today)); len(got) > 0 {
		t.Errorf("found %v", got)
	}
}

func TestWhatLooksWrong(t *testing.T) {
	for want, spoil := range map[string]func(*book.Book, map[string]*book.Material){
		"not-oil-soluble A3": func(_ *book.Book, m map[string]*book.Material) { m["dye"].Base.V = "water" },
		"not-oil-soluble A4": func(_ *book.Book, m map[string]*book.Material) { m["additive"].Name.V = "Wax crayon, red" },
		"double-additive A5": func(_ *book.Book, m map[string]*book.Material) {
			m["wax"].ContainsAdditive = cell.Bool{V: true, State: cell.Typed}
		},
		"over-max-load A5":   func(_ *book.Book, m map[string]*book.Material) { m["wax"].MaxLoad = num(0.07) },
		"over-drop-limit A5": func(b *book.Book, _ map[string]*book.Material) { b.Recipes[0].Ingredients[2].Amount = num(20) },
		"untested-finish A7": func(b *book.Book, _ map[string]*book.Material) { b.Burns[0].Finish = book.Natural },
		"no-list-price A7":   func(b *book.Book, _ map[string]*book.Material) { b.Products[0].List = book.Money{} },
		"no-dye A7": func(b *book.Book, _ map[string]*book.Material) {
			b.Recipes[0].Ingredients = slices.Delete(b.Recipes[0].Ingredients, 2, 3)
		},
	} {
		b, m := sound()
		spoil(b, m)
		if got := codes(Domain(b, today)); !slices.Contains(got, want) {
			t.Errorf("want %s, found %v", want, got)
		}
	}
}

func TestJobsSayWhatIsLacking(t *testing.T) {
	b, _ := sound()
	for _, x := range []book.TableName{book.TMaterials, book.TRecipes, book.TJars, book.TProducts} {
		b.Tables = append(b.Tables, book.Table{Table: x, Rows: 1})
	}
	lacks := map[string][]book.TableName{}
	for _, j := range Jobs(b) {
		lacks[j.Name] = j.Lacks
	}
	if !slices.Equal(lacks["cost"], []book.TableName{book.TSales}) || !slices.Equal(lacks["plan"], []book.TableName{book.TMarkets}) || len(lacks["price"]) > 0 {
		t.Errorf("the jobs lack %v", lacks)
	}
}

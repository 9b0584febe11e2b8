package check

import (
	"slices"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

// Freight of Materials is in no cost once purchases without any say what was
// paid: that is said once, unless a purchase says its freight, be it 0.
func TestFreightThatIsInNoCost(t *testing.T) {
	told := func(change func(b *book.Book, m map[string]*book.Material)) []problem.Problem {
		b, m := sound()
		m["oil"].Packs[0].Freight = paid(4.5, at("Supplies", 5, 6))
		m["wax"].Packs[0].Freight = paid(18.5, at("Supplies", 4, 6))
		b.Purchases = []book.Purchase{bill(m["wax"], day.Of(2026, 1, 3), 2, 20, 2), bill(m["oil"], day.Of(2026, 1, 4), 2, 20, 3)}
		b.Tables = append(b.Tables, book.Table{Table: book.TPurchases, Heading: at("Bought", 3, 2)})
		change(b, m)
		found := Domain(b, today)
		return slices.DeleteFunc(found.Sorted(), func(p problem.Problem) bool { return p.Say != "freight" })
	}
	got := told(func(*book.Book, map[string]*book.Material) {})
	if len(got) != 1 || got[0].At.String() != "Supplies!F4" || got[0].Other.String() != "Bought!B3" || got[0].Severity != problem.Warning || got[0].Args[1] != 2 {
		t.Errorf("found %v", got)
	}
	for name, change := range map[string]func(b *book.Book, m map[string]*book.Material){
		"a freight of 0": func(b *book.Book, _ map[string]*book.Material) { b.Purchases[1].Freight = paid(0, at("Bought", 5, 6)) },
		"no purchases":   func(b *book.Book, _ map[string]*book.Material) { b.Purchases = nil },
		"still to come": func(b *book.Book, _ map[string]*book.Material) {
			b.Purchases[0].Day, b.Purchases[1].Day = today+1, today+1
		},
		"none in Materials": func(_ *book.Book, m map[string]*book.Material) {
			m["oil"].Packs[0].Freight, m["wax"].Packs[0].Freight = book.Money{}, paid(0, at("S", 4, 6))
		},
		"of what is not bought": func(b *book.Book, m map[string]*book.Material) {
			m["oil"].Packs[0].Freight, m["wax"].Packs[0].Freight = book.Money{}, book.Money{}
			m["dye"].Packs[0].Freight = paid(2, at("S", 6, 6))
		},
	} {
		if got := told(change); len(got) > 0 {
			t.Errorf("%s: %v", name, got)
		}
	}
}

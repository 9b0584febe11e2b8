package cost

import (
	"math"
	"slices"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/calc"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// The helpers of the tests: a book is built in code, as a reader would hand it over.
var (
	num, text, paid          = booktest.Num, booktest.Text, booktest.Paid
	on, rate, material, near = booktest.Day, booktest.Rate, booktest.Material, booktest.Near
)

func monthOf(s string) Period {
	m := booktest.Month(s)
	return Period{m.First(), m.Last()}
}

// sold are the orders and customers of a test's book by name.
var sold = map[*book.Book]*[2]book.Texts{}

// sale is a line in the words of a sales list; price and total nil for blank.
type sale struct {
	day, product                     string
	qty                              float64
	price, total                     *float64
	discount                         float64
	channel, order, customer, market string
}

func at(v float64) *float64 { return &v }

func sell(t testing.TB, b *book.Book, lines ...sale) {
	t.Helper()
	if b.SaleSheets == nil {
		b.SaleSheets = []string{"Sales"}
	}
	if sold[b] == nil {
		sold[b] = &[2]book.Texts{}
	}
	names := sold[b]
	defer func() { b.Orders, b.Customers = names[0].Len()-1, names[1].Len()-1 }()
	for _, x := range lines {
		s := book.Sale{Day: on(x.day), Row: int32(b.Sales.Len() + 2)}
		s.Channel, s.Qty, s.Discount = -1, money.Float(x.qty), money.Float(x.discount)
		s.Product = int32(slices.IndexFunc(b.Products, func(p *book.Product) bool { return p.Code.V == x.product }))
		if x.channel != "" {
			s.Channel = int32(slices.IndexFunc(b.Channels, func(c *book.Channel) bool { return c.Name.V == x.channel }))
		}
		if x.price != nil {
			s.Price, s.Has = money.Float(*x.price), s.Has|book.HasPrice
		}
		if x.total != nil {
			s.Total, s.Has = money.Float(*x.total), s.Has|book.HasTotal
		}
		s.Order, s.Customer, s.Market = names[0].Number(x.order), names[1].Number(x.customer), b.SaleMarkets.Number(x.market)
		b.Sales.Add(s)
	}
}

// twoProducts is one scent in one tin, colored (C) and natural (N), without a sale.
//
// Recipe: wax, fragrance 25 % of wax, 25 drops of dye per 100 g of wax at 20
// drops a gram, which are 1.25 % of wax. Fill 126.25 g. So the colored tin
// holds 100 g wax, 25 g fragrance, 1.25 g dye; the natural one 101 g and 25.25 g.
//
// Pour loss 20 %, no rejects: a good colored unit takes 125 g, 31.25 g and
// 1.5625 g, a natural one 126.25 g and 31.5625 g. Wax is 16 a kg, fragrance 64
// a kg, dye 8 for 25 g, the tin 1.00:
//
//	colored  2.00 + 2.00 + 0.50 + 1.00 = 5.50
//	natural  2.02 + 2.02        + 1.00 = 5.04
//
// A pitcher of 1,600 g fills 1,600 x 0.8 / 126.25 = 10.1, so 10. Labor 30 an
// hour: colored 3 + (20 + 10) / 10 = 6 min = 3.00, natural 3 + 20 / 10 = 5 min
// = 2.50. Overheads 480 over 80 hours are 6 an hour: 0.60 and 0.50.
//
//	colored  9.10, of it 8.50 variable; natural  8.04, of it 7.54 variable
func twoProducts(t testing.TB) *book.Book {
	b := &book.Book{Name: "two"}
	for s, v := range map[book.Setting]float64{
		book.PourLoss: 0.2, book.RejectRate: 0, book.Pitcher: 1600, book.LaborRate: 30, book.UnitMinutes: 3, book.BatchMinutes: 20,
		book.ColoredMinutes: 10, book.OverheadMonth: 480, book.ProductiveHours: 80,
	} {
		b.Settings.SetNum(s, num(v))
	}
	b.Settings.SetText(book.CostMethod, text("latest"))
	wax, oil := material("Soy", book.Wax, unit.Mass, 1000, 16), material("Fig", book.Fragrance, unit.Mass, 1000, 64)
	dye, tin := material("Red", book.Dye, unit.Mass, 25, 8), material("Tin", book.JarKind, unit.Count, 1, 1)
	dye.DropsPerGram = num(20)
	b.Materials = []*book.Material{wax, oil, dye, tin}
	b.Recipes = []*book.Recipe{{Name: text("Fig"), Ingredients: []book.Ingredient{
		{Material: wax, Amount: num(1)}, {Material: oil, Amount: num(25), Rate: rate("% of wax")}, {Material: dye, Amount: num(25), Rate: rate("drops/100g")},
	}}}
	b.Jars = []*book.Jar{booktest.Jar("Tin 4", 126.25, tin)}
	for code, f := range map[string]book.Finish{"C": book.Colored, "N": book.Natural} {
		b.Products = append(b.Products, &book.Product{Code: text(code), Recipe: b.Recipes[0], Jar: b.Jars[0], Finish: f, List: paid(20)})
	}
	slices.SortFunc(b.Products, func(x, y *book.Product) int { return int(x.Code.V[0]) - int(y.Code.V[0]) })
	b.Channels = []*book.Channel{
		{Name: text("Web"), Fee: num(0.1), PerOrder: paid(1.2), PerUnit: paid(0.5), Listed: true},
		{Name: text("Stall"), Listed: true},
		{Name: text("Shop"), Wholesale: true, Listed: true},
	}
	b.Tables = booktest.Tables(book.TMaterials, book.TRecipes, book.TJars, book.TProducts, book.TSales)
	return b
}

func costed(t testing.TB, b *book.Book, p Period) *Result {
	t.Helper()
	r, err := Run(b, Options{Period: p, Today: p.To + 1})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func absent(t testing.TB, what string, f *calc.Figure) {
	t.Helper()
	if v, ok := f.Value(); ok {
		t.Errorf("%s = %v, want none", what, v)
	}
}

// said are the problems of a code, with what they say and their arguments.
func said(l problem.List, code problem.Code) []problem.Problem {
	var out []problem.Problem
	for _, p := range l.Sorted() {
		if p.Code == code {
			out = append(out, p)
		}
	}
	return out
}

// wilsonRoots are the bounds as the roots of (p - x)^2 = z^2 x (1 - x) / n, in
// another form than the program's.
func wilsonRoots(p, n float64) (low, high float64) {
	const z = 1.959964
	a, b, c := 1+z*z/n, -(2*p + z*z/n), p*p
	d := math.Sqrt(b*b - 4*a*c)
	return (-b - d) / (2 * a), (-b + d) / (2 * a)
}

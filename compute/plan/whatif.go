package plan

import (
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/problem"
)

// Change is a setting, or a field of a market's row, with the value that a plan
// is tried with; Was is what the book says.
type Change struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Was   string `json:"-"`
}

// WhatIf sets a plan under changes beside the plan of the book as it is. Before
// is nil where the book as it is allows no plan.
type WhatIf struct {
	Changes []Change `json:"changes"`
	Before  *Totals  `json:"before,omitempty"`
	After   *Totals  `json:"after"`
}

// Totals are what a plan comes to, all its markets together. Units are started
// units in the plan's pours; LeftOut is good units; OrderCost is unknown where
// the cost of any order is.
type Totals struct {
	ExpectedTotal *calc.Figure `json:"expected_total,omitzero"`
	Units         int          `json:"units"`
	Pours         int          `json:"pours"`
	Days          int          `json:"days"`
	Minutes       *calc.Figure `json:"minutes,omitzero"`
	Contribution  *calc.Figure `json:"contribution,omitzero"`
	OrderCost     *calc.Figure `json:"order_cost,omitzero"`
	LeftOut       int          `json:"left_out"`
	Products      []Brought    `json:"products"`
}

// Brought is how many units of a product a plan brings and starts in its pours.
type Brought struct {
	Product string `json:"product"`
	Bring   int    `json:"bring"`
	Pour    int    `json:"pour"`

	Of *book.Product `json:"-"`
}

// Rows are the rows of Markets that a plan is for; none for a plan without a
// market, or where a market cannot be found.
func Rows(b *book.Book, opts Options) []int {
	if opts.byDate() {
		return nil
	}
	r := &run{book: b, opts: opts, res: &Result{}}
	rows, err := r.rows()
	if err != nil {
		return nil
	}
	return rows
}

// rows are the rows of the markets asked for, each once.
func (r *run) rows() ([]int, error) {
	if r.opts.rows != nil {
		return r.opts.rows, r.ahead()
	}
	names := r.opts.Markets
	if len(names) == 0 {
		names = []string{""}
	}
	var out []int
	for _, name := range names {
		row, err := r.findMarket(name)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(out, row) {
			out = append(out, row)
		}
	}
	return out, nil
}

// ahead reports a market that a change has put before today.
func (r *run) ahead() error {
	for _, row := range r.opts.rows {
		m := r.book.Markets[row]
		if m.Day < r.opts.Today {
			r.problem(problem.Error, problem.UnknownMarket, "past", m.At, "name", m.Name.V, "known", strings.Join(r.marketNames(), ", "))
			return ErrMarket
		}
	}
	return nil
}

// Try plans with a changed copy of a book, and sets that beside the plan of the
// book itself. The markets are the same rows of both. The error is one of Run
// for the changed book.
func Try(b, changed *book.Book, opts Options, changes []Change) (*Result, error) {
	opts.rows = Rows(b, opts)
	after, err := Run(changed, opts)
	if err != nil {
		return after, err
	}
	after.WhatIf = &WhatIf{Changes: changes, After: after.totals()}
	if before, err := Run(b, opts); err == nil {
		after.WhatIf.Before = before.totals()
	}
	return after, nil
}

// totals are what a plan comes to.
func (r *Result) totals() *Totals {
	t := &Totals{
		Pours: len(r.Pours), Days: len(r.Days), Contribution: r.Contribution, Products: []Brought{},
		Minutes: calc.Zero, OrderCost: calc.Zero,
	}
	for _, d := range r.Days {
		t.Minutes = calc.Add(t.Minutes, d.Minutes)
	}
	for _, b := range r.Buy {
		t.OrderCost = calc.Add(t.OrderCost, b.Cost)
	}
	for _, l := range r.LeftOut {
		t.LeftOut += l.Units
	}
	if r.Market != nil {
		t.ExpectedTotal = r.ExpectedTotal
		t.bring(r.Demand)
	}
	for _, o := range r.Also {
		t.ExpectedTotal = calc.Add(t.ExpectedTotal, o.ExpectedTotal)
		t.bring(o.Demand)
	}
	for i := range r.Pours {
		for _, j := range r.Pours[i].Jars {
			t.Units += j.Units
			t.product(j.Product, j.Of).Pour += j.Units
		}
	}
	return t
}

func (t *Totals) bring(demand []Demand) {
	for _, d := range demand {
		t.product(d.Product, d.Of).Bring += d.Bring
	}
}

// product is the line of a product, a new one where it has none.
func (t *Totals) product(code string, of *book.Product) *Brought {
	i := slices.IndexFunc(t.Products, func(x Brought) bool { return x.Product == code })
	if i < 0 {
		i = len(t.Products)
		t.Products = append(t.Products, Brought{Product: code, Of: of})
	}
	return &t.Products[i]
}

// Compared is a product in two plans; a plan that lacks it has 0.
type Compared struct {
	Before, After Brought
}

// Differ lists the products of which another number is brought or poured.
func (w *WhatIf) Differ() []Compared {
	if w.Before == nil {
		return nil
	}
	var out []Compared
	before := *w.Before
	before.Products = slices.Clone(before.Products)
	for _, a := range w.After.Products {
		if b := *before.product(a.Product, a.Of); b != a {
			out = append(out, Compared{b, a})
		}
	}
	for _, b := range w.Before.Products {
		if !slices.ContainsFunc(w.After.Products, func(a Brought) bool { return a.Product == b.Product }) {
			out = append(out, Compared{b, Brought{Product: b.Product, Of: b.Of}})
		}
	}
	return out
}

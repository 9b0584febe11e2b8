package price

import (
	"math"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/stat"
)

// places collects the range: every active product with a price.
func (r *run) places() {
	for _, p := range r.book.Products {
		if !p.Active.V || p.List.State != cell.Typed || p.List.V.Sign() <= 0 {
			continue
		}
		fill := r.fill(p.Recipe, p.Jar, p.Finish)
		if v, ok := fill.Value(); !ok || v <= 0 {
			continue
		}
		r.res.Range = append(r.res.Range, Point{Product: p.Code.V, Finish: p.Finish, Fill: fill, Price: amount(p.List, "list-price", p.Code.V), jar: p.Jar})
	}
}

// enoughSizes is how many different jars a curve needs.
const enoughSizes = 3

// placeOf is where the range puts the price of a fill: the line of ln(price) on
// ln(fill) through the products of the same finish.
func (r *run) placeOf(finish book.Finish, fill *calc.Figure) *Range {
	var x, y []*calc.Figure
	jars := map[*book.Jar]bool{}
	for _, p := range r.res.Range {
		if p.Finish == finish {
			x, y = append(x, calc.Ln(p.Fill)), append(y, calc.Ln(p.Price))
			jars[p.jar] = true
		}
	}
	out := &Range{Sizes: len(jars)}
	if out.Sizes < enoughSizes || !fill.Known() {
		return out
	}
	line, ok := r.lines[finish]
	if !ok {
		line = stat.FitLine(x, y)
		r.lines[finish] = line
		r.res.lines = r.lines
	}
	at, half := line.At(calc.Ln(fill))
	of := string(finish)
	out.Predicted = calc.Exp(at).Named("range-price", of)
	out.Low = calc.Exp(calc.Sub(at, half)).Named("range-low", of)
	out.High = calc.Exp(calc.Add(at, half)).Named("range-high", of)
	return out
}

// Curve is where the range puts the price of a fill in g, with its 95 % bounds;
// NaN where the finish has no curve.
func (r *Result) Curve(finish book.Finish, fill float64) (price, low, high float64) {
	line, ok := r.lines[finish]
	if !ok || fill <= 0 {
		return math.NaN(), math.NaN(), math.NaN()
	}
	at, half := line.At(calc.Const(math.Log(fill)))
	y, d := at.Or(math.NaN()), half.Or(math.NaN())
	return math.Exp(y), math.Exp(y - d), math.Exp(y + d)
}

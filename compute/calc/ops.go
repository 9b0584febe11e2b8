package calc

import (
	"math"
	"slices"
)

// slack is the relative tolerance of floors and ceilings, so that 99 / 0.99 is 100.
const slack = 1e-9

// operation is a way to compute a value, and to write it as a formula.
type operation struct {
	prec  int // how tightly its formula binds: 1 sums, 2 products, 3 powers, 9 calls
	eval  func(args []*Figure) (float64, bool)
	write func(w *formula, args []*Figure)
	fn    *Fn // of a call
}

// pair is an operation on two figures, which most are.
type pair struct {
	op  *operation
	two [2]*Figure
}

func (p *pair) args() []*Figure { return p.two[:] }

// list is an operation on any number of figures.
type list struct {
	op  *operation
	all []*Figure
}

func (l *list) args() []*Figure { return l.all }

func apply(op *operation, args ...*Figure) *Figure {
	f := figureOf(op, args)
	f.kind, f.known = Op, true
	for _, a := range args {
		f.known = f.known && a.Known()
		f.assumed = f.assumed || a != nil && a.assumed
	}
	if f.known {
		f.value, f.known = op.eval(args)
		f.known = f.known && finite(f.value)
	}
	if !f.known {
		f.value = 0
	}
	return f
}

// figureOf is a figure of an operation on a copy of the arguments, in one piece.
func figureOf(op *operation, args []*Figure) *Figure {
	if len(args) != 2 {
		x := &struct {
			Figure
			list
		}{list: list{op, slices.Clone(args)}}
		x.of = &x.list
		return &x.Figure
	}
	x := &struct {
		Figure
		pair
	}{pair: pair{op, [2]*Figure(args)}}
	x.of = &x.pair
	return &x.Figure
}

// does is the operation of a node of the kind Op, nil of the others.
func (f *Figure) does() *operation {
	switch x := f.of.(type) {
	case *pair:
		return x.op
	case *list:
		return x.op
	}
	return nil
}

// Infix reports whether the node is a sum, a difference, a product or a quotient,
// whose formula holds each argument's once.
func (f *Figure) Infix() bool {
	op := f.does()
	return op != nil && op.fn == nil && op.prec < 9
}

// Operation tells what nodes of the kind Op do: it is the same for the same
// operation, and nil for other nodes.
func (f *Figure) Operation() any {
	switch op := f.does(); {
	case op == nil:
		return nil
	case op.fn != nil:
		return op.fn
	default:
		return op
	}
}

// each folds the values of the arguments.
func each(with func(sum, v float64) float64) func([]*Figure) (float64, bool) {
	return func(args []*Figure) (float64, bool) {
		sum := args[0].value
		for _, a := range args[1:] {
			sum = with(sum, a.value)
		}
		return sum, true
	}
}

func one(of func(v float64) float64) func([]*Figure) (float64, bool) {
	return func(args []*Figure) (float64, bool) { return of(args[0].value), true }
}

var (
	opAdd = &operation{prec: 1, eval: each(func(sum, v float64) float64 { return sum + v }), write: infix('+', 1, false)}
	opSub = &operation{prec: 1, eval: each(func(sum, v float64) float64 { return sum - v }), write: infix('-', 1, true)}
	opMul = &operation{prec: 2, eval: each(func(sum, v float64) float64 { return sum * v }), write: infix('*', 2, false)}
	opDiv = &operation{prec: 2, eval: each(func(sum, v float64) float64 { return sum / v }), write: infix('/', 2, true)} // by 0 not finite
	opMax = &operation{prec: 9, eval: each(math.Max), write: call("MAX")}
	opMin = &operation{prec: 9, eval: each(math.Min), write: call("MIN")}
	opLn  = &operation{prec: 9, eval: one(math.Log), write: call("LN")} // of 0 and less not finite
	opExp = &operation{prec: 9, eval: one(math.Exp), write: call("EXP")}
	opSqr = &operation{prec: 9, eval: one(math.Sqrt), write: call("SQRT")} // of less than 0 not a number
	opFlr = &operation{prec: 9, eval: one(FloorOf), write: text(func(a []string) string {
		return "INT(" + a[0] + "+ABS(" + a[0] + ")*1E-9)"
	})}
)

// FloorOf is the floor of v, with a relative slack of 1e-9.
func FloorOf(v float64) float64 { return math.Floor(v + math.Abs(v)*slack) }

// CeilOf is the ceiling of v, with a relative slack of 1e-9.
func CeilOf(v float64) float64 { return math.Ceil(v - math.Abs(v)*slack) }

// Add is the sum; of nothing it is 0, of one figure that figure.
func Add(a ...*Figure) *Figure { return fold(opAdd, Zero, a) }

// Mul is the product; of nothing it is 1, of one figure that figure.
func Mul(a ...*Figure) *Figure { return fold(opMul, unit, a) }

var unit = Const(1)

func fold(op *operation, empty *Figure, a []*Figure) *Figure {
	switch len(a) {
	case 0:
		return empty
	case 1:
		return a[0]
	}
	return apply(op, a...)
}

// Sub is a - b.
func Sub(a, b *Figure) *Figure { return apply(opSub, a, b) }

// Div is a / b; unknown where b is 0.
func Div(a, b *Figure) *Figure { return apply(opDiv, a, b) }

// Max is the largest.
func Max(a ...*Figure) *Figure { return apply(opMax, a...) }

// Min is the smallest.
func Min(a ...*Figure) *Figure { return apply(opMin, a...) }

// Ln is the natural logarithm; unknown unless a > 0.
func Ln(a *Figure) *Figure { return apply(opLn, a) }

// Exp is e to the power a.
func Exp(a *Figure) *Figure { return apply(opExp, a) }

// Sqrt is the square root; unknown where a < 0.
func Sqrt(a *Figure) *Figure { return apply(opSqr, a) }

// Floor is the floor with a relative slack of 1e-9.
func Floor(a *Figure) *Figure { return apply(opFlr, a) }

// Terms are what an unnamed sum adds up; nil for any other figure.
func (f *Figure) Terms() []*Figure {
	if f.does() == opAdd {
		return f.of.args()
	}
	return nil
}

// Fn is a function of the spreadsheet's own: Eval must equal what the formula
// that Write gives evaluates to. Eval returns false where it has no value.
type Fn struct {
	Eval  func(v []float64) (float64, bool)
	Write func(args []string) string
}

// Call applies fn.
func Call(fn *Fn, args ...*Figure) *Figure {
	eval := func(args []*Figure) (float64, bool) {
		v := make([]float64, len(args))
		for i, a := range args {
			v[i] = a.value
		}
		return fn.Eval(v)
	}
	return apply(&operation{prec: 9, eval: eval, write: text(fn.Write), fn: fn}, args...)
}

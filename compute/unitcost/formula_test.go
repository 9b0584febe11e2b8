package unitcost

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pourbook/compute/calc"
)

// sheet evaluates figures by the text of their formulas alone, as a spreadsheet
// would: every named figure, input and sum has a cell.
type sheet struct {
	testing.TB
	cells map[string]*calc.Figure
	names map[*calc.Figure]string
	done  map[*calc.Figure]float64
}

func newSheet(t testing.TB) *sheet {
	return &sheet{t, map[string]*calc.Figure{}, map[*calc.Figure]string{}, map[*calc.Figure]float64{}}
}

func (s *sheet) place(f *calc.Figure) string {
	n, ok := s.names[f]
	if !ok {
		n = "c" + strconv.Itoa(len(s.names))
		s.names[f], s.cells[n] = n, f
	}
	return n
}

func (s *sheet) value(f *calc.Figure) float64 {
	if v, ok := s.done[f]; ok {
		return v
	}
	v := f.Or(math.NaN())
	if f.Kind() == calc.Step || f.Kind() == calc.Op {
		p := &parser{sheet: s, rest: f.Formula(s.place)}
		if v = p.sum(); p.rest != "" {
			s.Fatalf("formula %s: left over %q", f.Formula(s.place), p.rest)
		}
	}
	s.done[f] = v
	return v
}

// parser reads + - * / ( ) numbers, cells, MAX, MIN, INT and ABS.
type parser struct {
	*sheet
	rest string
}

func (p *parser) take(s string) bool {
	rest, ok := strings.CutPrefix(p.rest, s)
	if ok {
		p.rest = rest
	}
	return ok
}

func (p *parser) sum() float64 {
	v := p.product()
	for {
		switch {
		case p.take("+"):
			v += p.product()
		case p.take("-"):
			v -= p.product()
		default:
			return v
		}
	}
}

func (p *parser) product() float64 {
	v := p.atom()
	for {
		switch {
		case p.take("*"):
			v *= p.atom()
		case p.take("/"):
			v /= p.atom()
		default:
			return v
		}
	}
}

func (p *parser) atom() float64 {
	if p.take("(") {
		v := p.sum()
		if !p.take(")") {
			p.Fatalf("no ) at %q", p.rest)
		}
		return v
	}
	n := 0
	for n < len(p.rest) && (p.rest[n] == '.' || p.rest[n] >= '0' && p.rest[n] <= '9' || p.rest[n] >= 'A' && p.rest[n] <= 'z' ||
		p.rest[n] == '-' && (n == 0 || p.rest[n-1] == 'E')) {
		n++
	}
	word := p.rest[:n]
	p.rest = p.rest[n:]
	if f, ok := p.cells[word]; ok {
		return p.value(f)
	}
	if !strings.HasPrefix(p.rest, "(") {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			p.Fatal(err)
		}
		return v
	}
	return p.call(word)
}

func (p *parser) call(name string) float64 {
	var args []float64
	for p.take("(") || p.take(",") {
		args = append(args, p.sum())
	}
	if !p.take(")") {
		p.Fatalf("no ) of %s at %q", name, p.rest)
	}
	v := args[0]
	for _, a := range args[1:] {
		switch name {
		case "MAX":
			v = max(v, a)
		case "MIN":
			v = min(v, a)
		}
	}
	switch name {
	case "INT":
		return math.Floor(v)
	case "ABS":
		return math.Abs(v)
	case "MAX", "MIN":
		return v
	}
	p.Fatalf("no function %s", name)
	return 0
}

// agree evaluates a figure and everything below it by its formulas.
func (s *sheet) agree(what string, f *calc.Figure) {
	s.Helper()
	f.Walk(func(n *calc.Figure) bool {
		v, known := n.Value()
		if !known || n.Kind() == calc.Literal {
			return known
		}
		if got := s.value(n); math.Abs(got-v) > 1e-9*max(1, math.Abs(v)) {
			s.Errorf("%s: %v by the formula %s = %v, not %v", what, n.Name(), n.Formula(s.place), got, v)
			return false
		}
		return true
	})
}

func TestFormulasGiveTheValues(t *testing.T) {
	b, colored, natural := twoCandles(t)
	e := New(b, nil, on("2026-10-31"))
	s := newSheet(t)
	for _, m := range []Make{e.Of(colored), e.Of(natural)} {
		s.agree(m.Label, e.Cost(m, month("2026-10")).Total)
	}
	for _, method := range []Method{Average, FIFO, Latest} {
		y := year(t, method)
		e := y.engine("2026-07-31")
		for _, row := range e.Stock(on("2026-03-01"), on("2026-07-31")) {
			for i, f := range []*calc.Figure{row.Opening, row.Closing, row.Value, row.Price, row.PriceVariance, row.UsageVariance, row.Used} {
				s.agree(fmt.Sprintf("%s %d", method, i), f)
			}
		}
		s.agree(string(method), e.StockDifferences(on("2026-03-01"), on("2026-07-31")))
	}
}

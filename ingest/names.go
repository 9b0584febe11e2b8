package ingest

import (
	"github.com/xrash/smetrics"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

// names finds what references name.
type names struct {
	materials map[string]*book.Material
	recipes   map[string]*book.Recipe
	jars      map[string]*book.Jar
	channels  map[string]int32
	codes     map[string]int32
	titles    map[string][]int32
	markets   map[string]bool
}

// Nearest is the name most like what was typed; "" when none is close.
func Nearest(typed string, known []string) string {
	best, score := "", 0.85
	for _, n := range known {
		if s := smetrics.JaroWinkler(cell.Fold(typed), cell.Fold(n), 0.7, 4); s > score {
			best, score = n, s
		}
	}
	return best
}

func keys[V any](m map[string]V, name func(V) string) []string {
	var out []string
	for _, v := range m {
		out = append(out, name(v))
	}
	return out
}

// unknown leaves the row out: a reference names nothing. near is the nearest
// known name.
func (l *line) unknown(code problem.Code, t cell.Text, near string, amount float64) {
	l.out = true
	p := problem.Problem{Severity: problem.Error, Code: code, At: t.At, Args: []any{"name", t.V}, Amount: amount, HasAmount: amount != 0}
	if near != "" {
		p.Say, p.Args = "near", append(p.Args, "near", near)
	}
	l.add(p)
}

func (l *line) material(field string) *book.Material {
	t := l.name(field)
	if l.out {
		return nil
	}
	m := l.names.materials[cell.Fold(t.V)]
	if m == nil {
		l.unknown(problem.UnknownMaterial, t, Nearest(t.V, keys(l.names.materials, func(m *book.Material) string { return m.Name.V })), 0)
	}
	return m
}

func (l *line) recipe() *book.Recipe {
	t := l.name("recipe")
	if l.out {
		return nil
	}
	x := l.names.recipes[cell.Fold(t.V)]
	if x == nil {
		l.unknown(problem.UnknownRecipe, t, Nearest(t.V, keys(l.names.recipes, func(x *book.Recipe) string { return x.Name.V })), 0)
	}
	return x
}

func (l *line) jar() *book.Jar {
	t := l.name("jar")
	if l.out {
		return nil
	}
	x := l.names.jars[cell.Fold(t.V)]
	if x == nil {
		l.unknown(problem.UnknownJar, t, Nearest(t.V, keys(l.names.jars, func(x *book.Jar) string { return x.Name.V })), 0)
	}
	return x
}

// product is the index of a product, matched by code, then by name; -1 when
// none fits or two do.
func (l *line) product(field string, amount func() float64) int32 {
	t := l.name(field)
	if l.out {
		return -1
	}
	return l.productOf(t, amount)
}

func (l *line) productOf(t cell.Text, amount func() float64) int32 {
	key := cell.Fold(t.V)
	if i, ok := l.names.codes[key]; ok {
		return i
	}
	fits := l.names.titles[key]
	switch len(fits) {
	case 1:
		return fits[0]
	case 0:
		var known []string
		for _, p := range l.book.Products {
			known = append(known, p.Code.V)
			if p.Name.V != "" {
				known = append(known, p.Name.V)
			}
		}
		l.unknown(problem.UnknownProduct, t, Nearest(t.V, known), amount())
	default:
		l.out = true
		a, b := l.book.Products[fits[0]], l.book.Products[fits[1]]
		money := amount()
		l.add(problem.Problem{Severity: problem.Error, Code: problem.AmbiguousName, At: t.At, Other: b.Code.At,
			Args: []any{"name", t.V, "one", a.Code.V, "two", b.Code.V}, Amount: money, HasAmount: money != 0})
	}
	return -1
}

func none() float64 { return 0 }

// channel is the index of a channel, -1 for none. A name that is not in
// Channels becomes a channel without fees, with a warning once.
func (l *line) channel(field string) int32 {
	t := l.text(field)
	if !t.OK() {
		return -1
	}
	key := cell.Fold(t.V)
	if i, ok := l.names.channels[key]; ok {
		return i
	}
	near := Nearest(t.V, keys(l.names.channels, func(i int32) string { return l.book.Channels[i].Name.V }))
	p := problem.Problem{Severity: problem.Warning, Code: problem.UnknownChannel, At: t.At, Args: []any{"name", t.V}}
	if near != "" {
		p.Say, p.Args = "near", append(p.Args, "near", near)
	}
	l.add(p)
	i := int32(len(l.book.Channels))
	l.names.channels[key] = i
	l.book.Channels = append(l.book.Channels, &book.Channel{Name: t})
	return i
}

// twice leaves the row out as a second definition.
func (l *line) twice(t, first cell.Text) {
	l.out = true
	l.add(problem.Problem{Severity: problem.Error, Code: problem.Duplicate, At: t.At, Other: first.At, Args: []any{"name", t.V}})
}

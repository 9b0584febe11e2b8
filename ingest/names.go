package ingest

import (
	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/parse"
)

// names finds what references name, by their folded spelling.
type names struct {
	materials map[string]*book.Material
	recipes   map[string]*book.Recipe
	jars      map[string]*book.Jar
	channels  map[string]int32
	codes     map[string]int32   // products by code
	titles    map[string][]int32 // products by name
	markets   map[string]string  // a market's own spelling
	settings  map[book.Setting]cell.Ref
	lost      map[string]cell.Ref // by lostKey: names on rows that were left out
}

func newNames() names {
	return names{
		map[string]*book.Material{},
		map[string]*book.Recipe{},
		map[string]*book.Jar{},
		map[string]int32{},
		map[string]int32{},
		map[string][]int32{},
		map[string]string{},
		map[book.Setting]cell.Ref{},
		map[string]cell.Ref{},
	}
}

// lostKey is a name that a problem of the code says is unknown.
func lostKey(code problem.Code, name string) string { return string(code) + " " + cell.Fold(name) }

// defining are the fields in which a table gives names, and the problem of a
// name that it does not give.
var defining = map[book.TableName]struct {
	fields []string
	code   problem.Code
}{
	book.TMaterials: {[]string{"name"}, problem.UnknownMaterial},
	book.TJars:      {[]string{"jar"}, problem.UnknownJar},
	book.TProducts:  {[]string{"product", "name"}, problem.UnknownProduct},
}

// lose keeps the names on a row that is left out.
func (l *line) lose() {
	d := defining[l.b.spec.name]
	for _, f := range d.fields {
		c, at, _ := l.at(f)
		if name, f := parse.Text(c); f.None() && name != "" {
			l.names.lost[lostKey(d.code, name)] = at
		}
	}
}

// spelled lists the spellings of what is known, in the book's order.
func spelled[T any](list []T, name func(T) string) []string {
	var out []string
	for _, x := range list {
		if n := name(x); n != "" {
			out = append(out, n)
		}
	}
	return out
}

func (r *reader) materialNames() []string {
	return spelled(r.book.Materials, func(m *book.Material) string { return m.Name.V })
}

func (r *reader) recipeNames() []string {
	return spelled(r.book.Recipes, func(x *book.Recipe) string { return x.Name.V })
}

func (r *reader) jarNames() []string {
	return spelled(r.book.Jars, func(x *book.Jar) string { return x.Name.V })
}

func (r *reader) productNames() []string {
	codes := spelled(r.book.Products, func(p *book.Product) string { return p.Code.V })
	return append(codes, spelled(r.book.Products, func(p *book.Product) string { return p.Name.V })...)
}

// nothing is the problem of a name that refers to nothing: its row was left out,
// it is a list of names, or strange.
func (r *reader) nothing(code problem.Code, t cell.Text, known []string) problem.Problem {
	if at, ok := r.names.lost[lostKey(code, t.V)]; ok {
		return problem.Problem{Severity: problem.Error, Code: code, Say: "left-out", At: t.At, Other: at, Args: []any{"name", t.V}}
	}
	if code == problem.UnknownMaterial && r.listsMaterials(t.V) {
		return problem.Problem{Severity: problem.Error, Code: code, Say: "list", At: t.At, Args: []any{"name", t.V}}
	}
	return strange(code, problem.Error, t, known)
}

// strange is the problem of a name that refers to nothing, with the nearest
// name that would.
func strange(code problem.Code, severity problem.Severity, t cell.Text, known []string) problem.Problem {
	p := problem.Problem{Severity: severity, Code: code, At: t.At, Args: []any{"name", t.V}}
	if near := Nearest(t.V, known); near != "" {
		p.Say, p.Args = "near", append(p.Args, "near", near)
	}
	return p
}

// unknown leaves the row out: a reference names nothing.
func (l *line) unknown(code problem.Code, t cell.Text, known []string) {
	l.out = true
	l.add(l.nothing(code, t, known))
}

// material is the material that a field names; nil leaves the row out. So are
// recipe and jar.
func (l *line) material(field string) *book.Material {
	return refer(l, field, l.names.materials, l.materialNames, problem.UnknownMaterial)
}

func (l *line) recipe() *book.Recipe {
	return refer(l, "recipe", l.names.recipes, l.recipeNames, problem.UnknownRecipe)
}

func (l *line) jar() *book.Jar {
	return refer(l, "jar", l.names.jars, l.jarNames, problem.UnknownJar)
}

// refer is what a needed field names in a table; nil leaves the row out, with
// the code where the name is unknown.
func refer[T any](l *line, field string, table map[string]*T, known func() []string, code problem.Code) *T {
	t := l.name(field)
	if !t.OK() {
		return nil
	}
	x := lookUp(l, table, t, known, code)
	if x == nil {
		l.unknown(code, t, known())
	}
	return x
}

// product is a needed reference; nil leaves the row out.
func (l *line) product() *book.Product {
	t := l.name("product")
	if !t.OK() {
		return nil
	}
	i, p := l.findProduct(t)
	if p.Code != "" {
		l.add(p)
	}
	if i < 0 {
		l.out = true
		return nil
	}
	return l.book.Products[i]
}

// findProduct is the index of a product, by code, then by name, with a note
// when it is spelled otherwise; else -1 and the problem.
func (r *reader) findProduct(t cell.Text) (int32, problem.Problem) {
	key := cell.Fold(t.V)
	if i, ok := r.names.codes[key]; ok {
		return i, problem.Problem{}
	}
	fits := r.names.titles[key]
	switch len(fits) {
	case 0:
		if meant := glued(t.V, r.productNames()); meant != "" {
			i, p := r.findProduct(cell.Text{V: meant, At: t.At})
			if told := string(problem.UnknownProduct) + key; i >= 0 && !r.told[told] {
				r.told[told] = true
				p = respelt(problem.UnknownProduct, t, meant)
			}
			return i, p
		}
		return -1, r.nothing(problem.UnknownProduct, t, r.productNames())
	case 1:
		return fits[0], problem.Problem{}
	}
	a, b := r.book.Products[fits[0]], r.book.Products[fits[1]]
	return -1, problem.Problem{
		Severity: problem.Error, Code: problem.AmbiguousName, At: t.At, Other: b.Code.At,
		Args: []any{"name", t.V, "one", a.Code.V, "two", b.Code.V},
	}
}

// channelOf is the index of a channel. A name that is not in Channels becomes
// a channel without fees, with a warning.
func (r *reader) channelOf(t cell.Text) int32 {
	key := cell.Fold(t.V)
	if i, ok := r.names.channels[key]; ok {
		return i
	}
	listed := spelled(r.book.Channels, func(c *book.Channel) string {
		if !c.Listed {
			return ""
		}
		return c.Name.V
	})
	r.add(strange(problem.UnknownChannel, problem.Warning, t, listed))
	i := int32(len(r.book.Channels))
	r.names.channels[key] = i
	r.book.Channels = append(r.book.Channels, &book.Channel{Name: t})
	return i
}

// twice leaves the row out as a second definition.
func (l *line) twice(t cell.Text, first cell.Ref) {
	l.out = true
	l.add(problem.Problem{Severity: problem.Error, Code: problem.Duplicate, At: t.At, Other: first, Args: []any{"name", t.V}})
}

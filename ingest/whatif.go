package ingest

import (
	"context"
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/templates"
)

// Changed is a setting, or a field of a market's row, that Change gave a value.
type Changed struct {
	Name string // as the design spells it, behind the market where one was named
	Was  string // as typed in the book, or the default; "" for nothing
}

// Refusal is why Change does not take a name or its value.
type Refusal struct {
	Name string
	// Unknown: nothing has this name; Near is the nearest name that something has.
	Unknown bool
	Near    string
	// NoMarket: the name is a field of a market, and there is none.
	NoMarket bool
	// Problem is why the value cannot be read, Example one that can be.
	Problem problem.Problem
	Example string
	// Known are the names that the value could be, where it names nothing.
	Known []string
}

// Error names what was refused; its words are the caller's.
func (r *Refusal) Error() string { return "cannot change " + r.Name }

// Change is a copy of a book with another value of a setting, or of a field of
// the markets at rows of b.Markets. The value is read as the book's own cells
// are. "MARKET: FIELD" means that market alone. The error is a *Refusal.
func Change(b *book.Book, rows []int, name, value string) (*book.Book, Changed, error) {
	if field, ok := ownField(name); ok {
		return changeMarkets(b, rows, field, field, value)
	}
	if d, in, ok := findSetting(name); ok {
		return changeSetting(b, d, in, value)
	}
	before := ""
	for _, row := range rows {
		market := b.Markets[row].Name.V
		if rest, ok := cutFold(name, market+":"); ok {
			name, before, rows = rest, market+": ", []int{row}
			break
		}
	}
	if e, _ := words().field(book.TMarkets, name); e.field != "" {
		return changeMarkets(b, rows, e.field, before+e.field, value)
	}
	return nil, Changed{}, &Refusal{Name: name, Unknown: true, Near: Nearest(name, append(settingNames(), specOf(book.TMarkets).fields()...))}
}

// ownField is a field of Markets by its own name.
func ownField(name string) (string, bool) {
	e, _ := words().field(book.TMarkets, name)
	return e.field, e.sure == ownName
}

// cutFold cuts a prefix off, whatever its case.
func cutFold(s, prefix string) (string, bool) {
	s = strings.TrimSpace(s)
	if len(s) < len(prefix) || !strings.EqualFold(s[:len(prefix)], prefix) {
		return s, false
	}
	return strings.TrimSpace(s[len(prefix):]), true
}

// typed is a table of one row, as if it had been typed into a book.
func typed(t book.TableName, fields, values []string) *block {
	b := &block{match: match{spec: specOf(t)}}
	var rec record
	for i, f := range fields {
		b.columns = append(b.columns, column{field: f, index: i})
		rec.cells = append(rec.cells, grid.Cell{Kind: grid.Text, Raw: values[i]})
	}
	b.last = len(fields) - 1
	b.rows = []record{rec}
	return b
}

// copyOf is a book that shares its tables with another, and a reader for it.
func copyOf(b *book.Book) (*book.Book, *reader) {
	c := *b
	c.Settings = b.Settings.Clone()
	c.Markets = slices.Clone(b.Markets)
	c.Problems = problem.List{}
	r := &reader{ctx: context.Background(), book: &c, names: newNames(), strangers: map[int32]cell.Ref{}, told: map[string]bool{}}
	for i, ch := range b.Channels {
		r.names.channels[cell.Fold(ch.Name.V)] = int32(i)
	}
	for _, m := range b.Markets {
		r.names.markets[cell.Fold(m.Name.V)] = m.Name.V
	}
	c.Channels = slices.Clip(c.Channels)
	return &c, r
}

// accept gives a changed book its problems, unless one of them refuses the value.
func accept(b, c *book.Book, name, example string) error {
	for _, p := range c.Problems.Sorted() {
		switch {
		case p.Code == problem.UnknownChannel:
			return &Refusal{Name: name, Problem: p, Known: spelled(b.Channels, func(x *book.Channel) string { return x.Name.V })}
		case p.Code == problem.UnknownMarket:
			return &Refusal{Name: name, Problem: p, Known: once(spelled(b.Markets, func(x *book.Market) string { return x.Name.V }))}
		case p.Severity == problem.Error:
			return &Refusal{Name: name, Problem: p, Example: example}
		}
	}
	said := c.Problems
	c.Problems = problem.List{}
	c.Problems.Join(b.Problems)
	c.Problems.Join(said)
	return nil
}

// once is a list without repetitions.
func once(names []string) []string {
	slices.Sort(names)
	return slices.Compact(names)
}

func changeSetting(b *book.Book, d book.Def, in, value string) (*book.Book, Changed, error) {
	name := string(d.Name)
	c, r := copyOf(b)
	t := typed(book.TSettings, []string{"name", "value"}, []string{name, value})
	r.styles(t)
	l := &line{reader: r, b: t, rec: t.rows[0]}
	if d.Kind == book.KWeekdays && !namesDays(value) {
		l.add(problem.Problem{
			Severity: problem.Error, Code: problem.MissingField, Say: "choice",
			Args: []any{"setting", name, "read", value, "known", templates.Text("what-if.days")},
		})
	}
	l.setting(d, in)
	l.say()
	example := d.Default
	if key := "what-if.example." + name; example == "" && templates.Has(key) {
		example = templates.Text(key)
	}
	if err := accept(b, c, name, example); err != nil {
		return nil, Changed{}, err
	}
	was := b.Settings.Text(d.Name).Raw
	if was == "" {
		was = b.Settings.Num(d.Name).Raw
	}
	return c, Changed{Name: name, Was: was}, nil
}

// namesDays reports whether a text names any day of the week.
func namesDays(text string) bool {
	for _, w := range strings.FieldsFunc(cell.Fold(text), func(c rune) bool { return c < 'a' || c > 'z' }) {
		for _, d := range []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun", "week", "every", "daily", "all"} {
			if strings.HasPrefix(w, d) {
				return true
			}
		}
	}
	return false
}

// marketField is a field of a market's row: take copies it, raw is what was typed.
type marketField struct {
	take func(to, from *book.Market)
	raw  func(*book.Market) string
}

var marketFields = map[string]marketField{
	"market": {func(to, from *book.Market) { to.Name = from.Name }, func(m *book.Market) string { return m.Name.Raw }},
	"date":   {func(to, from *book.Market) { to.Day = from.Day }, func(m *book.Market) string { return m.Day.String() }},
	"days":   {func(to, from *book.Market) { to.Days = from.Days }, func(m *book.Market) string { return m.Days.Raw }},
	"channel": {func(to, from *book.Market) { to.Channel = from.Channel }, func(m *book.Market) string {
		if m.Channel == nil {
			return ""
		}
		return m.Channel.Name.V
	}},
	"expected units": {func(to, from *book.Market) { to.Expected = from.Expected }, func(m *book.Market) string { return m.Expected.Raw }},
	"like":           {func(to, from *book.Market) { to.Like = from.Like }, func(m *book.Market) string { return m.Like.Raw }},
	"growth %":       {func(to, from *book.Market) { to.Growth = from.Growth }, func(m *book.Market) string { return m.Growth.Raw }},
	"table capacity": {func(to, from *book.Market) { to.Capacity = from.Capacity }, func(m *book.Market) string { return m.Capacity.Raw }},
	"booth fee":      {func(to, from *book.Market) { to.Booth = from.Booth }, func(m *book.Market) string { return m.Booth.Raw }},
}

// changeMarkets reads the field in a row of its own, and copies it to each market.
func changeMarkets(b *book.Book, rows []int, field, name, value string) (*book.Book, Changed, error) {
	if len(rows) == 0 {
		return nil, Changed{}, &Refusal{Name: name, NoMarket: true}
	}
	c, r := copyOf(b)
	fields, values := []string{"market", "date"}, []string{"-", "2000-01-01"}
	if i := slices.Index(fields, field); i >= 0 {
		values[i] = value
	} else {
		fields, values = append(fields, field), append(values, value)
	}
	t := typed(book.TMarkets, fields, values)
	r.styles(t)
	c.Markets = nil
	r.markets(t)
	r.likes()
	example := ""
	if key := "what-if.example." + field; templates.Has(key) {
		example = templates.Text(key)
	}
	if err := accept(b, c, name, example); err != nil {
		return nil, Changed{}, err
	}
	read := c.Markets[0]
	c.Markets = slices.Clone(b.Markets)
	for _, row := range rows {
		m := *b.Markets[row]
		marketFields[field].take(&m, read)
		c.Markets[row] = &m
	}
	return c, Changed{Name: name, Was: marketFields[field].raw(b.Markets[rows[0]])}, nil
}

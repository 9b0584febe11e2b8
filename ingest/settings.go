package ingest

import (
	"math"
	"slices"
	"strings"
	"sync"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
	"pourbook/templates"
)

// settingWords maps what a setting may be called to the setting.
var settingWords = sync.OnceValue(func() map[string]book.Def {
	m := map[string]book.Def{}
	for _, d := range book.Defs {
		for _, w := range templates.List("setting." + string(d.Name)) {
			m[normal(w)] = d
		}
	}
	for _, d := range book.Defs {
		m[normal(string(d.Name))] = d
	}
	return m
})

// findSetting is a setting by its name: the words before a parenthesis. The
// unit is what stands in it, such as "lb" or "weeks".
func findSetting(name string) (d book.Def, in string, ok bool) {
	short, rest, _ := strings.Cut(name, "(")
	if in = parse.SplitHeading(name).Unit; in == "" {
		in, _, _ = strings.Cut(rest, ")")
	}
	for _, n := range []string{short, strings.TrimSuffix(strings.TrimSpace(short), "%"), parse.SplitHeading(short).Name} {
		if d, ok = settingWords()[normal(n)]; ok {
			return d, in, true
		}
	}
	return d, in, false
}

func settingNames() []string {
	var out []string
	for _, d := range book.Defs {
		out = append(out, string(d.Name))
	}
	return out
}

// settings reads names and values. A blank value is the default.
func (r *reader) settings(b *block) {
	r.each(b, func(l *line) {
		name := l.name("name")
		if l.out {
			return
		}
		d, in, ok := findSetting(name.V)
		if !ok {
			l.strangeSetting(name)
			return
		}
		if first, twice := r.names.settings[d.Name]; twice {
			l.twice(name, first)
			return
		}
		if c, _, _ := l.at("value"); parse.Blank(c) {
			return
		}
		r.names.settings[d.Name] = name.At
		l.setting(d, in)
	})
}

// strangeSetting leaves a row out whose name is no setting's.
func (l *line) strangeSetting(name cell.Text) {
	l.out = true
	short, _, _ := strings.Cut(name.V, "(")
	p := strange(problem.UnreadSheet, problem.Warning, cell.Text{V: short, At: name.At}, settingNames())
	if p.Say == "near" {
		p.Say = "setting-near"
	} else {
		p.Say = "setting"
	}
	l.add(p)
}

// setting reads a value by its setting's kind. Its text is kept as typed.
func (l *line) setting(d book.Def, in string) {
	c, at, col := l.at("value")
	s := &l.book.Settings
	text := l.text("value")
	if d.Kind == book.KText || d.Kind == book.KWeekdays {
		s.SetText(d.Name, l.choice(d, text))
		return
	}
	if !text.OK() {
		s.SetNum(d.Name, cell.Num{Raw: text.Raw, At: at, State: cell.Bad})
		return
	}
	s.SetText(d.Name, text)
	switch d.Kind {
	case book.KPercent:
		s.SetNum(d.Name, l.notNegative(l.percent("value", parse.PercentRule{Suspect: d.Suspect})))
	case book.KMoney:
		m := l.money("value")
		s.SetNum(d.Name, cell.Num{V: m.V.Float64(), Raw: m.Raw, At: m.At, State: m.State})
	case book.KMinutes:
		s.SetNum(d.Name, l.settingIn(c, at, col, in, unit.Time))
	case book.KMass:
		s.SetNum(d.Name, l.above0(l.settingIn(c, at, col, in, unit.Mass)))
	case book.KDensity:
		s.SetNum(d.Name, l.above0(l.density("value")))
	case book.KEnding:
		n := l.number("value")
		n.V = math.Round((n.V-math.Floor(n.V))*1e6) / 1e6
		s.SetNum(d.Name, n)
	default:
		s.SetNum(d.Name, l.settingNumber(d.Name, in))
	}
}

// settingIn is an amount of one dimension; a bare number takes the unit in the
// setting's name, else the base unit.
func (l *line) settingIn(c grid.Cell, at cell.Ref, col column, in string, dim unit.Dimension) cell.Num {
	u, ok := unit.Find(in)
	if !ok || u.Dim != dim {
		u = unit.Unit{Name: dim.String(), Dim: dim, Size: 1}
	}
	q := parse.QuantityIn(c, col.style, parse.Units{})
	l.found(q.Finding, at)
	n := cell.Num{V: q.Base, Raw: q.Raw, At: at, State: cell.Typed}
	switch {
	case !q.OK():
		n = unreadable(n)
	case q.Bare() && !q.HasPacks:
		n.V = q.V * u.Size
	case q.Unit.Dim != dim || q.HasPacks:
		n = l.otherKind(n, "value", dim)
	}
	return l.notNegative(n)
}

// measure is what a setting counts, and how many of it make the one that a bare
// number counts.
type measure struct {
	word string // of templates: read.<word>
	size float64
}

// measures are what settings that are numbers may be given in, first what a bare
// number is.
var measures = map[book.Setting][]measure{
	book.ProductiveHours: {{"hours", 1}, {"minutes", 1. / 60}},
	book.CureDays:        {{"days", 1}, {"weeks", 7}},
	book.CureMargin:      {{"days", 1}, {"weeks", 7}},
	book.TestJars:        {{"candles", 1}},
	book.MixPrior:        {{"candles", 1}},
	book.DropsPerML:      {{"drops", 1}},
	book.DropLimit:       {{"drops", 1}},
}

func (m measure) words() []string { return templates.List("read." + m.word) }

// sizeIn is the size of the measure that a word names.
func sizeIn(all []measure, word string) (float64, bool) {
	word = strings.ToLower(strings.TrimSpace(word))
	for _, m := range all {
		if slices.Contains(m.words(), word) {
			return m.size, true
		}
	}
	return 1, false
}

// settingNumber reads a setting that is a number, with what it counts behind it or in
// the setting's name, and no other word.
func (l *line) settingNumber(name book.Setting, in string) cell.Num {
	c, at, col := l.at("value")
	all := measures[name]
	size, named := sizeIn(all, in)
	if s, ok := sizeIn(all, strings.TrimLeft(c.Raw, "0123456789.,")); ok {
		size = s
	}
	var words []string
	for _, m := range all {
		words = append(words, m.words()...)
	}
	x := parse.NumberIn(c, col.style, words...)
	l.found(x.Finding, at)
	n := l.notNegative(x.Num(at))
	if n.OK() && !named && len(all) > 0 && measuresOther(in) {
		l.add(problem.Problem{
			Severity: problem.Error, Code: problem.BadUnit, Say: "kind", At: at,
			Args: []any{"read", n.Raw + " (" + in + ")", "field", string(name), "want", words[0]},
		})
		return unreadable(n)
	}
	n.V *= size
	return n
}

// measuresOther reports whether a word names a measure of any setting.
func measuresOther(word string) bool {
	for _, all := range measures {
		if _, ok := sizeIn(all, word); ok {
			return true
		}
	}
	return false
}

// choices are the texts that a setting of text can have.
var choices = map[book.Setting][]string{
	book.FragranceBasis: {"wax", "blend"},
	book.CostMethod:     {"latest", "average", "fifo"},
	book.Paper:          {"Letter", "A4"},
}

// choice checks a setting of text.
func (l *line) choice(d book.Def, t cell.Text) cell.Text {
	if !t.OK() {
		return t
	}
	if d.Name == book.Currency {
		return l.currencyCode(t)
	}
	known := choices[d.Name]
	if known == nil {
		return t
	}
	for _, k := range known {
		for _, w := range append(templates.List("choice."+k), k) {
			if cell.Fold(w) == cell.Fold(t.V) {
				t.V = k
				return t
			}
		}
	}
	l.add(problem.Problem{
		Severity: problem.Error, Code: problem.MissingField, Say: "choice", At: t.At,
		Args: []any{"setting", string(d.Name), "read", t.V, "known", strings.Join(known, ", ")},
	})
	return cell.Text{Raw: t.Raw, At: t.At, State: cell.Bad}
}

// currencySigns are the codes of signs that mean one currency.
var currencySigns = map[string]string{"$": "USD", "us$": "USD", "€": "EUR", "£": "GBP", "dollars": "USD", "us dollars": "USD", "euro": "EUR", "euros": "EUR", "pounds": "GBP"}

// currencyCode is a currency's code in capital letters.
func (l *line) currencyCode(t cell.Text) cell.Text {
	if c, ok := currencySigns[strings.ToLower(t.V)]; ok {
		t.V = c
		return t
	}
	t.V = strings.ToUpper(t.V)
	if len(t.V) == 3 && strings.Trim(t.V, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == "" {
		return t
	}
	l.add(problem.Problem{
		Severity: problem.Error, Code: problem.MissingField, Say: "choice", At: t.At,
		Args: []any{"setting", string(book.Currency), "read", t.Raw, "known", "USD, EUR, GBP, CAD ..."},
	})
	return cell.Text{V: "USD", Raw: t.Raw, At: t.At, State: cell.Assumed}
}

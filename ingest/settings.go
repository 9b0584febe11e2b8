package ingest

import (
	"math"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// settings reads names and values. A setting's name is the words before a
// parenthesis.
func (r *reader) settings(b *block) {
	r.each(b, func(l *line) {
		name := l.name("name")
		if l.out {
			return
		}
		short, _, _ := strings.Cut(name.V, "(")
		def, ok := findSetting(short)
		if !ok {
			l.add(problem.Problem{Severity: problem.Note, Code: problem.UnreadSheet, Say: "setting", At: name.At, Args: []any{"name", name.V}})
			return
		}
		l.setting(def)
	})
}

// findSetting is a setting by its name, whatever the signs in it.
func findSetting(name string) (book.Def, bool) {
	for _, d := range book.Defs {
		if normal(string(d.Name)) == normal(name) {
			return d, true
		}
	}
	return book.Def{}, false
}

func (l *line) setting(d book.Def) {
	c, at, col := l.at("value")
	if parse.Blank(c) {
		return
	}
	s := &l.book.Settings
	text := l.settingText(c, at)
	switch d.Kind {
	case book.KText, book.KWeekdays:
		s.SetText(d.Name, text)
		return
	case book.KPercent:
		s.SetNum(d.Name, l.percent("value", parse.PercentRule{Suspect: d.Suspect}))
	case book.KMoney:
		s.SetNum(d.Name, moneyNum(l.money("value")))
	case book.KMinutes:
		n, _ := l.measure("value", "", unit.Time, unit.Time)
		s.SetNum(d.Name, n)
	case book.KMass:
		n, _ := l.measure("value", "", unit.Mass, unit.Mass)
		s.SetNum(d.Name, n)
	case book.KDensity:
		s.SetNum(d.Name, l.density("value"))
	case book.KEnding:
		x := parse.NumberIn(c, col.style)
		l.found(x.Finding, at)
		n := x.Num(at)
		n.V -= math.Floor(n.V)
		n.V = math.Round(n.V*1e6) / 1e6
		s.SetNum(d.Name, n)
	default:
		s.SetNum(d.Name, l.number("value", "days", "day", "hours", "h", "units", "drops", "jars"))
	}
	s.SetText(d.Name, text)
}

func (l *line) settingText(c grid.Cell, at cell.Ref) cell.Text {
	s, f := parse.Text(c)
	if c.Kind != grid.Text {
		s, f = c.Raw, parse.Finding{}
	}
	l.found(f, at)
	return cell.Text{V: strings.TrimSpace(s), Raw: c.Raw, At: at, State: cell.Typed}
}

func moneyNum(m book.Money) cell.Num {
	return cell.Num{V: m.V.Float64(), Raw: m.Raw, At: m.At, State: m.State}
}

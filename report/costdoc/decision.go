package costdoc

import (
	"sort"
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
	"pourbook/templates"
)

// Decision is a thing that needs one, with what it is worth per month.
type Decision struct {
	Title  string
	Text   string
	Amount string
}

const decisionsShown = 3

func (m *maker) decisions() ([]Decision, string) {
	var out []Decision
	for _, d := range m.r.Decisions[:min(len(m.r.Decisions), decisionsShown)] {
		out = append(out, m.decision(d))
	}
	if len(out) == 0 {
		return nil, text("cost.decisions.none")
	}
	return out, ""
}

func (m *maker) decision(d cost.Decision) Decision {
	key := "decision." + d.Code
	if !templates.Has(key) {
		key = "decision.other"
	}
	args := []any{"subject", m.subject(d.Subject), "amount", m.money.Amount(d.Amount), "period", m.period}
	names := make([]string, 0, len(d.Detail))
	for name := range d.Detail {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		args = append(args, name, m.detail(name, d.Detail[name]))
	}
	return Decision{Title: text(key, args...), Text: because(key, d.Detail, args), Amount: m.money.Amount(d.Amount)}
}

// because is why; a share of nothing, and a price that is the same, have words of
// their own.
func because(key string, detail map[string]*calc.Figure, args []any) string {
	if v, ok := detail["share"].Value(); ok && v <= 0 && templates.Has(key+".why.loss") {
		return text(key+".why.loss", args...)
	}
	if v, ok := detail["price"].Value(); ok && v == 0 && templates.Has(key+".why.same") {
		return text(key+".why.same", args...)
	}
	if !templates.Has(key + ".why") {
		return ""
	}
	return text(key+".why", args...)
}

// detail shows a further figure of a decision by what its name says it is.
func (m *maker) detail(name string, f *calc.Figure) string {
	switch {
	case hasAny(name, "margin", "rate", "share", "percent", "target", "change", "moved"):
		return show.Percent(f, 1)
	case hasAny(name, "units", "count"):
		return show.Units(f)
	case hasAny(name, "ratio"):
		return show.Ratio(f)
	}
	return m.money.Amount(f)
}

func hasAny(s string, parts ...string) bool {
	for _, p := range parts {
		if strings.Contains(s, p) {
			return true
		}
	}
	return false
}

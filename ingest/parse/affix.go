package parse

import (
	"strings"

	"pourbook/compute/money"
)

// mark is a number with what stood around it.
type mark struct {
	amount   money.Amount
	currency string
	percent  bool
	unclear  bool // read by the currency's custom
	backward bool // the minus stood behind
}

// peeler takes signs, currencies and the percent sign off a number's ends.
type peeler struct {
	s      string
	mark   mark
	signed bool
	neg    bool
}

func readNumber(t string, st Style) (mark, bool) {
	p := peeler{s: dashForNothing(t)}
	for p.peel() {
	}
	a, unclear, ok := magnitude(p.s, st)
	if !ok {
		return mark{}, false
	}
	if p.neg {
		a = a.Neg()
	}
	p.mark.amount, p.mark.unclear = a, unclear
	return p.mark, true
}

// peel takes one thing off, and reports whether there was one.
func (p *peeler) peel() bool {
	p.s = strings.TrimSpace(p.s)
	if p.s == "" {
		return false
	}
	return p.sign() || p.percentSign() || p.money()
}

func (p *peeler) sign() bool {
	n := len(p.s)
	switch {
	case p.signed:
		return false
	case p.s[0] == '(' && p.s[n-1] == ')' && n > 2:
		p.s, p.neg = p.s[1:n-1], true
	case p.s[0] == '-' || p.s[0] == '+':
		p.neg, p.s = p.s[0] == '-', p.s[1:]
	case p.s[n-1] == '-' && n > 1:
		p.s, p.neg, p.mark.backward = p.s[:n-1], true, true
	default:
		return false
	}
	p.signed = true
	return true
}

func (p *peeler) percentSign() bool {
	cut, ok := strings.CutSuffix(p.s, "%")
	if !ok || p.mark.percent {
		return false
	}
	p.s, p.mark.percent = cut, true
	return true
}

func (p *peeler) money() bool {
	if p.mark.currency != "" {
		return false
	}
	if name, rest, ok := frontCurrency(p.s); ok {
		p.mark.currency, p.s = name, rest
		return true
	}
	if name, rest, ok := backCurrency(p.s); ok {
		p.mark.currency, p.s = name, rest
		return true
	}
	return false
}

// magnitude reads a number without sign.
func magnitude(s string, st Style) (a money.Amount, unclear, ok bool) {
	if a, ok := fraction(s); ok {
		return a, false, true
	}
	if a, ok := exponent(s, st); ok {
		return a, false, true
	}
	g := group(s)
	if !g.ok {
		return money.Amount{}, false, false
	}
	text := g.plain
	if g.unclear && g.sep != st.decimal() {
		text = g.joined
	}
	a, ok = plainDecimal(text)
	return a, g.unclear && !st.Known, ok
}

// dashForNothing writes "12.-" and "12,-", prices without cents, as "12".
func dashForNothing(t string) string {
	for _, dash := range []string{".-", ",-"} {
		if i := strings.Index(t, dash); i > 0 && isDigit(t[i-1]) {
			return t[:i] + t[i+len(dash):]
		}
	}
	return t
}

package parse

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/grid"
)

// Units is what stands beside a cell: the row's unit cell and the unit of the
// heading, either "" for none. The cell's own unit wins over the heading's; one
// that differs from the row's unit cell is an error.
type Units struct{ Column, Heading string }

// Quantity is an amount with its unit. V and A are the number in Unit (1.25 for
// "1 lb 4 oz"), Base the same in base units of Unit.Dim. Where a recipe unit
// stood ("6 drops/lb", "8 %"), Rate is set and V is the number as recipes count
// it. With neither, the number is bare: pieces or packs, or an error, as the
// field demands. "2 x 16 oz" has Packs 2 and the size of one.
type Quantity struct {
	Result
	Unit     unit.Unit
	Rate     *unit.Rate
	Base     float64
	Packs    float64
	HasPacks bool
}

// Bare reports whether no unit stood anywhere.
func (q Quantity) Bare() bool { return q.Unit.Dim == unit.None && q.Rate == nil }

// Suspect checks a recipe's amount whose unit cell says %: a number that was
// probably meant as a fraction is a finding, unless the cell itself says %.
func (q Quantity) Suspect(rule PercentRule) Finding {
	if !q.OK() || q.Percent || q.Rate == nil || !strings.HasPrefix(q.Rate.Name, "%") || q.V <= 0 || q.V >= rule.Suspect {
		return Finding{}
	}
	return bad(problem.PercentFraction, "", q.Raw, "percent", perHundred(q.A).String())
}

// QuantityIn reads a cell such as 16 beside a unit, "16oz", "1 lb 4 oz", "8 %",
// "6 drops/lb", "2 x 16 oz".
func QuantityIn(c grid.Cell, st Style, u Units) Quantity {
	var q Quantity
	var done bool
	if q.Result, done = numberKind(c); !done {
		q = readQuantity(c.Raw, st)
	}
	if !q.OK() {
		return q
	}
	if c.Kind == grid.Number && q.Percent {
		q.V, q.A = q.PerHundred(), perHundred(q.A)
		q.setRate("%")
	}
	if q.Result.Currency != "" {
		q.Finding = bad(problem.BadNumber, "money", c.Raw)
		return q
	}
	q.complete(c.Raw, u)
	return q
}

// complete gives a bare number the unit of its row or heading.
func (q *Quantity) complete(raw string, u Units) {
	column, heading := tidy(u.Column), tidy(u.Heading)
	if !q.Bare() {
		switch {
		case column == "":
		case q.perOf(column):
		case !q.agrees(column):
			q.Finding = bad(problem.BadUnit, "two", raw, "unit", short(column))
		case q.Rate != nil && q.Rate.Name == "%":
			q.setRate(column) // "8 %" beside "% of blend"
		}
		return
	}
	if column == "" {
		column = heading
	}
	if column != "" && !q.setUnit(column) {
		q.Finding = UnknownUnit(raw, column, unit.Names())
	}
}

// perOf makes "1 oz" beside "per lb" 1 oz/lb.
func (q *Quantity) perOf(column string) bool {
	per, ok := strings.CutPrefix(strings.ToLower(column), "per ")
	if !ok {
		per, ok = strings.CutPrefix(column, "/")
	}
	if !ok || q.Rate != nil || !q.setRate(q.Unit.Name+"/"+strings.TrimSpace(per)) {
		return false
	}
	q.Unit, q.Base = unit.Unit{}, 0
	return true
}

// agrees reports whether a unit beside the cell is the cell's own.
func (q *Quantity) agrees(column string) bool {
	if q.Rate != nil {
		r, ok := unit.FindRate(column)
		return ok && (r == *q.Rate || q.Rate.Name == "%" && strings.HasPrefix(r.Name, "%"))
	}
	u, ok := unit.Find(column)
	return ok && u == q.Unit
}

func (q *Quantity) setUnit(s string) bool {
	if u, ok := unit.Find(s); ok {
		q.Unit, q.Base = u, q.V*u.Size
		return true
	}
	return q.setRate(s)
}

func (q *Quantity) setRate(s string) bool {
	r, ok := unit.FindRate(s)
	if ok {
		q.Rate = &r
	}
	return ok
}

func readQuantity(raw string, st Style) Quantity {
	t := tidy(raw)
	count, rest, packs := cutPacks(t)
	if !packs {
		return readSize(raw, t, st)
	}
	n := Number(count, st)
	q := Quantity{Result: n}
	if rest != "" {
		q = readSize(raw, rest, st)
	}
	q.Raw = strings.TrimSpace(raw)
	if n.Finding.Bad() || n.Blank {
		q.Finding = bad(problem.BadNumber, "", raw)
	}
	q.Packs, q.HasPacks = n.V, true
	return q
}

// cutPacks takes the number of packs off "2 x 16 oz", "2 packs of 16 oz",
// "16 oz x 2" and "2 packs".
func cutPacks(t string) (count, size string, ok bool) {
	low := strings.ToLower(t)
	for _, word := range []string{"packs of ", "pack of ", "x", "*"} {
		i := strings.Index(low, word)
		if i <= 0 || i+len(word) == len(low) {
			continue
		}
		a, b := strings.TrimSpace(t[:i]), strings.TrimSpace(t[i+len(word):])
		switch {
		case digitsOnly(a):
			return a, b, true
		case len(word) == 1 && digitsOnly(b):
			return b, a, true
		}
	}
	for _, word := range []string{"packs", "pack", "pks", "pk"} {
		if cut, found := strings.CutSuffix(low, word); found && digitsOnly(strings.TrimSpace(cut)) {
			return strings.TrimSpace(cut), "", true
		}
	}
	return "", "", false
}

func digitsOnly(s string) bool {
	return s != "" && strings.Trim(s, "0123456789.,") == "" && isDigit(s[0])
}

// readSize reads one or more numbers with their units.
func readSize(raw, t string, st Style) Quantity {
	inner, open := strings.CutPrefix(t, "(")
	inner, neg := strings.CutSuffix(inner, ")")
	if neg = neg && open; !neg {
		inner = t
	}
	number, rest := cutNumber(inner)
	if rest == "" || number == "" {
		number, rest = t, ""
	}
	q := Quantity{Result: Number(number, st)}
	q.Raw = strings.TrimSpace(raw)
	if rest == "" {
		return q
	}
	if q.Finding.Bad() {
		q.Finding = bad(problem.BadNumber, "", raw)
		return q
	}
	if !q.units(raw, rest, st) || !neg {
		return q
	}
	q.V, q.A, q.Base = -q.V, q.A.Neg(), -q.Base
	return q
}

// units reads the unit after the first number, and further numbers with units
// such as the ounces of "1 lb 4 oz".
func (q *Quantity) units(raw, rest string, st Style) bool {
	if strings.ContainsAny(rest, "/%") || strings.Contains(strings.ToLower(rest), "per") {
		q.Percent = strings.Contains(rest, "%")
		if !q.setRate(rest) {
			q.Finding = UnknownUnit(raw, rest, unit.RateNames())
		}
		return q.Finding.None()
	}
	name, more := cutUnit(rest)
	if !q.setUnit(name) {
		q.Finding = unknownOrLetter(raw, name, st)
		return false
	}
	return more == "" || q.add(raw, more, st)
}

// add reads what follows the first unit; it must measure the same and be smaller.
func (q *Quantity) add(raw, more string, st Style) bool {
	for size := q.Unit.Size; more != ""; {
		number, rest := cutNumber(strings.TrimLeft(more, " ,&+"))
		name, after := cutUnit(rest)
		n := Number(number, st)
		u, ok := unit.Find(name)
		if !ok || !n.OK() || n.V < 0 || u.Dim != q.Unit.Dim || u.Size >= size {
			q.Finding = bad(problem.BadNumber, "", raw)
			return false
		}
		if q.V < 0 {
			n.V = -n.V
		}
		q.Base += n.V * u.Size
		size, more = u.Size, after
	}
	q.V = q.Base / q.Unit.Size
	q.A = money.Float(q.V)
	return true
}

func unknownOrLetter(raw, name string, st Style) Finding {
	if strings.ContainsRune("OolI", rune(name[0])) && strings.ContainsAny(raw, "0123456789") {
		meant := digitsFor(tidy(raw))
		if q := readUnit(meant, st); q.OK() && !q.Bare() {
			return bad(problem.BadNumber, "letter", raw, "meant", meant)
		}
		number, _ := cutNumber(tidy(raw))
		if f := notNumber(raw, number+name, st); f.Say == "letter" {
			return f
		}
	}
	return UnknownUnit(raw, name, unit.Names())
}

// readUnit reads a single number with its unit, for a guess at what was meant.
func readUnit(t string, st Style) Quantity {
	number, rest := cutNumber(t)
	q := Quantity{Result: Number(number, st)}
	if q.OK() {
		q.setUnit(rest)
	}
	return q
}

// cutNumber parts a text before its first letter, percent or number sign; a
// hyphen between number and unit ("10-lb") goes.
func cutNumber(t string) (number, rest string) {
	i := strings.IndexFunc(t, func(r rune) bool {
		return unicode.IsLetter(r) || r == '%' || r == '#' || r == '"'
	})
	if i < 0 {
		return t, ""
	}
	if j := strings.IndexAny(t[:i], "$€£"); j >= 0 {
		return t, ""
	}
	number, rest = strings.TrimSpace(t[:i]), t[i:]
	if len(number) > 1 {
		number = strings.TrimSpace(strings.TrimSuffix(number, "-"))
	}
	return number, rest
}

// cutUnit parts a text before its first digit.
func cutUnit(s string) (name, more string) {
	i := strings.IndexFunc(s, func(r rune) bool {
		return r < utf8.RuneSelf && isDigit(byte(r)) || vulgar[r][1] > 0
	})
	if i < 0 {
		i = len(s)
	}
	name = strings.Trim(s[:i], " ,&+")
	if cut, ok := strings.CutSuffix(strings.ToLower(name), " and"); ok {
		name = name[:len(cut)]
	}
	return name, s[i:]
}

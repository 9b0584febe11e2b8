package unitcost

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
)

type minutesKey struct {
	key
	own *calc.Figure
}

// UsualBatch is how many units of m one pitcher fills.
func (e *Engine) UsualBatch(m Make) *calc.Figure {
	c, _ := e.Content(m)
	full := calc.Floor(calc.Div(calc.Mul(e.Setting(book.Pitcher), e.filled), c.Fill))
	return calc.Max(calc.Const(1), full).Named("labor.usual-batch", m.Label)
}

// labor is that of one good unit, the same in every month.
type labor struct{ minutes, hours, cost *calc.Figure }

// LaborMinutes is the labor of one good unit of m.
func (e *Engine) LaborMinutes(m Make) *calc.Figure { return e.labor(m).minutes }

func (e *Engine) labor(m Make) labor {
	k := minutesKey{m.key(), m.Minutes}
	l, ok := e.labors[k]
	if !ok {
		l.minutes = e.laborMinutes(m)
		l.hours = calc.Div(l.minutes, calc.Const(60))
		l.cost = calc.Mul(l.hours, e.Setting(book.LaborRate)).Named("cost.labor", m.Label)
		e.labors[k] = l
	}
	return l
}

func (e *Engine) laborMinutes(m Make) *calc.Figure {
	defer fault.In(m.at(), m.Label)
	unit := m.Minutes
	if unit == nil {
		unit = e.Setting(book.UnitMinutes)
	}
	batch := e.Setting(book.BatchMinutes)
	if m.Finish == book.Colored {
		batch = calc.Add(batch, e.Setting(book.ColoredMinutes))
	}
	all := calc.Add(unit, calc.Div(batch, e.UsualBatch(m)))
	return calc.Div(all, e.good).Named("labor.minutes", m.Label)
}

// Overhead is the sum of the overheads in force in a month, in currency: those
// with any day of it between their from and to, else the setting.
func (e *Engine) Overhead(month day.Month) *calc.Figure {
	since := e.changes.since(month)
	f, ok := e.overheads[since]
	if !ok {
		f = asOf(e.inForce(month), since, "overhead.month")
		e.overheads[since] = f
	}
	return f
}

func (e *Engine) inForce(month day.Month) *calc.Figure {
	if len(e.Book.Overheads) == 0 {
		return e.Setting(book.OverheadMonth)
	}
	var sum []*calc.Figure
	for _, o := range e.Book.Overheads {
		if o.From.OK() && o.From.V > month.Last() || o.To.OK() && o.To.V < month.First() {
			continue
		}
		for _, d := range []book.Date{o.From, o.To} {
			if d.State == cell.Bad {
				return e.in(cell.Num{Raw: d.Raw, At: d.At, State: cell.Bad}, "overhead.amount", o.Name.V)
			}
		}
		sum = append(sum, e.in(number(o.Amount), "overhead.amount", o.Name.V))
	}
	return calc.Add(sum...)
}

// Overheads is the sum of the overheads of the calendar months that a span of
// days touches.
func (e *Engine) Overheads(from, to day.Date) *calc.Figure {
	var sum []*calc.Figure
	for m := from.Month(); m <= to.Month(); m++ {
		sum = append(sum, e.Overhead(m))
	}
	return calc.Add(sum...).Named("overhead.period", from.String(), to.String())
}

// OverheadRate is a month's overhead per hour of labor.
func (e *Engine) OverheadRate(month day.Month) *calc.Figure {
	since := e.changes.since(month)
	f, ok := e.rates[since]
	if !ok {
		hours := e.Setting(book.ProductiveHours)
		if v, known := hours.Value(); known && v <= 0 {
			at := hours.From().At
			e.raise(problem.Problem{Severity: problem.Error, Code: problem.BadNumber, Say: "productive-hours", At: at}, "")
		}
		f = asOf(calc.Div(e.Overhead(month), hours), since, "overhead.rate")
		e.rates[since] = f
	}
	return f
}

package check

import (
	"cmp"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

// dated is n rows of one day, the first of them in the book at a place.
type dated struct {
	day day.Date
	n   int
	at  cell.Ref
}

// far is the few days at either end that a gap of more than farYears parts from
// the others: a typed 2016 among the dates of 2025 and 2026, but not the first
// years of a book that was kept ever since.
func far(all []dated) []dated {
	slices.SortStableFunc(all, func(a, b dated) int { return cmp.Compare(a.day, b.day) })
	rows := 0
	for _, d := range all {
		rows += d.n
	}
	most := max(1, int(float64(rows)*strays))
	if rows < fewest {
		return nil
	}
	apart := func(i int) bool { return all[i].day > all[i-1].day.AddMonths(12*farYears) }
	lo, hi := 0, len(all)
	for i, n := 1, 0; i < len(all); i++ {
		if n += all[i-1].n; n > most {
			break
		}
		if apart(i) {
			lo = i
		}
	}
	for i, n := len(all)-1, 0; i > lo; i-- {
		if n += all[i].n; n > most {
			break
		}
		if apart(i) {
			hi = i
		}
	}
	return slices.Concat(all[:lo], all[hi:])
}

// dates warns of dates far away from the others of their table. Rows dated
// after the last day are of no account; a market may lie ahead.
func (u *unusual) dates() {
	all := map[book.TableName][]dated{}
	for _, d := range u.lines.days {
		all[book.TSales] = append(all[book.TSales], dated{d.day, d.n, u.lines.place(d.first)})
	}
	add := func(t book.TableName, d day.Date, at cell.Ref) {
		if d <= u.upTo || t == book.TMarkets {
			all[t] = append(all[t], dated{d, 1, at})
		}
	}
	for _, p := range u.book.Purchases {
		add(book.TPurchases, p.Day, p.At)
	}
	for _, p := range u.book.Pours {
		add(book.TPours, p.Day, p.At)
	}
	for _, c := range u.book.Counts {
		add(book.TStockCounts, c.Day, c.At)
	}
	for _, m := range u.book.Markets {
		add(book.TMarkets, m.Day, m.At)
	}
	for _, t := range u.book.Burns {
		add(book.TBurnTests, t.Day, t.Wick.At)
	}
	for _, t := range book.TableNames {
		var odd []finding
		for _, d := range far(all[t]) {
			f := warning(problem.BadDate, "far", u.place(t, d.at, "date"), "table", string(t), "day", d.day.String(), "years", farYears)
			f.n = d.n
			odd = append(odd, f)
		}
		u.say(odd)
	}
}

package sales

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
)

// MarketOf is the index of the Markets row that a line belongs to: of its
// market's name the row whose days hold the line's date, else the one with the
// nearest date; -1 without a market, or for a name that is not in Markets.
func (l *Ledger) MarketOf(x *Line) int {
	if l.markets == nil {
		l.findMarkets()
	}
	best, far := -1, day.Date(0)
	for _, i := range l.markets[x.Market] {
		first, last := span(l.Book.Markets[i])
		off := max(x.Day-first, first-x.Day)
		if x.Day >= first && x.Day <= last {
			off = 0
		}
		if best < 0 || off < far {
			best, far = i, off
		}
	}
	return best
}

func span(m *book.Market) (first, last day.Date) {
	days := 1
	if m.Days.OK() && m.Days.V >= 1 {
		days = int(m.Days.V)
	}
	return m.Day, m.Day + day.Date(days-1)
}

func (l *Ledger) findMarkets() {
	l.markets = make([][]int, l.Book.SaleMarkets.Len())
	byName := map[string][]int{}
	for i, m := range l.Book.Markets {
		name := cell.Fold(m.Name.V)
		byName[name] = append(byName[name], i)
	}
	for i, name := range l.Book.SaleMarkets.All() {
		if name != "" {
			rows := byName[cell.Fold(name)]
			slices.SortStableFunc(rows, func(a, b int) int { return int(l.Book.Markets[a].Day - l.Book.Markets[b].Day) })
			l.markets[i] = rows
		}
	}
}

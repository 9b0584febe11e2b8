package sales

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

// Season is a season of a year: Row is its row of the Seasons, -1 for a day in
// no season; Year the year it starts in.
type Season struct {
	Row  int16
	Year int16
}

// Seasons are the seasons of a book, or the four of the calendar.
type Seasons struct {
	rows     []book.Season
	table    [1300]int16 // month x 100 + day to row, -1 for none
	problems problem.List
}

// calendar is what stands in where the book has no Seasons.
var calendar = []book.Season{
	{Name: cell.Default("Winter"), From: 1201, To: 228}, {Name: cell.Default("Spring"), From: 301, To: 531},
	{Name: cell.Default("Summer"), From: 601, To: 831}, {Name: cell.Default("Autumn"), From: 901, To: 1130},
}

func newSeasons(b *book.Book) Seasons {
	s := Seasons{rows: b.Seasons}
	if len(b.Seasons) == 0 {
		s.rows = calendar
	}
	overlap := map[[2]int16]bool{}
	for md := range s.table {
		s.table[md] = -1
		for i, row := range s.rows {
			if !holds(row, day.MonthDay(md)) || !real(md) {
				continue
			}
			if first := s.table[md]; first >= 0 {
				s.overlaps(first, int16(i), overlap)
				continue
			}
			s.table[md] = int16(i)
		}
	}
	return s
}

// real reports whether month x 100 + day is a day of some year.
func real(md int) bool {
	return md/100 >= 1 && md/100 <= 12 && day.Of(2024, md/100, md%100).MD() == day.MonthDay(md)
}

// holds reports whether a season holds a day of the year; one that ends on
// 02-28 holds 02-29 too.
func holds(x book.Season, md day.MonthDay) bool {
	to := x.To
	if to == 228 {
		to = 229
	}
	if x.From <= x.To {
		return md >= x.From && md <= to
	}
	return md >= x.From || md <= to
}

func (s *Seasons) overlaps(first, second int16, said map[[2]int16]bool) {
	if said[[2]int16{first, second}] {
		return
	}
	said[[2]int16{first, second}] = true
	a, b := s.rows[first], s.rows[second]
	s.problems.Add(problem.Problem{
		Severity: problem.Warning, Code: problem.SeasonOverlap, At: b.Name.At, Other: a.Name.At,
		Args: []any{"season", b.Name.V, "first", a.Name.V},
	})
}

// Of is the season of a day. A season that runs over new year belongs to the
// year it starts in; a day in no season has Row -1 and its own year.
func (s *Seasons) Of(d day.Date) Season {
	y, _, _ := d.YMD()
	row := s.table[d.MD()]
	if row >= 0 {
		if x := s.rows[row]; x.From > x.To && d.MD() < x.From {
			y--
		}
	}
	return Season{row, int16(y)}
}

// Name is the season's name; "" for a day in no season.
func (s *Seasons) Name(x Season) string {
	if x.Row < 0 {
		return ""
	}
	return s.rows[x.Row].Name.V
}

// Compare orders seasons by their first day; days in no season come after the
// seasons of their year.
func (s *Seasons) Compare(a, b Season) int {
	if a.Year != b.Year {
		return int(a.Year) - int(b.Year)
	}
	if (a.Row < 0) != (b.Row < 0) {
		if a.Row < 0 {
			return 1
		}
		return -1
	}
	if a.Row < 0 {
		return 0
	}
	return int(s.rows[a.Row].From) - int(s.rows[b.Row].From)
}

// All is the seasons' rows.
func (s *Seasons) All() []book.Season { return s.rows }

// gaps raises one problem for the days with sales that lie in no season.
func (l *Ledger) gaps() {
	i := slices.IndexFunc(l.Lines, func(x Line) bool { return x.Season.Row < 0 })
	if i < 0 {
		return
	}
	n := 0
	for j := range l.Lines {
		if l.Lines[j].Season.Row < 0 {
			n++
		}
	}
	x := &l.Lines[i]
	l.Problems.Add(problem.Problem{
		Severity: problem.Warning, Code: problem.SeasonGap, At: l.place(x.Sale),
		Args: []any{"day", x.Sale.Day.String(), "n", n},
	})
}

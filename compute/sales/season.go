package sales

import (
	"cmp"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

// Season is a season of a year: Row is the first row of its name in Seasons, -1
// for a day in no season; Year the year it starts in.
type Season struct {
	Row  int16
	Year int16
}

// Seasons are the seasons of a book, or the four of the calendar.
type Seasons struct {
	rows     []book.Season
	table    [1300]int16 // month x 100 + day to row, -1 for none
	named    []int16     // row to the first row of its name
	problems problem.List
}

// Assumed reports whether the book has no Seasons, and those of the calendar
// stand in.
func (s *Seasons) Assumed() bool { return len(s.rows) > 0 && s.rows[0].Name.State == cell.Assumed }

// calendar is what stands in where the book has no Seasons.
var calendar = []book.Season{
	{Name: cell.Default("Winter"), From: 1201, To: 228},
	{Name: cell.Default("Spring"), From: 301, To: 531},
	{Name: cell.Default("Summer"), From: 601, To: 831},
	{Name: cell.Default("Autumn"), From: 901, To: 1130},
}

func newSeasons(b *book.Book) Seasons {
	s := Seasons{rows: b.Seasons}
	if len(b.Seasons) == 0 {
		s.rows = calendar
	}
	s.named = make([]int16, len(s.rows))
	first := map[string]int16{}
	for i, row := range s.rows {
		name := cell.Fold(row.Name.V)
		if _, ok := first[name]; !ok {
			first[name] = int16(i)
		}
		s.named[i] = first[name]
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
	if row < 0 {
		return Season{-1, int16(y)}
	}
	if x := s.rows[row]; x.From > x.To && d.MD() < x.From {
		y--
	}
	return Season{s.named[row], int16(y)}
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
	return cmp.Or(cmp.Compare(s.rows[a.Row].From, s.rows[b.Row].From), cmp.Compare(a.Row, b.Row))
}

// All is the seasons' rows.
func (s *Seasons) All() []book.Season { return s.rows }

// days are the days of a leap year in order.
func days() []day.MonthDay {
	out := make([]day.MonthDay, 0, 366)
	for d := day.Of(2024, 1, 1); d <= day.Of(2024, 12, 31); d++ {
		out = append(out, d.MD())
	}
	return out
}

// gap is a stretch of days in no season; it may run over new year.
type gap struct{ from, to day.MonthDay }

// open are the stretches of the year that lie in no season.
func (s *Seasons) open() []gap {
	var out []gap
	year := days()
	for i, md := range year {
		switch {
		case s.table[md] >= 0:
		case i > 0 && s.table[year[i-1]] < 0:
			out[len(out)-1].to = md
		default:
			out = append(out, gap{md, md})
		}
	}
	if n := len(out); n > 1 && out[0].from == 101 && out[n-1].to == 1231 {
		out[0].from = out[n-1].from
		out = out[:n-1]
	}
	return out
}

func (g gap) holds(md day.MonthDay) bool {
	return holds(book.Season{From: g.from, To: g.to}, md)
}

// gaps are the stretches of the year that lie in no season, and their lines.
type gaps struct {
	*Ledger
	open  []gap
	lines []int
	at    []cell.Ref // the first line
}

func newGaps(l *Ledger) *gaps {
	open := l.Seasons.open()
	return &gaps{l, open, make([]int, len(open)), make([]cell.Ref, len(open))}
}

func (g *gaps) add(x *Line) {
	i := slices.IndexFunc(g.open, func(o gap) bool { return o.holds(x.Day.MD()) })
	if g.lines[i] == 0 {
		g.at[i] = g.Place(x)
	}
	g.lines[i]++
}

// say says which stretches lie in no season, and how many lines do.
func (g *gaps) say() {
	for i, o := range g.open {
		p := problem.Problem{
			Severity: problem.Warning, Code: problem.SeasonGap, At: g.Seasons.rows[0].Name.At, Other: g.at[i],
			Args: []any{"from", o.from.String(), "to", o.to.String(), "n", g.lines[i]},
		}
		if g.lines[i] > 0 {
			p.Say = "lines"
		}
		g.Problems.Add(p)
	}
}

package sales

import (
	"fmt"
	"slices"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

func year(rows ...book.Season) *book.Book {
	b := shop()
	b.Seasons = rows
	return b
}

func season(name string, from, to day.MonthDay) book.Season {
	return book.Season{Name: text(name), From: from, To: to}
}

func TestSeasonOfADay(t *testing.T) {
	four := newSeasons(shop())
	own := newSeasons(year(season("Sun", 501, 228), season("Dark", 301, 430)))
	for _, x := range []struct {
		seasons *Seasons
		day     string
		want    string
	}{
		{&four, "2026-11-30", "Autumn 2026"},
		{&four, "2026-12-01", "Winter 2026"},
		{&four, "2027-01-01", "Winter 2026"},
		{&four, "2027-02-28", "Winter 2026"},
		{&four, "2028-02-29", "Winter 2027"},
		{&four, "2027-03-01", "Spring 2027"},
		{&four, "2027-05-31", "Spring 2027"},
		{&four, "2027-08-31", "Summer 2027"},
		{&own, "2026-05-01", "Sun 2026"},
		{&own, "2028-02-29", "Sun 2027"},
		{&own, "2027-03-01", "Dark 2027"},
	} {
		s := x.seasons.Of(on(x.day))
		if got := fmt.Sprint(x.seasons.Name(s), " ", s.Year); got != x.want {
			t.Errorf("%s is in %s, want %s", x.day, got, x.want)
		}
	}
	if !four.Assumed() || own.Assumed() {
		t.Error("whether the seasons were assumed")
	}
}

// Every day of the calendar's year has a season, and a season its year.
func TestCalendarHasNoGap(t *testing.T) {
	l := october(t, shop())
	if n := len(l.Problems.Sorted()); n != 0 {
		t.Errorf("%d problems", n)
	}
	for d := on("2023-12-01"); d < on("2028-12-01"); d++ {
		s := l.Seasons.Of(d)
		if y, _, _ := (d - 75).YMD(); s.Row < 0 || s.Year != int16(y) && l.Seasons.Name(s) == "Winter" {
			t.Fatalf("%v is in %v", d, s)
		}
	}
}

func TestGapsInTheYear(t *testing.T) {
	b := year(season("Warm", 401, 831), season("Cold", 1015, 1214))
	for _, d := range []string{"2026-09-05", "2026-09-06", "2026-01-02", "2026-05-05"} {
		sold(b, 1, 20, blank, 0, none, 0)
		x := b.Sales.At(b.Sales.Len() - 1)
		x.Day = on(d)
		b.Sales.Set(b.Sales.Len()-1, x)
	}
	l := october(t, b)
	var got []string
	for _, p := range found(l, problem.SeasonGap) {
		got = append(got, fmt.Sprint(p.Say, p.Args, p.Other.Row))
	}
	slices.Sort(got)
	if want := []string{"lines[from 09-01 to 10-14 n 2] 2", "lines[from 12-15 to 03-31 n 1] 4"}; !slices.Equal(got, want) {
		t.Errorf("gaps %q, want %q", got, want)
	}
	if s := l.All().List()[0].Season; s.Row != -1 || s.Year != 2026 || l.Seasons.Name(s) != "" {
		t.Errorf("a day in a gap is in %v", s)
	}
}

func TestOverlapsGoToTheFirst(t *testing.T) {
	l := october(t, year(season("Year", 101, 1231), season("Gifts", 1115, 1224), season("Wrap", 1101, 228)))
	if s := l.Seasons.Of(on("2026-12-01")); l.Seasons.Name(s) != "Year" {
		t.Errorf("December is in %q", l.Seasons.Name(s))
	}
	var got []string
	for _, p := range found(l, problem.SeasonOverlap) {
		got = append(got, fmt.Sprint(p.Args))
	}
	slices.Sort(got)
	if want := []string{"[season Gifts first Year]", "[season Wrap first Year]"}; !slices.Equal(got, want) {
		t.Errorf("overlaps %q, want %q", got, want)
	}
}

// A name on two rows is one season.
func TestSeasonInTwoStretches(t *testing.T) {
	l := october(t, year(season("Gifts", 201, 214), season("Rest", 215, 1114), season("gifts", 1115, 131)))
	february, december, january := l.Seasons.Of(on("2026-02-10")), l.Seasons.Of(on("2026-12-20")), l.Seasons.Of(on("2027-01-20"))
	if february != december || december != january || l.Seasons.Name(january) != "Gifts" {
		t.Errorf("%v, %v, %v", february, december, january)
	}
}

func TestSeasonsByTheirFirstDay(t *testing.T) {
	l := october(t, shop())
	var all []Season
	for _, d := range []string{"2026-12-24", "2026-01-24", "2026-07-01", "2026-04-01", "2025-10-01"} {
		all = append(all, l.Seasons.Of(on(d)))
	}
	all = append(all, Season{-1, 2026}, Season{-1, 2025})
	slices.SortFunc(all, l.Seasons.Compare)
	var names []string
	for _, s := range all {
		names = append(names, fmt.Sprint(l.Seasons.Name(s), s.Year))
	}
	want := []string{"Autumn2025", "Winter2025", "2025", "Spring2026", "Summer2026", "Winter2026", "2026"}
	if !slices.Equal(names, want) {
		t.Errorf("%q, want %q", names, want)
	}
}

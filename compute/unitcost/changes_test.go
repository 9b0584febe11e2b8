package unitcost

import (
	"fmt"
	"slices"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
)

func TestACostIsOneBetweenChanges(t *testing.T) {
	for method, want := range map[Method]string{Latest: "abbbcdd", Average: "abbbcdd", FIFO: "abcdefg"} {
		s := newShelf(t, method)
		s.buy("2026-03-04", 40, 80, 0)
		s.buy("2026-03-20", 40, 60, 0)
		s.sell("2026-04-05", 10)
		s.book.Overheads = []book.Overhead{{
			Name: text("Rent"), Amount: paid(100),
			From: book.Date{V: on("2026-06-15"), State: cell.Typed}, To: book.Date{V: on("2026-06-20"), State: cell.Typed},
		}}
		costs := s.engine("2026-08-31").Costs(New(s.book, nil, 0).Of(s.of))
		var seen []*Cost
		got := ""
		for m := month("2026-02"); m <= month("2026-08"); m++ {
			c := costs.In(m)
			i := slices.Index(seen, c)
			if i < 0 {
				i, seen = len(seen), append(seen, c)
			}
			got += string(rune('a' + i))
		}
		if got != want {
			t.Errorf("%s: February to August cost %s, want %s", method, got, want)
		}
	}
}

func TestTheOrderOfMonthsDoesNotMatter(t *testing.T) {
	for _, method := range []Method{Latest, Average, FIFO} {
		b, upTo := crowd(t, method), on("2026-12-31")
		for i := range 12 {
			b.Overheads = append(b.Overheads, book.Overhead{
				Name: text(fmt.Sprint("Rent ", i)), Amount: paid(float64(10 + i)),
				From: book.Date{V: on("2024-02-10") + day.Date(61*i), State: cell.Typed}, To: book.Date{V: on("2024-04-30") + day.Date(83*i), State: cell.Typed},
			})
		}
		forward, back := New(b, monthly{12}, upTo), New(b, monthly{12}, upTo)
		for _, p := range b.Products[:1] {
			of := forward.Costs(forward.Of(p))
			for m := upTo.Month() + 1; m > upTo.Month()-37; m-- {
				back.Cost(back.Of(p), m)
			}
			for m := upTo.Month() - 37; m <= upTo.Month()+1; m++ {
				x := of.In(m).Total.Or(0)
				near(t, fmt.Sprint(method, " ", p.Code.V, " in ", m, ", asked for last month first"), back.Cost(back.Of(p), m).Total, x)
				near(t, fmt.Sprint(method, " ", p.Code.V, " in ", m, " alone"), New(b, monthly{12}, upTo).Cost(forward.Of(p), m).Total, x)
			}
		}
	}
}

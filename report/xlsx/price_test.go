package xlsx

import (
	"regexp"
	"strconv"
	"testing"

	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/oracle"
	"pourbook/compute/price"
	"pourbook/ingest/grid/gridtest"
)

func TestPriceWorkbookRecalculates(t *testing.T) {
	today := day.Of(2026, 11, 5)
	cases := 0
	for name, o := range map[string]price.Options{
		"a jar of the book": {Jar: "120 g jar?", Today: today},
		"a new jar": {
			Jar: "Bowl", Today: today, Fill: cell.Num{V: 300, State: cell.Typed},
			Parts: []price.Part{{Name: "jar", Cost: cell.Num{V: 4.1, State: cell.Typed}}},
		},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := price.Run(makeBook(shape{days: 120, purchases: true}), o)
			if err != nil {
				t.Fatal(err)
			}
			data, err := Price(r, "Shop")
			if err != nil {
				t.Fatal(err)
			}
			cases += checkRecalculated(t, data, gnumeric) + checkRecalculated(t, data, office)
		})
	}
	oracle.Cases(t, cases)
}

func TestRangeAndComparisonRecalculate(t *testing.T) {
	today := day.Of(2026, 11, 5)
	b := makeBook(shape{days: 120, purchases: true})
	r, err := price.Run(b, price.Options{All: true, Today: today})
	if err != nil {
		t.Fatal(err)
	}
	c, err := price.Compare(b, [2]string{"120 g jar?", "198.4 g jar?"}, price.Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	cases := 0
	for name, write := range map[string]func() ([]byte, error){
		"range":      func() ([]byte, error) { return PriceRange(r, "Shop") },
		"comparison": func() ([]byte, error) { return PriceCompare(c, "Shop") },
	} {
		t.Run(name, func(t *testing.T) {
			data, err := write()
			if err != nil {
				t.Fatal(err)
			}
			cases += checkRecalculated(t, data, gnumeric) + checkRecalculated(t, data, office)
		})
	}
	oracle.Cases(t, cases)
}

func TestRangeHasItsChart(t *testing.T) {
	r, err := price.Run(makeBook(shape{days: 120}), price.Options{Jar: "120 g jar?", Today: day.Of(2026, 11, 5)})
	if err != nil {
		t.Fatal(err)
	}
	data, err := Price(r, "Shop")
	if err != nil {
		t.Fatal(err)
	}
	rows, err := openBook(t, data).GetRows("Range")
	if err != nil {
		t.Fatal(err)
	}
	points := 0
	for _, m := range regexp.MustCompile(`<yVal><numRef><f>Range!\$D\$(\d+):\$D\$(\d+)<`).FindAllStringSubmatch(gridtest.Of(t, data).Text("xl/charts/chart1.xml"), -1) {
		from, to := atoi(t, m[1]), atoi(t, m[2])
		for _, row := range rows[from-1 : to] {
			if row[1] != rows[from-1][1] && row[0] != "120 g jar?" {
				t.Errorf("%q among %q", row, rows[from-1])
			}
		}
		points += to - from + 1
	}
	if points == 0 || points != len(rows)-3 {
		t.Errorf("%d of %d prices are drawn", points, len(rows)-3)
	}
}

func atoi(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

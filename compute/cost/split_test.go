package cost

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"pourbook/compute/book"
	"pourbook/compute/problem"
)

func TestWindowOf24Months(t *testing.T) {
	for to, from := range map[string]string{
		"2026-10-31": "2024-11-01", // a month's end, to a month's start
		"2026-10-15": "2024-10-16", // the day after the same day
		"2026-02-28": "2024-03-01", // although February 2024 had 29 days
		"2024-02-29": "2022-03-01",
		"2024-02-28": "2022-03-01", // no month's end: the day after 2022-02-28
		"2026-03-30": "2024-03-31",
	} {
		if got := windowFrom(on(to)); got != on(from) {
			t.Errorf("the 24 months up to %s begin %v, want %s", to, got, from)
		}
	}
}

// shelf is twoProducts in a second tin too (C2, N2), with single sales of the
// colored and natural units given by day and tin.
func shelf(t *testing.T, units map[string][4]int) *book.Book {
	b := twoProducts(t)
	tin := &book.Jar{Name: text("Tin 8"), Fill: num(252.5), Parts: b.Jars[0].Parts}
	b.Jars = append(b.Jars, tin)
	for _, p := range b.Products[:2] {
		q := *p
		q.Code, q.Jar = text(p.Code.V+"2"), tin
		b.Products = append(b.Products, &q)
	}
	for day, n := range units {
		for i, code := range []string{"C", "N", "C2", "N2"} {
			for range n[i] {
				sell(t, b, sale{day: day, product: code, qty: 1, price: at(20)})
			}
		}
	}
	return b
}

// With one unit an order the design effect is 1, and the statistic is Pearson's
// of the plain table.
func TestSeasonsAndJarsDiffer(t *testing.T) {
	r := costed(t, shelf(t, map[string][4]int{
		"2025-07-02": {20, 10, 10, 20}, // Summer 2025
		"2026-07-02": {30, 10, 10, 10}, // Summer 2026
		"2026-10-02": {10, 30, 10, 30}, // Autumn 2026
	}), monthOf("2026-10"))
	s := r.Split
	near(t, "effective size", s.Overall.NEff, 200)
	if len(s.BySeason) != 3 || len(s.ByJar) != 2 || len(s.BySeasonAndJar) != 6 {
		t.Fatalf("%d seasons, %d jars, %d of both", len(s.BySeason), len(s.ByJar), len(s.BySeasonAndJar))
	}
	// by name: Summer 70 : 50, Autumn 20 : 60, together 90 : 110
	x := 0.0
	for _, c := range [][3]float64{{70, 120, 90}, {50, 120, 110}, {20, 80, 90}, {60, 80, 110}} {
		e := c[1] * c[2] / 200
		x += (c[0] - e) * (c[0] - e) / e
	}
	near(t, "chi-square of seasons", s.SeasonTest.ChiSquare, x)
	near(t, "degrees of freedom", s.SeasonTest.DF, 1)
	near(t, "p of seasons", s.SeasonTest.P, math.Erfc(math.Sqrt(x/2))) // df 1: twice the normal tail
	// by jar: 60 : 50 and 30 : 60
	y := 0.0
	for _, c := range [][3]float64{{60, 110, 90}, {50, 110, 110}, {30, 90, 90}, {60, 90, 110}} {
		e := c[1] * c[2] / 200
		y += (c[0] - e) * (c[0] - e) / e
	}
	near(t, "chi-square of jars", s.JarTest.ChiSquare, y)
	near(t, "p of jars", s.JarTest.P, distuv.ChiSquared{K: 1}.Survival(y))
}

// Ten orders of four units of one kind are worth ten: the statistic is a
// quarter of that of forty single ones.
func TestOrdersAreNotIndependentUnits(t *testing.T) {
	b := shelf(t, nil)
	for i := range 10 {
		code, other := "C", "N2"
		if i < 4 {
			code, other = "N", "C2"
		}
		for j, c := range []string{code, other} {
			sell(t, b, sale{day: "2026-10-02", product: c, qty: 4, price: at(20), order: fmt.Sprint(i, j)})
		}
	}
	s := costed(t, b, monthOf("2026-10")).Split
	near(t, "effective size", s.Overall.NEff, 20)
	// Tin 4: 24 : 16, Tin 8: 16 : 24, expected 20 each: 4 x 16 / 20 = 3.2, over 4
	near(t, "chi-square", s.JarTest.ChiSquare, 0.8)
}

func TestGroupsWithoutOneFinish(t *testing.T) {
	r := costed(t, shelf(t, map[string][4]int{"2026-10-02": {5, 0, 0, 4}}), monthOf("2026-10"))
	colored, natural := r.Split.ByJar[0], r.Split.ByJar[1]
	near(t, "share of colored alone", colored.Share, 1)
	absent(t, "ratio without natural units", colored.Ratio.Ratio)
	absent(t, "lower bound without natural units", colored.RatioLow)
	absent(t, "upper bound without natural units", colored.RatioHigh)
	near(t, "ratio of natural alone", natural.Ratio.Ratio, 0)
	near(t, "share of natural alone", natural.Share, 0)
	near(t, "lower bound of natural alone", natural.RatioLow, 0)
	_, high := wilsonRoots(0, 4)
	near(t, "upper bound of natural alone", natural.RatioHigh, high/(1-high))
}

func TestMoreBackThanSold(t *testing.T) {
	b := shelf(t, map[string][4]int{"2026-10-02": {6, 3, 0, 0}})
	sell(t, b, sale{day: "2026-10-03", product: "N2", qty: -2, price: at(20)})
	r := costed(t, b, monthOf("2026-10"))
	near(t, "natural", r.Split.Overall.Natural, 1)
	near(t, "nine orders that keep something, not above the units", r.Split.Overall.NEff, 7)
	if len(r.Split.ByJar) != 1 {
		t.Errorf("%d jars with units", len(r.Split.ByJar))
	}
	var say []string
	for _, p := range said(r.Problems, problem.NegativeUnits) {
		say = append(say, p.Say)
	}
	if fmt.Sprint(say) != "[jar season-and-jar]" {
		t.Errorf("notes %v", say)
	}
	near(t, "units of the product", r.Products[3].Units, -2)
}

// Days in no season count in the whole and in their jar, and in no season's test.
func TestDaysInNoSeason(t *testing.T) {
	b := shelf(t, map[string][4]int{"2026-07-02": {10, 10, 0, 0}, "2026-10-02": {10, 30, 0, 0}, "2026-09-05": {7, 6, 0, 0}})
	b.Seasons = []book.Season{{Name: text("Warm"), From: 401, To: 831}, {Name: text("Cold"), From: 1001, To: 331}}
	s := costed(t, b, monthOf("2026-10")).Split
	near(t, "colored", s.Overall.Colored, 27)
	if len(s.BySeason) != 3 || s.BySeason[2].Season != "" || s.BySeason[2].SeasonYear != 2026 {
		t.Fatalf("seasons %+v", s.BySeason)
	}
	// Warm 10 : 10, Cold 10 : 30, so 20 : 40 of 60
	x := 0.0
	for _, c := range [][3]float64{{10, 20, 20}, {10, 20, 40}, {10, 40, 20}, {30, 40, 40}} {
		e := c[1] * c[2] / 60
		x += (c[0] - e) * (c[0] - e) / e
	}
	near(t, "chi-square", s.SeasonTest.ChiSquare, x)
}

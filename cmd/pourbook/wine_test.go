package main

import (
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pourbook/compute/day"
	"pourbook/compute/oracle"
)

// The monthly wine sales that the R package forecast carries, as a Sales sheet
// with a season for every month: sums, seasons and the seasonal indices on top of
// them as R's decompose has them; and, by the usual four seasons, the shares in
// which a market without a forerunner is expected to sell.
func TestWineSalesAgainstR(t *testing.T) {
	oracle.Need(t, oracle.R)
	dir := t.TempDir()
	oracle.Run(t, "Rscript", outside(t, "wine.R"), dir)
	want, sales := expected(t, filepath.Join(dir, "expected.tsv")), rowsOf(t, filepath.Join(dir, "sales.csv"))
	// From check values recomputed in R: the sum and two indices.
	for key, v := range map[string]float64{"all/totals/units": 4_469_018, "index/M12": 1.389742, "index/M01": 0.674253} {
		if math.Abs(want[key]-v) > 1e-6 {
			t.Errorf("R has %v of %s, not %v", want[key], key, v)
		}
	}
	var months [][]string
	for m := range day.Month(12) {
		name := fmt.Sprintf("M%02d", int(m)+1)
		months = append(months, []string{name, m.First().String()[5:], m.Last().String()[5:]})
	}
	got := wineBook(t, dir, "months.xlsx", sales, months, "cost", "all", "--from 1980-01-01 --to 1994-08-31")
	monthly := map[string]float64{}
	for key, grams := range got { // 5 g of oil in a bottle that loses none
		var year int
		var month string
		if n, _ := fmt.Sscanf(key, "all/use/Oil/%d/%3s/grams", &year, &month); n == 2 && strings.HasSuffix(key, "/grams") {
			monthly[fmt.Sprintf("months/%d/%s", year, month)] = grams / 5
		}
	}
	var series []float64
	for _, key := range slices.Sorted(maps.Keys(monthly)) {
		series = append(series, monthly[key])
	}
	maps.Copy(got, monthly)
	for m, v := range indices(series, 12) {
		got[fmt.Sprintf("index/M%02d", m+1)] = v
	}
	for _, season := range []string{"Winter", "Spring", "Summer", "Autumn"} {
		maps.Copy(got, wineBook(t, dir, "seasons.xlsx", sales, nil, "plan", season, "--market "+season))
	}
	oracle.Cases(t, hold(t, want, got, 1e-9))
}

// wineBook writes the book and gives a job's figures.
func wineBook(t *testing.T, dir, name string, sales, seasons [][]string, job, where, flags string) map[string]float64 {
	t.Helper()
	path := filepath.Join(dir, name)
	bookOf(t, path, textOf(t, "wine.txt"), map[string][][]string{"Sales": sales, "Seasons": seasons})
	return flat(t, where, output(t, "pourbook "+job+` "`+path+`" --today 1994-09-01 --json --no-documents `+flags))
}

// indices are the seasonal indices of a series by the ratio to its centered
// moving average, which add up to the period.
func indices(series []float64, period int) []float64 {
	sum, count := make([]float64, period), make([]float64, period)
	for i := period / 2; i < len(series)-period/2; i++ {
		average := (series[i-period/2] + series[i+period/2]) / 2
		for _, v := range series[i-period/2+1 : i+period/2] {
			average += v
		}
		sum[i%period] += series[i] / average * float64(period)
		count[i%period]++
	}
	all := 0.0
	for m := range sum {
		sum[m] /= count[m]
		all += sum[m]
	}
	for m := range sum {
		sum[m] *= float64(period) / all
	}
	return sum
}

// Quarterly television sets of Anderson, Sweeney and Williams, Statistics for
// Business and Economics, chapter 17, in tens (read in a quotation of it): the
// quarters are seasons of a book, the indices those of the textbook.
func TestSeasonsPublished(t *testing.T) {
	var sales, seasons [][]string
	for q, to := range []string{"03-31", "06-30", "09-30", "12-31"} {
		seasons = append(seasons, []string{fmt.Sprintf("Q%d", q+1), fmt.Sprintf("%02d-01", 3*q+1), to})
	}
	for i, v := range []int{48, 41, 60, 65, 58, 52, 68, 74, 60, 56, 75, 78, 63, 59, 80, 84} {
		sales = append(sales, []string{fmt.Sprintf("%d-%02d-20", 1990+i/4, i%4*3+2), "W1", fmt.Sprint(v), "1"})
	}
	got := wineBook(t, t.TempDir(), "quarters.xlsx", sales, seasons, "cost", "all", "--from 1990-01-01 --to 1993-12-31")
	var series []float64
	for i := range sales {
		series = append(series, got[fmt.Sprintf("all/use/Oil/%d/Q%d/grams", 1990+i/4, i%4+1)]/5)
	}
	found := map[string]float64{}
	for q, v := range indices(series, 4) {
		found[fmt.Sprint(q)] = v
	}
	oracle.Cases(t, hold(t, map[string]float64{"0": .930662, "1": .836376, "2": 1.091544, "3": 1.141418}, found, 5e-7))
}

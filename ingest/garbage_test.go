package ingest

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/problem"
	"pourbook/templates"
)

// Whatever stands in the cells of a book, it is read without a panic; a
// problem's cell lies inside a sheet, its words are there and filled.
func TestGarbageInAnyCell(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sheets := cleanBook()
		size := map[string][2]int{}
		for i := range sheets {
			sheets[i].rows = spoiled(rt, sheets[i].rows)
			size[sheets[i].name] = extent(sheets[i].rows)
		}
		b := readBook(t, sheets...)
		for _, p := range b.Problems.Sorted() {
			worded(rt, p)
			if p.At.None() {
				continue
			}
			most, ok := size[p.At.Sheet]
			if !ok || p.At.Row > most[0] || p.At.Col > most[1] {
				rt.Errorf("%s %s %s lies outside of its sheet", p.Code, p.Say, p.At)
			}
		}
		for _, s := range b.Sales.All() {
			if int(s.Product) >= len(b.Products) || int(s.Channel) >= len(b.Channels) || int(s.Order) > b.Orders ||
				int(s.Customer) > b.Customers || int(s.Market) >= b.SaleMarkets.Len() || int(s.Sheet) >= len(b.SaleSheets) {
				rt.Errorf("a reference of %+v is out of range", s)
			}
		}
	})
}

func extent(rows string) [2]int {
	lines := strings.Split(strings.Trim(rows, "\n"), "\n")
	width := 0
	for _, l := range lines {
		width = max(width, strings.Count(l, "|")+1)
	}
	return [2]int{len(lines), width}
}

// spoiled puts odd texts into a few cells.
func spoiled(rt *rapid.T, rows string) string {
	lines := strings.Split(strings.Trim(rows, "\n"), "\n")
	for range rapid.IntRange(0, 3).Draw(rt, "cells") {
		i := rapid.IntRange(0, len(lines)-1).Draw(rt, "row")
		cells := strings.Split(lines[i], "|")
		j := rapid.IntRange(0, len(cells)-1).Draw(rt, "column")
		odd := rapid.OneOf(
			rapid.SampledFrom([]string{
				"", "-", "0", "-1", "1e9", "'1,234", "50 %", "oz", "3 oz", "1 lb 4 oz", "2 x 3", "err:#REF!", "=none", "bool:1", "pct:0.5", "2026-10-31",
				"'31/12/2026", "Total", "date", "quantity", "product", "name", "unit", "x", "yes", "¼", "\u00a0", "€5", "each", "drops/lb", "Lavender",
			}),
			rapid.StringMatching(`'[ -{}~äß€🕯]{0,12}`),
		)
		cells[j] = strings.ReplaceAll(odd.Draw(rt, "text"), "|", "/")
		lines[i] = strings.Join(cells, "|")
	}
	return strings.Join(lines, "\n")
}

// worded fails where a problem has no words, or words with a gap.
func worded(rt *rapid.T, p problem.Problem) {
	key := "problem." + string(p.Code)
	if p.Say != "" {
		key += "." + p.Say
	}
	args := append(append([]any{}, p.Args...), "other", p.Other.String())
	for _, k := range []string{key, key + ".hint"} {
		if !templates.Has(k) {
			rt.Errorf("no words for %s", k)
			continue
		}
		text := templates.Text(k, args...)
		for _, a := range args {
			if s, ok := a.(string); ok && strings.Contains(s, "{") {
				text = strings.ReplaceAll(text, s, "")
			}
		}
		if strings.Contains(text, "{") {
			rt.Errorf("%s is not filled: %s", k, text)
		}
	}
}

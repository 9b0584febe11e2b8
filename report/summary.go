package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/plan"
	"pourbook/compute/problem"
	"pourbook/report/costdoc"
	"pourbook/report/show"
	"pourbook/report/words"
	"pourbook/templates"
)

// Line is a problem on one line: its place, what is wrong, what to do.
func Line(p words.Problem) string {
	s := p.Message
	if place := p.Place(); place != "" {
		s = place + ": " + s
	}
	if p.Hint != "" {
		s += " " + p.Hint
	}
	return words.Plain(s)
}

// table writes rows in columns: those in which every cell has a digit are set
// right, the others left.
func table(w io.Writer, rows [][]string) {
	var widths []int
	var left []bool
	for _, r := range rows {
		for i, c := range r {
			if i == len(widths) {
				widths, left = append(widths, 0), append(left, i == 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
			left[i] = left[i] || c != "" && !strings.ContainsAny(c, "0123456789"+show.Unknown+show.Nil)
		}
	}
	for _, r := range rows {
		var b strings.Builder
		for i, c := range r {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(c))
			if left[i] {
				b.WriteString("  " + c + pad)
			} else {
				b.WriteString("  " + pad + c)
			}
		}
		fmt.Fprintln(w, words.Plain(strings.TrimRight(b.String(), " ")))
	}
}

// CostSummary is the headline figures of a costing.
func CostSummary(w io.Writer, r *cost.Result) {
	c := show.In(r.Currency)
	t := r.Totals
	fmt.Fprintln(w, words.Plain(templates.Text("summary.cost", "book", r.Book, "period", words.Period(r.Period))))
	if r.LinesTotal == 0 {
		fmt.Fprintln(w, templates.Text("summary.cost.nothing"))
		if first, last, ok := r.Source.Sales.Days(); ok {
			fmt.Fprintln(w, templates.Text("summary.cost.days", "first", show.Date(first), "last", show.Date(last)))
		}
	}
	rows := [][]string{}
	for _, x := range []struct {
		key string
		of  func(*cost.Totals) *calc.Figure
	}{
		{"net-sales", func(t *cost.Totals) *calc.Figure { return t.NetSales }},
		{"cost-of-sales", func(t *cost.Totals) *calc.Figure { return t.CostOfSales }},
		{"gross-margin", func(t *cost.Totals) *calc.Figure { return t.GrossMargin }},
		{"fees", func(t *cost.Totals) *calc.Figure { return t.Fees }},
		{"contribution", func(t *cost.Totals) *calc.Figure { return t.Contribution }},
	} {
		row := []string{templates.Text("summary." + x.key), c.Amount(x.of(&t))}
		if r.Previous != nil {
			row = append(row, templates.Text("summary.before", "amount", c.Amount(x.of(r.Previous))))
		}
		rows = append(rows, row)
	}
	table(w, rows)
	if s := r.Split.Overall; s.Ratio.Known() {
		fmt.Fprintln(w, templates.Text("summary.split", "ratio", show.Ratio(s.Ratio), "low", show.Ratio(s.RatioLow), "high", show.Ratio(s.RatioHigh)))
	}
	decisions(w, r)
}

// decisions are what most needs one, as the report's first page has it.
func decisions(w io.Writer, r *cost.Result) {
	var rows [][]string
	for _, d := range costdoc.Decisions(r) {
		rows = append(rows, []string{d.Title, d.Amount})
	}
	if len(rows) > 0 {
		fmt.Fprintln(w, templates.Text("summary.decide"))
		table(w, rows)
	}
}

// PlanSummary is the headline figures of a plan, and what its changes do.
func PlanSummary(w io.Writer, r *plan.Result) {
	planFigures(w, r)
	if r.WhatIf != nil {
		whatIfSummary(w, r)
	}
}

func outingSummary(w io.Writer, m *plan.Market, expected *calc.Figure) {
	fmt.Fprintln(w, words.Plain(templates.Text("summary.plan", "market", m.Market, "date", show.Date(m.Date), "units", show.Units(expected))))
}

func planFigures(w io.Writer, r *plan.Result) {
	c := show.In(r.Currency)
	units, pots := 0, len(r.Pours)
	days := map[string]bool{}
	for _, p := range r.Pours {
		days[p.Day.String()] = true
		for _, j := range p.Jars {
			units += j.Units
		}
	}
	if r.Market != nil {
		outingSummary(w, r.Market, r.ExpectedTotal)
		for _, o := range r.Also {
			outingSummary(w, o.Market, o.ExpectedTotal)
		}
	} else {
		fmt.Fprintln(w, templates.Text("summary.plan.by", "date", show.Date(r.By)))
	}
	switch {
	case pots > 0:
		fmt.Fprintln(w, templates.Text("summary.plan.pours", "pours", pots, "days", len(days), "units", units))
	case len(r.LeftOut) == 0:
		fmt.Fprintln(w, templates.Text("summary.plan.nothing"))
		return
	default:
		fmt.Fprintln(w, templates.Text("summary.plan.none"))
	}
	if r.Contribution.Known() && r.Market != nil {
		fmt.Fprintln(w, templates.Text("summary.plan.worth", "amount", c.Amount(r.Contribution)))
	}
	if len(r.Buy) > 0 {
		var cost []*calc.Figure
		for _, b := range r.Buy {
			cost = append(cost, b.Cost)
		}
		fmt.Fprintln(w, templates.Text("summary.plan.buy", "n", len(r.Buy), "amount", c.Amount(calc.Add(cost...))))
	}
	for _, l := range r.LeftOut {
		fmt.Fprintln(w, words.Plain(templates.Text("summary.plan.left", "n", l.Units, "product", l.Product, "amount", c.Amount(l.Contribution))))
	}
}

// mostNamed is how many errors and warnings a summary names.
const mostNamed = 2

// Found says how many problems there are, names the first errors and warnings,
// and where they all stand: in the documents, or in what check prints.
func Found(w io.Writer, b *book.Book, problems problem.List, documents bool, name string) {
	n := map[problem.Severity]int{}
	for _, p := range problems.Sorted() {
		n[p.Severity]++
	}
	if len(n) == 0 {
		fmt.Fprintln(w, templates.Text("summary.clean"))
		return
	}
	var counts []string
	for _, s := range []problem.Severity{problem.Error, problem.Warning, problem.Note} {
		if n[s] > 0 {
			counts = append(counts, templates.Text("summary.found."+string(s), "n", n[s]))
		}
	}
	key := "summary.found.check"
	if documents {
		key = "summary.found.documents"
	}
	hanging(w, templates.Text(key, "counts", strings.Join(counts, ", "), "book", name))
	named := words.Pressing(words.Grouped(problems))
	for _, g := range named[:min(len(named), mostNamed)] {
		if g.Severity != problem.Note {
			hanging(w, "  "+problemLine(g, show.In(b.Settings.Text(book.Currency).V)))
		}
	}
	unprinted(w, problems)
}

// unprinted names the shortest texts that the documents could not print, which
// nothing but the printing tells.
func unprinted(w io.Writer, problems problem.List) {
	var lines []string
	for _, p := range problems.Sorted() {
		if p.Code == problem.MissingGlyph {
			lines = append(lines, Line(words.Of(p)))
		}
	}
	slices.SortStableFunc(lines, func(a, b string) int { return cmp.Compare(len(a), len(b)) })
	for _, line := range lines[:min(len(lines), mostNamed)] {
		hanging(w, "  "+line)
	}
}

// Read says what was read of a book.
func Read(w io.Writer, b *book.Book, path string) {
	rows, lost := 0, 0
	for _, t := range b.Tables {
		rows, lost = rows+t.Rows, lost+t.LeftOut
	}
	key := "summary.read"
	if lost > 0 {
		key = "summary.read.left-out"
	}
	hanging(w, templates.Text(key, "book", path, "tables", len(b.Tables), "rows", rows, "lost", lost))
}

// Files names the files that were written.
func Files(w io.Writer, paths []string) {
	for i, p := range paths {
		head := templates.Text("summary.files") + " "
		if i > 0 {
			head = strings.Repeat(" ", utf8.RuneCountInString(head))
		}
		fmt.Fprintln(w, words.Plain(head+p))
	}
}

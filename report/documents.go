package report

import (
	"cmp"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/cost"
	"pourbook/compute/fault"
	"pourbook/compute/plan"
	"pourbook/compute/price"
	"pourbook/compute/problem"
	"pourbook/compute/together"
	"pourbook/report/demo"
	"pourbook/report/file"
	"pourbook/report/pdf"
	"pourbook/report/xlsx"
	"pourbook/templates"
)

func (o Options) pdf(b *book.Book) pdf.Options {
	return pdf.Options{Paper: o.Paper, Today: o.Today, Shop: o.Shop, Print: b.Print}
}

// DemoBook is the demo workbook. An error here, and in what else makes
// documents, is a fault of the program: nothing in a result is refused.
func DemoBook() ([]byte, error) {
	return xlsx.Book(demo.Sheets(), templates.Text("demo.title"), templates.Text("demo.shop"))
}

// Cost is the costing report and the costing workbook. Texts that could not be
// printed are noted among the result's problems.
func Cost(r *cost.Result, o Options) ([]file.Output, error) {
	name := file.Name(r.Book) + "-costing-" + periodName(r.Period)
	return pair(name, &r.Problems,
		func() ([]byte, []string, error) { return pdf.Cost(r, o.pdf(r.Source)) },
		func() ([]byte, error) { return xlsx.Cost(r, o.Shop) })
}

// periodName is a period in a file name: its month, or its first and last day.
func periodName(p cost.Period) string {
	if p.OneMonth() {
		return p.From.Month().String()
	}
	return p.From.String() + "-" + p.To.String()
}

// Plan is the production plan. Texts that could not be printed are noted among
// the result's problems.
func Plan(r *plan.Result, o Options) ([]file.Output, error) {
	name := file.Name(r.Source.Name) + "-plan-"
	if r.Market != nil {
		name += file.Name(r.Market.Market) + "-" + r.Market.Date.String()
	} else {
		name += r.By.String()
	}
	if r.WhatIf != nil {
		name += "-what-if"
	}
	defer fault.In(cell.Ref{}, name+".pdf")
	page, missing, err := pdf.Plan(r, o.pdf(r.Source))
	if err != nil {
		return nil, err
	}
	glyphs(&r.Problems, missing)
	return []file.Output{{Path: name + ".pdf", Data: page}}, nil
}

// Price is the price sheet of a jar, or of the whole range, and its workbook,
// with notes as Plan has.
func Price(r *price.Result, o Options) ([]file.Output, error) {
	name, draw, write := file.Name(r.Jar.Jar), pdf.Price, xlsx.Price
	if r.Whole != nil {
		name, draw, write = "range", pdf.PriceRange, xlsx.PriceRange
	}
	return pair(file.Name(r.Source.Name)+"-price-"+name, &r.Problems,
		func() ([]byte, []string, error) { return draw(r, o.pdf(r.Source)) },
		func() ([]byte, error) { return write(r, o.Shop) })
}

// Compare is two jars side by side, and their workbook, with notes as Plan has.
func Compare(c *price.Comparison, o Options) ([]file.Output, error) {
	a, b := c.Results[0], c.Results[1]
	return pair(file.Name(a.Source.Name)+"-price-"+file.Name(a.Jar.Jar)+"-"+file.Name(b.Jar.Jar), &c.Problems,
		func() ([]byte, []string, error) { return pdf.PriceCompare(c, o.pdf(a.Source)) },
		func() ([]byte, error) { return xlsx.PriceCompare(c, o.Shop) })
}

// pair is a document and its workbook, made at the same time: both only read the
// result. Of two errors it returns the document's.
func pair(name string, l *problem.List, draw func() ([]byte, []string, error), write func() ([]byte, error)) ([]file.Output, error) {
	var (
		page, sheet []byte
		missing     []string
		errs        [2]error
	)
	together.Run(func() {
		defer fault.In(cell.Ref{}, name+".pdf")
		page, missing, errs[0] = draw()
	}, func() {
		defer fault.In(cell.Ref{}, name+".xlsx")
		sheet, errs[1] = write()
	})
	if err := cmp.Or(errs[0], errs[1]); err != nil {
		return nil, err
	}
	glyphs(l, missing)
	return []file.Output{{Path: name + ".pdf", Data: page}, {Path: name + ".xlsx", Data: sheet}}, nil
}

// What is said of texts that cannot be printed: so many of them, cut to a length.
const (
	mostUnprinted = 20
	shownText     = 60
)

// glyphs notes the texts that hold letters which no face of the documents has,
// the shortest first: names before the sentences that they stand in.
func glyphs(l *problem.List, missing []string) {
	slices.SortStableFunc(missing, func(a, b string) int { return cmp.Compare(len(a), len(b)) })
	for _, text := range missing[:min(len(missing), mostUnprinted)] {
		if r := []rune(text); len(r) > shownText {
			text = string(r[:shownText]) + "…"
		}
		l.Add(problem.Problem{Severity: problem.Note, Code: problem.MissingGlyph, Args: []any{"text", text}})
	}
}

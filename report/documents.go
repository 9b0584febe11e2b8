package report

import (
	"pourbook/compute/book"
	"pourbook/compute/cost"
	"pourbook/compute/plan"
	"pourbook/compute/price"
	"pourbook/compute/problem"
	"pourbook/report/demo"
	"pourbook/report/file"
	"pourbook/report/pdf"
	"pourbook/report/xlsx"
	"pourbook/templates"
)

func (o Options) pdf(b *book.Book) pdf.Options {
	return pdf.Options{Paper: o.Paper, Today: o.Today, Shop: o.Shop, Print: b.Print}
}

// DemoBook is the demo workbook.
func DemoBook() ([]byte, error) {
	return xlsx.Book(demo.Sheets(), templates.Text("demo.title"), templates.Text("demo.shop"))
}

// Cost is the costing report and the costing workbook. Texts that could not be
// printed are noted among the result's problems.
func Cost(r *cost.Result, o Options) ([]file.Output, error) {
	name := file.Name(r.Book) + "-costing-" + periodName(r.Period)
	page, missing, err := pdf.Cost(r, o.pdf(r.Source))
	if err != nil {
		return nil, err
	}
	glyphs(&r.Problems, missing)
	sheet, err := xlsx.Cost(r, o.Shop)
	if err != nil {
		return nil, err
	}
	return []file.Output{{Path: name + ".pdf", Data: page}, {Path: name + ".xlsx", Data: sheet}}, nil
}

// periodName is a period in a file name: its month, or its first and last day.
func periodName(p cost.Period) string {
	if p.OneMonth() {
		return p.From.Month().String()
	}
	return p.From.String() + "-" + p.To.String()
}

// Plan is the production plan.
func Plan(r *plan.Result, o Options) ([]file.Output, error) {
	page, missing, err := pdf.Plan(r, o.pdf(r.Source))
	if err != nil {
		return nil, err
	}
	glyphs(&r.Problems, missing)
	name := file.Name(r.Source.Name) + "-plan-"
	if r.Market != nil {
		name += file.Name(r.Market.Market) + "-" + r.Market.Date.String()
	} else {
		name += r.By.String()
	}
	return []file.Output{{Path: name + ".pdf", Data: page}}, nil
}

// Price is the price sheet and the price workbook.
func Price(r *price.Result, o Options) ([]file.Output, error) {
	name := file.Name(r.Source.Name) + "-price-" + file.Name(r.Jar.Jar)
	page, missing, err := pdf.Price(r, o.pdf(r.Source))
	if err != nil {
		return nil, err
	}
	glyphs(&r.Problems, missing)
	sheet, err := xlsx.Price(r, o.Shop)
	if err != nil {
		return nil, err
	}
	return []file.Output{{Path: name + ".pdf", Data: page}, {Path: name + ".xlsx", Data: sheet}}, nil
}

// glyphs notes the texts that hold letters which no face of the documents has.
func glyphs(l *problem.List, missing []string) {
	for _, text := range missing {
		l.Add(problem.Problem{Severity: problem.Note, Code: problem.MissingGlyph, Args: []any{"text", text}})
	}
}

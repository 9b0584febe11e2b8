package main

import (
	"errors"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/check"
	"pourbook/compute/cost"
	"pourbook/compute/sales"
	"pourbook/ingest"
	"pourbook/report"
)

func whyCommand(std streams) *cli.Command {
	flags := append([]cli.Flag{str("figure"), str("month"), yes("whole")}, readFlags()...)
	return command("why", flags, func(c *cli.Context) error {
		j, err := open(c, std, 2)
		if err != nil {
			return err
		}
		period, err := j.period()
		if err != nil {
			return err
		}
		res, err := cost.Run(j.book, cost.Options{Period: period, Today: j.today})
		if err != nil {
			return j.cannot(err, res.Problems)
		}
		p, err := findProduct(res, name(c.Args().Get(1)))
		if err != nil {
			return err
		}
		f, err := figureOf(res, p, c.String("figure"))
		if err != nil {
			return err
		}
		how := report.Explanation{Whole: c.Bool("whole"), Width: screen(std.out), Within: feesWithin(res)}
		return j.print(func(w io.Writer) { report.Why(w, f, how) })
	})
}

// figureOf is a headline figure by name.
func figureOf(res *cost.Result, p *cost.Product, name string) (*calc.Figure, error) {
	f, err := report.FigureOf(res, p, name)
	switch {
	case err == nil:
		return f, nil
	case !errors.Is(err, report.ErrNoFigure):
		return nil, usage{err}
	}
	known := report.FigureNames()
	if near := ingest.Nearest(name, known); near != "" {
		return nil, usagef("cli.no-figure.near", "name", name, "near", near)
	}
	return nil, usagef("cli.no-figure", "name", name, "known", strings.Join(known, ", "))
}

// findProduct is the product of a code or, where one product only has it, a name.
func findProduct(res *cost.Result, name string) (*cost.Product, error) {
	var names []string
	for _, by := range []func(*cost.Product) string{
		func(p *cost.Product) string { return p.Product }, func(p *cost.Product) string { return p.Name },
	} {
		for i := range res.Products {
			p := &res.Products[i]
			if cell.Fold(by(p)) == cell.Fold(name) {
				return p, nil
			}
			names = append(names, by(p))
		}
	}
	if near := ingest.Nearest(name, names); near != "" {
		return nil, usagef("cli.no-product.near", "name", name, "near", near)
	}
	return nil, usagef("cli.no-product", "name", name)
}

// feesWithin finds what a sum of fees over rows of Sales comes about as.
func feesWithin(res *cost.Result) func(*calc.Figure) *calc.Figure {
	var ledger *sales.Ledger
	return func(f *calc.Figure) *calc.Figure {
		from := f.From()
		if from.Sum != string(sales.Fees) {
			return nil
		}
		if ledger == nil {
			ledger = check.Ledger(res.Source, res.Period.To)
		}
		return ledger.FeeTree(from.Where)
	}
}

package main

import (
	"io"

	"github.com/urfave/cli/v2"

	"pourbook/compute/cell"
	"pourbook/compute/cost"
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
		f, err := report.FigureOf(res, p, c.String("figure"))
		if err != nil {
			return usage{err}
		}
		return j.print(func(w io.Writer) { report.Why(w, f, c.Bool("whole")) })
	})
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

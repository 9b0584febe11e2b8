package main

import (
	"io"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"pourbook/compute/cell"
	"pourbook/compute/price"
	"pourbook/compute/unit"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
	"pourbook/report"
	"pourbook/report/file"
)

func priceCommand(std streams) *cli.Command {
	flags := append([]cli.Flag{
		str("jar"), yes("all"), str("compare"), str("fill"), str("capacity"), str("filled"), list("part"),
		list("recipe"), str("margin"), list("channel"),
	}, documentFlags()...)
	return command("price", flags, func(c *cli.Context) error {
		j, err := open(c, std, 1)
		if err != nil {
			return err
		}
		opts, err := j.priceOptions()
		switch {
		case err != nil:
			return err
		case c.IsSet("compare"):
			return j.compare(opts)
		}
		return j.price(opts)
	})
}

func (j *job) price(opts price.Options) error {
	res, err := price.Run(j.book, opts)
	if err != nil {
		return j.cannot(err, res.Problems)
	}
	return j.finish(res, &res.Problems,
		func() ([]file.Output, error) { return report.Price(res, j.options()) },
		func(w io.Writer) { report.PriceSummary(w, res) })
}

func (j *job) compare(opts price.Options) error {
	jars, ok := price.Pair(j.book, name(j.c.String("compare")))
	if !ok {
		return usagef("cli.no-pair", "read", strconv.Quote(j.c.String("compare")))
	}
	res, err := price.Compare(j.book, jars, opts)
	if err != nil {
		return j.cannot(err, res.Problems)
	}
	return j.finish(res, &res.Problems,
		func() ([]file.Output, error) { return report.Compare(res, j.options()) },
		func(w io.Writer) {
			for _, r := range res.Results {
				report.PriceSummary(w, r)
			}
		})
}

// asked holds the flags that say what to price against each other.
func (j *job) asked() error {
	ways := 0
	for _, set := range []bool{j.c.String("jar") != "", j.c.Bool("all"), j.c.IsSet("compare")} {
		if set {
			ways++
		}
	}
	sized := j.c.IsSet("fill") || j.c.IsSet("capacity") || j.c.IsSet("filled") || j.c.IsSet("part")
	switch {
	case ways == 0:
		return usagef("cli.no-jar")
	case ways > 1:
		return usagef("cli.price-one-of")
	case sized && j.c.String("jar") == "":
		return usagef("cli.compare-sizes")
	}
	return nil
}

// priceOptions reads the flags of price.
func (j *job) priceOptions() (price.Options, error) {
	o := price.Options{
		Jar: name(j.c.String("jar")), All: j.c.Bool("all"), Today: j.today,
		Recipes: namesOf(j.c.StringSlice("recipe")), Channels: namesOf(j.c.StringSlice("channel")),
	}
	if err := j.asked(); err != nil {
		return o, err
	}
	sized := j.c.IsSet("capacity") || j.c.IsSet("filled")
	switch {
	case j.c.IsSet("fill") && sized:
		return o, usagef("cli.fill-or-capacity")
	case j.c.IsSet("capacity") != j.c.IsSet("filled"):
		return o, usagef("cli.capacity-and-filled")
	}
	var err error
	if o.Fill, err = quantityFlag(j.c, "fill", unit.Mass, "12oz"); err != nil {
		return o, err
	}
	if o.Capacity, err = quantityFlag(j.c, "capacity", unit.Volume, "420ml"); err != nil {
		return o, err
	}
	if o.Filled, err = percentFlag(j.c, "filled", "85%"); err != nil {
		return o, err
	}
	if o.Filled.V > 1 {
		return o, usagef("cli.bad-amount", "flag", "filled", "read", o.Filled.Raw, "example", "85%")
	}
	if o.Margin, err = percentFlag(j.c, "margin", "55%"); err != nil {
		return o, err
	}
	o.Parts, err = partFlags(j.c.StringSlice("part"))
	return o, err
}

// typed is text as a cell holds it.
func typed(s string) grid.Cell { return grid.Cell{Kind: grid.Text, Raw: s} }

// name is a name as it is read from a cell: what cannot be seen is no part of
// it, however it was copied.
func name(s string) string {
	t, _ := parse.Text(typed(s))
	return t
}

func namesOf(given []string) []string {
	var out []string
	for _, s := range given {
		out = append(out, name(s))
	}
	return out
}

// quantityFlag reads an amount with its unit; Blank when the flag is not set.
func quantityFlag(c *cli.Context, name string, dim unit.Dimension, example string) (cell.Num, error) {
	s := c.String(name)
	if s == "" {
		return cell.Num{}, nil
	}
	q := parse.QuantityIn(typed(s), parse.Style{}, parse.Units{})
	if !q.OK() || q.Unit.Dim != dim || q.Base <= 0 {
		return cell.Num{}, usagef("cli.bad-amount", "flag", name, "read", s, "example", example)
	}
	return cell.Num{V: q.Base, Raw: s, State: cell.Typed}, nil
}

func percentFlag(c *cli.Context, name, example string) (cell.Num, error) {
	s := c.String(name)
	if s == "" {
		return cell.Num{}, nil
	}
	r := parse.PercentIn(typed(s), parse.Style{}, parse.WholePercent)
	if !r.OK() || r.V <= 0 {
		return cell.Num{}, usagef("cli.bad-amount", "flag", name, "read", s, "example", example)
	}
	return cell.Num{V: r.V, Raw: s, State: cell.Typed}, nil
}

// partFlags reads NAME=COST; the name may hold "=" itself.
func partFlags(given []string) ([]price.Part, error) {
	var out []price.Part
	for _, s := range given {
		at := strings.LastIndex(s, "=")
		if at < 1 {
			return nil, usagef("cli.bad-part", "read", s)
		}
		r := parse.Number(s[at+1:], parse.Style{})
		if !r.OK() || r.V < 0 {
			return nil, usagef("cli.bad-part", "read", s)
		}
		out = append(out, price.Part{Name: name(s[:at]), Cost: cell.Num{V: r.V, Raw: s, State: cell.Typed}})
	}
	return out, nil
}

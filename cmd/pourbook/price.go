package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"pourbook/compute/cell"
	"pourbook/compute/price"
	"pourbook/compute/unit"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// priceOptions reads the flags of price.
func (j *job) priceOptions() (price.Options, error) {
	o := price.Options{Jar: j.c.String("jar"), Today: j.today, Recipes: j.c.StringSlice("recipe"), Channels: j.c.StringSlice("channel")}
	if o.Jar == "" {
		return o, usagef("cli.no-jar")
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
	if o.Margin, err = percentFlag(j.c, "margin", "55%"); err != nil {
		return o, err
	}
	o.Parts, err = partFlags(j.c.StringSlice("part"))
	return o, err
}

// typed is text as a cell holds it.
func typed(s string) grid.Cell { return grid.Cell{Kind: grid.Text, Raw: s} }

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
		out = append(out, price.Part{Name: strings.TrimSpace(s[:at]), Cost: cell.Num{V: r.V, Raw: s, State: cell.Typed}})
	}
	return out, nil
}

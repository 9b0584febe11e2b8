package main

import (
	"errors"
	"io"
	"strconv"
	"strings"
	"unicode"

	"github.com/urfave/cli/v2"

	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/compute/plan"
	"pourbook/ingest/parse"
	"pourbook/report"
	"pourbook/report/file"
)

func costCommand(std streams) *cli.Command {
	flags := append([]cli.Flag{str("month"), str("from"), str("to")}, documentFlags()...)
	return command("cost", flags, func(c *cli.Context) error {
		j, err := open(c, std, 1)
		if err != nil {
			return err
		}
		period, err := j.period()
		if err != nil {
			return err
		}
		return j.cost(period)
	})
}

// period is what the flags ask for; the zero Period is the default month.
func (j *job) period() (cost.Period, error) {
	if s := j.c.String("month"); s != "" {
		m, ok := monthOf(s)
		if !ok {
			return cost.Period{}, usagef("cli.bad-month", "read", s)
		}
		if j.c.IsSet("from") || j.c.IsSet("to") {
			return cost.Period{}, usagef("cli.month-or-range")
		}
		return cost.Period{From: m.First(), To: m.Last()}, nil
	}
	from, err := dateFlag(j.c, "from", day.None)
	if err != nil {
		return cost.Period{}, err
	}
	to, err := dateFlag(j.c, "to", day.None)
	switch {
	case err != nil:
		return cost.Period{}, err
	case (from == day.None) != (to == day.None):
		return cost.Period{}, usagef("cli.from-and-to")
	case from > to:
		return cost.Period{}, usagef("cli.from-after-to", "from", from, "to", to)
	}
	return cost.Period{From: from, To: to}, nil
}

// monthOf reads a month such as 2026-10 or "Oct 2026".
func monthOf(s string) (day.Month, bool) {
	if m, err := day.ParseMonth(s); err == nil {
		return m, true
	}
	first := parse.DateIn(typed("1 "+s), parse.OrderUnknown)
	return first.V.Month(), first.OK() && strings.ContainsFunc(s, unicode.IsLetter)
}

func (j *job) cost(period cost.Period) error {
	res, err := cost.Run(j.book, cost.Options{Period: period, Today: j.today})
	if err != nil {
		return j.cannot(err, res.Problems)
	}
	return j.finish(res, &res.Problems,
		func() ([]file.Output, error) { return report.Cost(res, j.options()) },
		func(w io.Writer) { report.CostSummary(w, res) })
}

func planCommand(std streams) *cli.Command {
	flags := append([]cli.Flag{
		list("market"), str("by"), list("units"), str("start"), str("minutes"), list("skip"),
		str("first-batch"), list("what-if"),
	}, documentFlags()...)
	return command("plan", flags, func(c *cli.Context) error {
		j, err := open(c, std, 1)
		if err != nil {
			return err
		}
		opts, err := j.planOptions()
		if err != nil {
			return err
		}
		return j.plan(opts)
	})
}

func (j *job) planOptions() (plan.Options, error) {
	o := plan.Options{Markets: namesOf(j.c.StringSlice("market")), Today: j.today, FirstBatch: 1}
	var err error
	if o.By, err = dateFlag(j.c, "by", day.None); err != nil {
		return o, err
	}
	if o.Start, err = dateFlag(j.c, "start", day.None); err != nil {
		return o, err
	}
	for _, s := range j.c.StringSlice("skip") {
		d, err := day.Parse(s)
		if err != nil {
			return o, usagef("cli.bad-date", "flag", "skip", "read", s)
		}
		o.Skip = append(o.Skip, d)
	}
	if o.Units, err = unitsFlag(j.c.StringSlice("units")); err != nil {
		return o, err
	}
	if (o.By != day.None) != (len(o.Units) > 0) {
		return o, usagef("cli.by-and-units")
	}
	if o.By != day.None && len(o.Markets) > 0 {
		return o, usagef("cli.by-or-market")
	}
	if o.Minutes, err = numberFlag(j.c, "minutes", 0); err != nil {
		return o, err
	}
	first, err := numberFlag(j.c, "first-batch", 1)
	o.FirstBatch = int(first)
	return o, err
}

func numberFlag(c *cli.Context, name string, other float64) (float64, error) {
	s := c.String(name)
	if s == "" {
		return other, nil
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || v <= 0 || v > 1e6 {
		return 0, usagef("cli.bad-number", "flag", name, "read", s)
	}
	return v, nil
}

// unitsFlag reads "product=n,product=n"; the flag may be repeated, and a
// product's own name may hold commas when it stands alone.
func unitsFlag(given []string) (map[string]int, error) {
	units := map[string]int{}
	for _, s := range given {
		parts := strings.Split(s, ",")
		if strings.Count(s, "=") == 1 {
			parts = []string{s}
		}
		for _, part := range parts {
			at := strings.LastIndex(part, "=")
			if at < 1 {
				return nil, usagef("cli.bad-units", "read", part)
			}
			n, err := strconv.Atoi(strings.TrimSpace(part[at+1:]))
			if err != nil || n < 0 || n > 100_000 {
				return nil, usagef("cli.bad-units", "read", part)
			}
			units[name(part[:at])] += n
		}
	}
	return units, nil
}

func (j *job) plan(opts plan.Options) error {
	res, err := j.tryPlan(opts)
	if err != nil {
		var u usage
		if errors.As(err, &u) {
			return err
		}
		return j.cannot(err, res.Problems)
	}
	return j.finish(res, &res.Problems,
		func() ([]file.Output, error) { return report.Plan(res, j.options()) },
		func(w io.Writer) { report.PlanSummary(w, res) })
}

package main

import (
	"errors"
	"strings"

	"pourbook/compute/plan"
	"pourbook/ingest"
	"pourbook/report/words"
)

// tryPlan plans, under the changes of --what-if where there are any.
func (j *job) tryPlan(opts plan.Options) (*plan.Result, error) {
	given := j.c.StringSlice("what-if")
	rows := plan.Rows(j.book, opts)
	if len(given) == 0 || opts.By < 1 && len(rows) == 0 {
		return plan.Run(j.book, opts)
	}
	was := j.book
	var changes []plan.Change
	for _, s := range given {
		name, value, ok := strings.Cut(s, "=")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		if !ok || name == "" || value == "" {
			return nil, usagef("cli.bad-what-if", "read", s)
		}
		b, x, err := ingest.Change(j.book, rows, name, value)
		if err != nil {
			return nil, refused(err, name, value)
		}
		j.book = b
		changes = append(changes, plan.Change{Name: x.Name, Value: value, Was: x.Was})
	}
	if err := j.setPaper(); err != nil {
		return nil, err
	}
	return plan.Try(was, j.book, opts, changes)
}

// refused says why a change cannot be made.
func refused(err error, name, value string) error {
	var r *ingest.Refusal
	switch {
	case !errors.As(err, &r):
		return err
	case r.NoMarket:
		return usagef("cli.what-if-no-market", "name", r.Name)
	case r.Unknown && r.Near != "":
		return usagef("cli.what-if-unknown.near", "name", name, "near", r.Near)
	case r.Unknown:
		return usagef("cli.what-if-unknown", "name", name)
	case len(r.Known) > 0:
		return usagef("cli.what-if-known", "name", r.Name, "read", value, "known", strings.Join(r.Known, ", "))
	case r.Example == "":
		return usagef("cli.what-if-value", "name", name, "read", value, "why", words.Of(r.Problem).Message)
	}
	return usagef("cli.what-if-value.example", "name", name, "read", value, "why", words.Of(r.Problem).Message, "example", r.Example)
}

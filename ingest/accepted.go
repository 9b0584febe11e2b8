package ingest

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/templates"
)

// Accepted is a table and the fields that it may have.
type Accepted struct {
	Table  book.TableName
	Fields []AcceptedField
}

// AcceptedField is a field and the headings that are read as it.
type AcceptedField struct {
	Name     string
	Needed   bool     // no row is read without it
	Either   bool     // it, or another such field of the table, is needed
	Headings []string // besides its own name
	Weak     []string // headings that count when no better one is there
}

// AcceptedTables is every table, needed fields first.
func AcceptedTables() []Accepted {
	var out []Accepted
	for _, s := range specs {
		a := Accepted{Table: s.name}
		either := slices.Concat(s.any...)
		for _, f := range slices.Concat(s.must, either, s.may) {
			key := string(s.name) + "." + f
			a.Fields = append(a.Fields, AcceptedField{
				Name: f, Needed: slices.Contains(s.must, f), Either: slices.Contains(either, f),
				Headings: templates.List("heading." + key), Weak: templates.List("weak." + key),
			})
		}
		out = append(out, a)
	}
	return out
}

package report

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/check"
	"pourbook/compute/problem"
	"pourbook/report/show"
	"pourbook/report/words"
	"pourbook/templates"
)

// wanted is the table in which a problem's name was looked for.
var wanted = map[problem.Code]book.TableName{
	problem.UnknownProduct: book.TProducts, problem.UnknownMaterial: book.TMaterials,
	problem.UnknownRecipe: book.TRecipes, problem.UnknownJar: book.TJars,
}

// consequence is what a table without a row that can be used does to the rows
// of a sheet that name something of it.
type consequence struct {
	sheet string
	table book.TableName
	rows  int
	money float64 // on those rows
}

// causes parts problems into those to see to, errors first, and consequences of
// tables without a row that can be used, which go when the table is mended.
func causes(b *book.Book, l problem.List) ([]words.Group, []consequence) {
	lacks := map[book.TableName]bool{}
	for _, j := range check.Jobs(b) {
		for _, t := range j.Lacks {
			lacks[t] = true
		}
	}
	var see problem.List
	var follow []consequence
	for _, p := range l.Sorted() {
		t, ok := wanted[p.Code]
		if !ok || !lacks[t] {
			see.Add(p)
			continue
		}
		i := slices.IndexFunc(follow, func(c consequence) bool { return c.sheet == p.At.Sheet && c.table == t })
		if i < 0 {
			i = len(follow)
			follow = append(follow, consequence{sheet: p.At.Sheet, table: t})
		}
		follow[i].rows++
		follow[i].money += p.Amount
	}
	return words.BySeverity(words.Grouped(see)), follow
}

func (f consequence) line(c show.Currency) string {
	s := templates.Text("severity.error") + " " + templates.Text("check.follows", "sheet", f.sheet, "n", f.rows, "table", f.table)
	if f.money != 0 {
		s += " " + templates.Text("check.money", "amount", c.Of(f.money))
	}
	return s
}

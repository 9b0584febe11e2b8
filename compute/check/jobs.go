package check

import (
	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

// Job is one of the three jobs, and what a book still lacks for it.
type Job struct {
	Name string // "cost", "plan" or "price"
	// Lacks are tables without which the job cannot be done; Without those that
	// would make it better.
	Lacks   []book.TableName
	Without []book.TableName
	// Defaults are the settings that the book leaves to the program.
	Defaults []book.Setting
}

// needs is what each job rests on: tables it cannot do without, tables that
// make it better, settings that it reads.
var needs = []struct {
	job          string
	must, better []book.TableName
	settings     []book.Setting
}{
	{
		"cost",
		[]book.TableName{book.TMaterials, book.TRecipes, book.TJars, book.TProducts, book.TSales},
		[]book.TableName{book.TJarParts, book.TChannels, book.TPurchases, book.TOverheads, book.TSeasons, book.TStockCounts},
		[]book.Setting{
			book.PourLoss, book.RejectRate, book.LaborRate, book.UnitMinutes, book.BatchMinutes, book.ColoredMinutes,
			book.ProductiveHours, book.Pitcher, book.TargetMargin,
		},
	},
	{
		"plan",
		[]book.TableName{book.TMaterials, book.TRecipes, book.TJars, book.TProducts, book.TMarkets},
		[]book.TableName{book.TJarParts, book.TChannels, book.TSales, book.TSeasons, book.TBurnTests},
		[]book.Setting{
			book.Pitcher, book.PourMinutes, book.PourDays, book.CureDays, book.CureMargin, book.WipeMinutes, book.WashMinutes,
			book.ScaleResolution, book.DropLimit, book.LeftoverValue, book.MixPrior,
		},
	},
	{
		"price",
		[]book.TableName{book.TMaterials, book.TRecipes, book.TJars},
		[]book.TableName{book.TJarParts, book.TChannels, book.TProducts, book.TOverheads, book.TBurnTests},
		[]book.Setting{book.TargetMargin, book.PriceEnding, book.WholesaleDisc, book.TestJars, book.LabelSetup, book.LaborRate, book.UnitMinutes},
	},
}

// Jobs tells for each job what the book still lacks, and which defaults would
// stand in.
func Jobs(b *book.Book) []Job {
	var out []Job
	for _, n := range needs {
		j := Job{Name: n.job}
		for _, t := range n.must {
			if !filled(b, t) {
				j.Lacks = append(j.Lacks, t)
			}
		}
		for _, t := range n.better {
			if !filled(b, t) {
				j.Without = append(j.Without, t)
			}
		}
		for _, s := range n.settings {
			if b.Settings.Num(s).State == cell.Assumed && b.Settings.Text(s).State == cell.Assumed {
				j.Defaults = append(j.Defaults, s)
			}
		}
		out = append(out, j)
	}
	return out
}

// HasRows reports whether each of the tables, which are of products, recipes,
// jars, materials and sales, has a row that a job can use; it adds a problem for each
// that has none.
func HasRows(b *book.Book, l *problem.List, names ...book.TableName) bool {
	rows := map[book.TableName]int{
		book.TProducts: len(b.Products), book.TRecipes: len(b.Recipes), book.TJars: len(b.Jars), book.TMaterials: len(b.Materials),
		book.TSales: b.Sales.Len(),
	}
	all := true
	for _, t := range names {
		if rows[t] > 0 {
			continue
		}
		all = false
		p := problem.Problem{Severity: problem.Error, Code: problem.MissingTable, Args: []any{"table", string(t)}}
		if b.Has(t) {
			p.Say = "no-rows"
		}
		l.Add(p)
	}
	return all
}

// filled reports whether a table was found and has a row that can be used.
func filled(b *book.Book, t book.TableName) bool {
	for _, x := range b.Tables {
		if x.Table == t && x.Rows > x.LeftOut {
			return true
		}
	}
	return false
}

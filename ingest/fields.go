package ingest

import (
	"slices"

	"pourbook/compute/book"
)

// spec is what a table may have. The accepted headings are data, in templates.
type spec struct {
	name book.TableName
	must []string   // fields without which a row cannot be read
	any  [][]string // of each group one is enough
	// pairs maps a field of a group to one that it is of no use without.
	pairs map[string]string
	may   []string
	// keys name what a row is about; a row without them that holds only sums
	// is a totals row.
	keys []string
	// beside maps an amount's field to the field of a unit column right of it.
	beside map[string]string
}

// specs are the tables, in the order of the design.
var specs = []spec{
	{
		name: book.TSettings, must: []string{"name", "value"}, keys: []string{"name"},
	},
	{
		name: book.TMaterials, must: []string{"name", "kind", "pack size", "pack price"},
		may: []string{
			"pack unit", "freight per pack", "supplier", "on hand", "on hand unit", "lead days", "density", "drops per ml", "drops per g",
			"max load %", "flash point", "base", "contains additive",
		},
		keys: []string{"name"}, beside: map[string]string{"pack size": "pack unit", "on hand": "on hand unit"},
	},
	{
		name: book.TPurchases, must: []string{"date", "material", "quantity", "amount paid"},
		may:  []string{"unit", "pack size", "freight", "supplier", "reference"},
		keys: []string{"date", "material"}, beside: map[string]string{"quantity": "unit"},
	},
	{
		name: book.TRecipes, must: []string{"recipe", "material", "amount"},
		may: []string{
			"per", "cure days", "melt temperature", "dye temperature", "fragrance temperature", "pour temperature", "swatch", "batch wax", "batch unit",
		},
		keys: []string{"recipe", "material"}, beside: map[string]string{"amount": "per", "batch wax": "batch unit"},
	},
	{
		name: book.TJars, must: []string{"jar"}, any: [][]string{{"fill weight", "capacity"}},
		may:   []string{"fill unit", "capacity unit", "fill %", "opaque", "diameter"},
		pairs: map[string]string{"capacity": "fill %"},
		keys:  []string{"jar"}, beside: map[string]string{"fill weight": "fill unit", "capacity": "capacity unit"},
	},
	{
		name: book.TJarParts, must: []string{"jar", "material"}, may: []string{"count", "unit", "finish"},
		keys: []string{"jar", "material"}, beside: map[string]string{"count": "unit"},
	},
	{
		name: book.TProducts, must: []string{"product", "recipe", "jar", "finish"},
		may:  []string{"name", "list price", "wholesale price", "on hand", "minutes per unit", "active"},
		keys: []string{"product", "recipe"},
	},
	{
		name: book.TChannels, must: []string{"channel"}, any: [][]string{{"fee %", "fee per order", "cost per unit", "wholesale"}},
		keys: []string{"channel"},
	},
	{
		name: book.TSales, must: []string{"date", "product", "quantity"}, any: [][]string{{"unit price", "line total"}},
		may:  []string{"discount", "channel", "order", "customer", "market"},
		keys: []string{"date", "product"},
	},
	{
		name: book.TPours, must: []string{"date", "product", "units"}, may: []string{"batch"},
		keys: []string{"date", "product"},
	},
	{
		name: book.TStockCounts, must: []string{"date", "item", "quantity"}, may: []string{"unit"},
		keys: []string{"date", "item"}, beside: map[string]string{"quantity": "unit"},
	},
	{
		name: book.TOverheads, must: []string{"name", "amount per month"}, may: []string{"from", "to"},
		keys: []string{"name"},
	},
	{
		name: book.TMarkets, must: []string{"market", "date"},
		may:  []string{"days", "channel", "expected units", "like", "growth %", "table capacity", "booth fee"},
		keys: []string{"market", "date"},
	},
	{
		name: book.TSeasons, must: []string{"season", "from", "to"}, keys: []string{"season", "from", "to"},
	},
	{
		name: book.TBurnTests, must: []string{"date", "recipe", "jar", "finish", "result"}, may: []string{"wick", "note"},
		keys: []string{"date", "recipe", "jar"},
	},
}

// idle are fields that no figure rests on.
var idle = []string{"note", "supplier", "reference", "batch", "flash point", "diameter", "swatch"}

func specOf(t book.TableName) *spec {
	i := slices.IndexFunc(specs, func(s spec) bool { return s.name == t })
	if i < 0 {
		return nil
	}
	return &specs[i]
}

// fields is every field of the table.
func (s *spec) fields() []string {
	out := slices.Concat(s.must, s.may)
	for _, g := range s.any {
		out = append(out, g...)
	}
	return out
}

// lacks names what a table cannot be read without, given the fields that it has.
func (s *spec) lacks(has func(field string) bool) [][]string {
	var out [][]string
	for _, f := range s.must {
		if !has(f) {
			out = append(out, []string{f})
		}
	}
	for _, g := range s.any {
		if !slices.ContainsFunc(g, has) {
			out = append(out, g)
		}
	}
	return out
}

// lone names, for each group of which only such fields are there as are of no
// use without another, the fields that would do: of Jars with a capacity alone
// the fill weight and the fill %.
func (s *spec) lone(has func(field string) bool) [][]string {
	var out [][]string
	for _, g := range s.any {
		var would []string
		useful, any := false, false
		for _, f := range g {
			other, pair := s.pairs[f]
			switch {
			case !has(f):
				would = append(would, f)
			case pair && !has(other):
				any = true
				would = append(would, other)
			default:
				useful = true
			}
		}
		if any && !useful {
			out = append(out, would)
		}
	}
	return out
}

// carried are the fields whose value a merged cell gives to all its rows. An
// amount would count several times.
var carried = []string{
	"date", "product", "material", "item", "recipe", "jar", "market", "channel", "order", "customer", "name", "kind", "finish", "supplier", "reference",
}

package ingest

import (
	"pourbook/compute/book"
)

// field is a column that a table may have. The accepted headings are
// "heading.<table>.<name>" in templates, beside the name itself.
type field struct {
	name string
	must bool
}

// tables are the fields of every table. either names fields of which one is
// enough.
var tables = []struct {
	name   book.TableName
	fields []field
	either [][]string
}{
	{book.TSettings, must("name", "value"), nil},
	{book.TMaterials, append(must("name", "kind", "pack size", "pack price"), may("pack unit", "freight per pack", "supplier", "on hand",
		"on hand unit", "lead days", "density", "drops per ml", "drops per g", "max load %", "flash point", "base", "contains additive")...), nil},
	{book.TPurchases, append(must("date", "material", "quantity", "amount paid"), may("unit", "freight", "supplier", "reference")...), nil},
	{book.TRecipes, append(must("recipe", "material", "amount"), may("per", "cure days", "melt temperature", "dye temperature",
		"fragrance temperature", "pour temperature", "swatch", "batch wax")...), nil},
	{book.TJars, append(must("jar"), may("fill weight", "fill unit", "capacity", "fill %", "opaque", "diameter")...),
		[][]string{{"fill weight", "capacity"}}},
	{book.TJarParts, append(must("jar", "material"), may("count", "unit", "finish")...), nil},
	{book.TProducts, append(must("product", "recipe", "jar", "finish"), may("name", "list price", "wholesale price", "on hand",
		"minutes per unit", "active")...), nil},
	{book.TChannels, append(must("channel"), may("fee %", "fee per order", "cost per unit", "wholesale")...),
		[][]string{{"fee %", "fee per order", "cost per unit"}}},
	{book.TSales, append(must("date", "product", "quantity"), may("unit price", "line total", "discount", "channel", "order", "customer",
		"market")...), [][]string{{"unit price", "line total"}}},
	{book.TPours, append(must("date", "product", "units"), may("batch")...), nil},
	{book.TStockCounts, append(must("date", "item", "quantity"), may("unit")...), nil},
	{book.TOverheads, append(must("name", "amount per month"), may("from", "to")...), nil},
	{book.TMarkets, append(must("market", "date"), may("days", "channel", "expected units", "like", "growth %", "table capacity",
		"booth fee")...), nil},
	{book.TSeasons, must("season", "from", "to"), nil},
	{book.TBurnTests, append(must("date", "recipe", "jar", "finish", "result"), may("wick", "note")...), nil},
}

func must(names ...string) []field { return fields(true, names) }
func may(names ...string) []field  { return fields(false, names) }

func fields(needed bool, names []string) []field {
	out := make([]field, len(names))
	for i, n := range names {
		out[i] = field{n, needed}
	}
	return out
}

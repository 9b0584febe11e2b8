package ingest

import (
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/ingest/grid"
	"pourbook/templates"
)

func headingRow(names string) []head {
	var row []grid.Cell
	for _, h := range strings.Split(names, "|") {
		row = append(row, grid.Cell{Kind: grid.Text, Raw: strings.TrimSpace(h)})
	}
	return heads(row)
}

// Headings as makers write them, below a sheet's name, and the fields that
// they are, in the same order; "-" is none.
func TestEverydayHeadings(t *testing.T) {
	for _, c := range []struct{ sheet, headings, table, fields string }{
		{"Sales", "Date|SKU|Units|Retail|Total $|Platform|Invoice #|Customer|Fair", "Sales", "date|product|quantity|unit price|line total|channel|order|customer|market"},
		{"Sales", "Day|Candle|How many|Price ($)|Disc.|Sold at|Order ID|Client", "Sales", "date|product|quantity|unit price|discount|channel|order|customer"},
		{"Sales", "When|What|#|Each|Off|Where|Receipt no|Who|Show", "Sales", "date|product|quantity|unit price|discount|channel|order|customer|market"},
		{"Sales", "Transaction date|Product sold|Qty sold|Unit price USD|Discount amt|Market/event", "Sales", "date|product|quantity|unit price|discount|market"},
		{"Sheet1", "Date of sale|Candle code|Pcs|Price/unit|Sum", "Sales", "date|product|quantity|unit price|line total"},
		{"Sheet2", "Sold on|Item|Qty|Price each|Where sold|Order #", "Sales", "date|product|quantity|unit price|channel|order"},
		{"Supplies bought", "Order date|Item|Qty|Total|Shipping|Supplier|PO #", "Purchases", "date|material|quantity|amount paid|freight|supplier|reference"},
		{"Purchases", "Invoice date|Material purchased|Quantity purchased|Total price|Freight in|Vendor", "Purchases", "date|material|quantity|amount paid|freight|supplier"},
		{"Materials", "Supply|Category|Package|Pkg price|S&H|Max %|FP|Notes", "Materials", "name|kind|pack size|pack price|freight per pack|max load %|flash point|-"},
		{"Stock", "Item|Type|Size|Unit|Cost|On hand|Unit", "Materials", "name|kind|pack size|pack unit|pack price|on hand|on hand unit"},
		{"Scents", "Fragrance|Ingredient|Qty|Unit|Cure (days)|Melt temp (F)", "Recipes", "recipe|material|amount|per|cure days|melt temperature"},
		{"Formulas", "Formula|Raw material|Usage rate|Basis", "Recipes", "recipe|material|amount|per"},
		{"Vessels", "Vessel|Fill (oz)|Opaque?|Diameter (mm)", "Jars", "jar|fill weight|opaque|diameter"},
		{"Containers", "Container|Wax (g)|Volume (ml)|Fill level %", "Jars", "jar|fill weight|capacity|fill %"},
		{"BOM", "Container|Component|Pcs|For", "Jar parts", "jar|material|count|finish"},
		{"Catalog", "Item #|Product name|Recipe|Size|Color/Natural|Retail price|Wholesale price|Stock on hand", "Products", "product|name|recipe|jar|finish|list price|wholesale price|on hand"},
		{"Range", "Code|Candle|Scent|Container|Coloured?|RRP|Trade price|Active?", "Products", "product|name|recipe|jar|finish|list price|wholesale price|active"},
		{"Fees", "Platform|Commission (%)|Per-order fee|Packing per unit|Wholesale?", "Channels", "channel|fee %|fee per order|cost per unit|wholesale"},
		{"Log", "Poured|Candle|Good candles|Lot #", "Pours", "date|product|units|batch"},
		{"Stocktake", "As at|Material|On shelf", "Stock counts", "date|item|quantity"},
		{"Monthly bills", "Bill|Amount|From|Until", "Overheads", "name|amount per month|from|to"},
		{"Fairs", "Fair|Opening day|Length (days)|Expected sales|Similar to|Growth|Table size|Pitch fee", "Markets", "market|date|days|expected units|like|growth %|table capacity|booth fee"},
		{"Year", "Season|Begins|Ends", "Seasons", "season|from|to"},
		{"Burn tests", "Tested|Scent|Jar|Colour|Wick|Pass?|Notes", "Burn tests", "date|recipe|jar|finish|wick|result|note"},
		{"My numbers", "Setting|My number", "Settings", "name|value"},
		{"Sales", "Date|Prodct|Quantitty|Unit prise|Discont", "Sales", "date|product|quantity|unit price|discount"},
	} {
		row := headingRow(c.headings)
		all := candidates([]string{c.sheet}, row, 0, len(row)-1)
		if len(all) == 0 {
			t.Errorf("%s: no table", c.headings)
			continue
		}
		got := make([]string, len(row))
		for i := range got {
			got[i] = "-"
		}
		for _, x := range all[0].columns {
			got[x.index] = x.field
		}
		if string(all[0].spec.name) != c.table || strings.Join(got, "|") != c.fields || len(rivals(all)) > 1 {
			t.Errorf("%s\n got %s: %s (%d rivals)\nwant %s: %s", c.headings, all[0].spec.name, strings.Join(got, "|"), len(rivals(all))-1, c.table, c.fields)
		}
	}
}

func TestUnitsInHeadings(t *testing.T) {
	for heading, want := range map[string][2]string{
		"Price (USD)": {"pack price", "USD"}, "Size oz": {"pack size", "oz"}, "pack size [lb]": {"pack size", "lb"}, "Price in EUR": {"pack price", "EUR"},
		"Size/oz": {"pack size", "oz"}, "On hand: g": {"on hand", "g"}, "drops per mL": {"drops per ml", ""}, "max load %": {"max load %", ""},
		"Cost (with tax)": {"pack price", ""}, "density (g/mL)": {"density", ""},
	} {
		e, u := words().field(book.TMaterials, heading)
		if e.field != want[0] || want[1] != "" && u != want[1] {
			t.Errorf("%q is %q in %q, want %q", heading, e.field, u, want)
		}
	}
}

// Every accepted heading is understood, as the field that it is listed for or
// as one that it is listed for too.
func TestEveryAcceptedHeadingIsUnderstood(t *testing.T) {
	for _, s := range specs {
		for _, f := range s.fields() {
			list := append([]string{f}, templates.List("heading."+string(s.name)+"."+f)...)
			for _, h := range append(list, templates.List("weak."+string(s.name)+"."+f)...) {
				all, _ := words().lookUp(s.name, newHead(h))
				found := false
				for _, e := range all {
					found = found || e.field == f
				}
				if !found {
					t.Errorf("%s: %q is not %s but %v", s.name, h, f, all)
				}
			}
		}
		if len(templates.List("sheet."+string(s.name))) == 0 {
			t.Errorf("no words for sheets of %s", s.name)
		}
	}
}

func TestRowsThatAreNoHeadings(t *testing.T) {
	for _, row := range []string{"Lavender|Soy wax", "call the printer|today", "What|a day", "Website|fee", "Name|Phone|Street", "total|paid|later"} {
		texts := headingRow(row)
		if all := candidates([]string{"Sheet1"}, texts, 0, len(texts)-1); len(all) > 0 {
			t.Errorf("%q was taken for %s", row, all[0].spec.name)
		}
	}
}

func TestNearest(t *testing.T) {
	known := []string{"Lavender oil", "Soy wax", "Website", "QC9-C", "QC9-N", "Elm Street Fair", "Elm Row Market"}
	for typed, want := range map[string]string{
		"lavendar oil": "Lavender oil", "SOY  WAX": "Soy wax", "Web site": "Website", "Wesbite": "Website", "QC9C": "QC9-C", "beeswax": "", "": "",
		"soy": "Soy wax", "wax, soy": "", "Website of the shop": "Website", "Fair at Elm Street": "Elm Street Fair",
		"Elm": "", // fits two
	} {
		if got := Nearest(typed, known); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", typed, got, want)
		}
	}
}

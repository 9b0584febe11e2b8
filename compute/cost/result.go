// Package cost computes the costing of a period from a book.
package cost

import (
	"encoding/json"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
	"pourbook/compute/unitcost"
)

// Schema names the shape of Result as JSON.
const Schema = "pourbook.cost/1"

// Period is a stretch of days, both ends included.
type Period struct {
	From day.Date `json:"from"`
	To   day.Date `json:"to"`
}

// OneMonth reports whether the period is one whole calendar month.
func (p Period) OneMonth() bool {
	return p.From == p.From.Month().First() && p.To == p.From.Month().Last()
}

// Basis tells what the use and the cost of materials rest on.
type Basis struct {
	Use        string `json:"use"`         // "sales" or "pours"
	CostMethod string `json:"cost_method"` // "latest", "average" or "fifo"
}

// Result is the costing of a period. Its JSON is the stable schema; fields
// tagged "-" serve the documents. Unknown figures are left out.
type Result struct {
	Schema   string    `json:"schema"`
	Book     string    `json:"book"`
	Currency string    `json:"currency"`
	Period   Period    `json:"period"`
	Basis    Basis     `json:"basis"`
	Products []Product `json:"products"`
	Channels []Channel `json:"channels"`
	Totals   Totals    `json:"totals"`

	Change         []Change     `json:"change,omitempty"`
	QuantityEffect *calc.Figure `json:"quantity_effect,omitzero"`
	MixEffect      *calc.Figure `json:"mix_effect,omitzero"`

	Use   []Use   `json:"use"`
	Split Split   `json:"split"`
	Stock []Stock `json:"stock"`

	// Source is the book; Previous and YearAgo are the totals of the month
	// before and of the same month last year, nil when not one month or
	// without sales then.
	Source    *book.Book `json:"-"`
	Previous  *Totals    `json:"-"`
	YearAgo   *Totals    `json:"-"`
	Decisions []Decision `json:"-"`
	// Shelves are the channels of the book, wholesale last, with what is asked
	// and kept of each product; Main is the one that a single margin is told of.
	Shelves  []*Shelf     `json:"-"`
	Main     *Shelf       `json:"-"`
	Twins    []Twin       `json:"-"`
	Problems problem.List `json:"-"`
	// Lines are the period's sales lines, for the workbook; LinesTotal counts
	// them also where they are too many to be listed.
	Lines      []sales.Line `json:"-"`
	LinesTotal int          `json:"-"`
	// Seasons tell the seasons of the lines.
	Seasons sales.Seasons `json:"-"`
}

// Product is a row of Products with its cost at the month in which the period
// ends, and its sales of the period. UnitCost is nil when it cannot be computed.
type Product struct {
	Product string      `json:"product"`
	Name    string      `json:"name"`
	Recipe  string      `json:"recipe"`
	Jar     string      `json:"jar"`
	Finish  book.Finish `json:"finish"`

	Grams        *unitcost.Grams `json:"grams,omitempty"`
	Drops        *calc.Figure    `json:"drops,omitzero"`
	UnitCost     *unitcost.Cost  `json:"unit_cost,omitempty"`
	LaborMinutes *calc.Figure    `json:"labor_minutes,omitzero"`
	UsualBatch   *calc.Figure    `json:"usual_batch,omitzero"`
	ListPrice    *calc.Figure    `json:"list_price,omitzero"`
	Sales

	Of *book.Product `json:"-"`
}

// Sales is what a product or channel sold in the period.
type Sales struct {
	Units        *calc.Figure `json:"units,omitzero"`
	NetSales     *calc.Figure `json:"net_sales,omitzero"`
	Fees         *calc.Figure `json:"fees,omitzero"`
	CostOfSales  *calc.Figure `json:"cost_of_sales,omitzero"`
	GrossMargin  *calc.Figure `json:"gross_margin,omitzero"`
	MarginRate   *calc.Figure `json:"margin_rate,omitzero"` // of products only
	Contribution *calc.Figure `json:"contribution,omitzero"`
}

// Channel is a channel's sales of the period.
type Channel struct {
	Channel string `json:"channel"`
	Sales
}

// Totals are the sums of a period.
type Totals struct {
	Units            *calc.Figure `json:"units,omitzero"`
	GrossSales       *calc.Figure `json:"gross_sales,omitzero"`
	Discounts        *calc.Figure `json:"discounts,omitzero"`
	NetSales         *calc.Figure `json:"net_sales,omitzero"`
	Fees             *calc.Figure `json:"fees,omitzero"`
	CostOfSales      *calc.Figure `json:"cost_of_sales,omitzero"`
	GrossMargin      *calc.Figure `json:"gross_margin,omitzero"`
	Contribution     *calc.Figure `json:"contribution,omitzero"`
	BoothFees        *calc.Figure `json:"booth_fees,omitzero"`
	OverheadAbsorbed *calc.Figure `json:"overhead_absorbed,omitzero"`
	Overhead         *calc.Figure `json:"overhead,omitzero"`
	StockDifferences *calc.Figure `json:"stock_differences,omitzero"`
}

// Change is why a product's gross margin differs from the month before.
type Change struct {
	Product string       `json:"product"`
	Volume  *calc.Figure `json:"volume,omitzero"`
	Price   *calc.Figure `json:"price,omitzero"`
	Cost    *calc.Figure `json:"cost,omitzero"`
	Total   *calc.Figure `json:"total,omitzero"`
}

// Use is the dye or fragrance that one season's units took, losses included.
type Use struct {
	Season     string         `json:"season"`
	SeasonYear int            `json:"season_year"`
	Material   string         `json:"material"`
	Kind       book.Kind      `json:"kind"`
	Grams      *calc.Figure   `json:"grams,omitzero"`
	ML         *calc.Figure   `json:"ml,omitzero"`
	Drops      *calc.Figure   `json:"drops,omitzero"`
	Cost       *calc.Figure   `json:"cost,omitzero"`
	Bottles    *calc.Figure   `json:"-"` // in packs of its first pack size
	Of         *book.Material `json:"-"`

	taken []taken
}

// Split is colored against natural over 24 months.
type Split struct {
	From           day.Date     `json:"from,omitzero"`
	To             day.Date     `json:"to,omitzero"`
	Overall        Ratio        `json:"overall"`
	BySeason       []SplitGroup `json:"by_season"`
	ByJar          []SplitGroup `json:"by_jar"`
	BySeasonAndJar []SplitGroup `json:"by_season_and_jar"`
	SeasonTest     *Test        `json:"season_test,omitempty"`
	JarTest        *Test        `json:"jar_test,omitempty"`
	Wholesale      *Pair        `json:"wholesale,omitempty"`
	Customers      *Customers   `json:"customers,omitempty"`
	DropNatural    *DropNatural `json:"drop_natural,omitempty"`
	DropColor      *DropColor   `json:"drop_color,omitempty"`
}

// SplitGroup is the split of a season (with the year it starts in), a jar, or both.
type SplitGroup struct {
	Season     string `json:"season,omitempty"`
	SeasonYear int    `json:"season_year,omitempty"`
	Jar        string `json:"jar,omitempty"`
	Ratio
	// InSeason tells a group by season, whose Season is "" for days in none.
	InSeason bool `json:"-"`
}

// MarshalJSON writes the season of a group by season also where it is "".
func (g SplitGroup) MarshalJSON() ([]byte, error) {
	if !g.InSeason {
		return json.Marshal(struct {
			Jar string `json:"jar"`
			Ratio
		}{g.Jar, g.Ratio})
	}
	return json.Marshal(struct {
		Season     string `json:"season"`
		SeasonYear int    `json:"season_year"`
		Jar        string `json:"jar,omitempty"`
		Ratio
	}{g.Season, g.SeasonYear, g.Jar, g.Ratio})
}

// Ratio is colored to natural units with the 95 % bounds.
type Ratio struct {
	Colored   *calc.Figure `json:"colored,omitzero"`
	Natural   *calc.Figure `json:"natural,omitzero"`
	Ratio     *calc.Figure `json:"ratio,omitzero"`
	Share     *calc.Figure `json:"share,omitzero"`
	RatioLow  *calc.Figure `json:"ratio_low,omitzero"`
	RatioHigh *calc.Figure `json:"ratio_high,omitzero"`
	NEff      *calc.Figure `json:"n_eff,omitzero"`
}

// Pair is colored and natural units.
type Pair struct {
	Colored *calc.Figure `json:"colored,omitzero"`
	Natural *calc.Figure `json:"natural,omitzero"`
}

// Test is Pearson's chi-square with the design effect taken out.
type Test struct {
	ChiSquare *calc.Figure `json:"chi_square,omitzero"`
	DF        *calc.Figure `json:"df,omitzero"`
	P         *calc.Figure `json:"p,omitzero"`
}

// Customers groups the customers by what they buy.
type Customers struct {
	NaturalOnly CustomerGroup `json:"natural_only"`
	ColoredOnly CustomerGroup `json:"colored_only"`
	Both        CustomerGroup `json:"both"`
}

// CustomerGroup is a group of customers.
type CustomerGroup struct {
	Count        *calc.Figure `json:"count,omitzero"`
	NetSales     *calc.Figure `json:"net_sales,omitzero"`
	Contribution *calc.Figure `json:"contribution,omitzero"`
}

// DropNatural is what dropping the natural line would put at risk.
type DropNatural struct {
	AtRisk          *calc.Figure `json:"at_risk,omitzero"`
	BreakEvenSwitch *calc.Figure `json:"break_even_switch,omitzero"`
}

// DropColor is what dropping color would save, and may lose.
type DropColor struct {
	Saved         *calc.Figure `json:"saved,omitzero"`
	BreakEvenLoss *calc.Figure `json:"break_even_loss,omitzero"`
}

// Stock is a material's month-by-month roll over the period.
type Stock struct {
	Item          string       `json:"item"`
	Unit          string       `json:"unit"` // "g", "mL" or "each"
	Opening       *calc.Figure `json:"opening,omitzero"`
	Purchased     *calc.Figure `json:"purchased,omitzero"`
	Used          *calc.Figure `json:"used,omitzero"`
	Closing       *calc.Figure `json:"closing,omitzero"`
	Value         *calc.Figure `json:"value,omitzero"`
	ActualUse     *calc.Figure `json:"actual_use,omitzero"`
	UsageVariance *calc.Figure `json:"usage_variance,omitzero"`
	PriceVariance *calc.Figure `json:"price_variance,omitzero"`

	Of *book.Material `json:"-"`
	// Price and PriceBefore are the cost per base unit of the period's last
	// month and of the month before the period.
	Price       *calc.Figure `json:"-"`
	PriceBefore *calc.Figure `json:"-"`
}

// Twin is what color costs: a colored product beside its natural twin.
type Twin struct {
	Colored, Natural                   *Product
	Dye, Labor, Overhead, Parts, Total *calc.Figure
}

// Decision is a thing that needs one: Code names its words
// ("decision.<Code>"), Subject what it is about, Amount what it is worth per
// month in currency, Detail further figures for the words.
type Decision struct {
	Code    string
	Subject string
	Amount  *calc.Figure
	Detail  map[string]*calc.Figure
}

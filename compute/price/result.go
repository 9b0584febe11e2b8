// Package price computes what a jar costs in every recipe and finish, and
// which price keeps the margin on every channel.
package price

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/problem"
	"pourbook/compute/stat"
	"pourbook/compute/unitcost"
)

// Schema names the shape of Result as JSON.
const Schema = "pourbook.price/1"

// Result is a price sheet.
type Result struct {
	Schema string  `json:"schema"`
	Jar    Jar     `json:"jar,omitzero"`
	Prices []Price `json:"prices"`
	// Whole is the range at the target margin; nil unless it was asked for.
	Whole []RangePrice `json:"range_prices,omitempty"`

	Source   *book.Book   `json:"-"`
	Currency string       `json:"-"`
	Target   *calc.Figure `json:"-"`
	Ending   string       `json:"-"`
	// Nearest is the existing jar nearest in fill weight, nil when there is none.
	Nearest  *book.Jar `json:"-"`
	Range    []Point   `json:"-"`
	lines    map[book.Finish]stat.Line
	Problems problem.List `json:"-"`
}

// Jar is the jar that is priced.
type Jar struct {
	Jar  string       `json:"jar"`
	Fill *calc.Figure `json:"fill_grams,omitzero"`
}

// Price is the pricing of one recipe and finish.
type Price struct {
	Recipe    string         `json:"recipe"`
	Finish    book.Finish    `json:"finish"`
	UnitCost  *unitcost.Cost `json:"unit_cost,omitempty"`
	Channels  []Channel      `json:"channels"`
	Wholesale *Wholesale     `json:"wholesale,omitempty"`
	Range     *Range         `json:"range,omitempty"`
	Launch    *calc.Figure   `json:"launch_cost,omitzero"`
	BreakEven *calc.Figure   `json:"break_even_units,omitzero"`

	Fill         *calc.Figure   `json:"-"` // g
	LaborMinutes *calc.Figure   `json:"-"`
	UsualBatch   *calc.Figure   `json:"-"`
	List         *calc.Figure   `json:"-"` // highest rounded price
	Nearest      *unitcost.Cost `json:"-"` // the same recipe and finish in the nearest existing jar
	NearestJar   string         `json:"-"` // its name
	FirstRun     *calc.Figure   `json:"-"` // units of this finish in the first run
	TestJars     *calc.Figure   `json:"-"`
	// LoadStep and DropStep are what one more percent of fragrance load and one
	// more drop per lb add to the unit cost.
	LoadStep *calc.Figure `json:"-"`
	DropStep *calc.Figure `json:"-"`
}

// Channel is the price on a channel.
type Channel struct {
	Channel string       `json:"channel"`
	Price   *calc.Figure `json:"price,omitzero"`
	Rounded *calc.Figure `json:"rounded,omitzero"`
	Margin  *calc.Figure `json:"margin,omitzero"`
}

// Wholesale is the wholesale price and its margin.
type Wholesale struct {
	Price  *calc.Figure `json:"price,omitzero"`
	Margin *calc.Figure `json:"margin,omitzero"`
}

// Verdict says what to do with a list price.
type Verdict string

// The verdicts. A list price is raised when a channel's margin after fees is
// below the target; it has room when every channel's is still at the target or
// above one step of the price ending lower.
const (
	Raise Verdict = "raise"
	Keep  Verdict = "keep"
	Room  Verdict = "room-to-lower"
)

// RangePrice is an active product at the target margin against its list price.
type RangePrice struct {
	Product   string         `json:"product"`
	Recipe    string         `json:"recipe"`
	Jar       string         `json:"jar"`
	Finish    book.Finish    `json:"finish"`
	UnitCost  *unitcost.Cost `json:"unit_cost,omitempty"`
	List      *calc.Figure   `json:"list_price,omitzero"`
	Price     *calc.Figure   `json:"price,omitzero"`    // highest rounded price over the channels
	Change    *calc.Figure   `json:"change,omitzero"`   // Price - List, per unit
	Verdict   Verdict        `json:"verdict,omitempty"` // "" without a cost, a list price or a channel
	Channels  []RangeChannel `json:"channels"`
	Wholesale *Wholesale     `json:"wholesale,omitempty"` // at the list price

	Name string       `json:"-"`
	Fill *calc.Figure `json:"-"` // g
}

// RangeChannel is the price on a channel beside what the list price keeps there.
type RangeChannel struct {
	Channel
	ListMargin *calc.Figure `json:"list_margin,omitzero"`
	Change     *calc.Figure `json:"change,omitzero"` // Rounded - the list price, per unit
}

// Comparison is two jars priced alike.
type Comparison struct {
	Schema   string       `json:"schema"`
	Results  [2]*Result   `json:"compare"`
	Problems problem.List `json:"-"`
}

// Range is the place in the range: the fitted price at the new fill.
type Range struct {
	Predicted *calc.Figure `json:"predicted,omitzero"`
	Low       *calc.Figure `json:"low,omitzero"`
	High      *calc.Figure `json:"high,omitzero"`
	Sizes     int          `json:"sizes"`
}

// Point is an existing product in the range.
type Point struct {
	Product string
	Finish  book.Finish
	Fill    *calc.Figure // g
	Price   *calc.Figure
	jar     *book.Jar
}

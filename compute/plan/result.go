// Package plan computes what to bring to a market, and the pours, doses and
// orders that get it there.
package plan

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

// Schema names the shape of Result as JSON.
const Schema = "pourbook.plan/1"

// Result is a production plan.
type Result struct {
	Schema        string       `json:"schema"`
	Market        *Market      `json:"market,omitempty"`
	ExpectedTotal *calc.Figure `json:"expected_total,omitzero"`
	Demand        []Demand     `json:"demand,omitempty"`
	Pours         []Pour       `json:"pours"`
	Pull          []Pull       `json:"pull"`
	Buy           []Buy        `json:"buy"`
	LeftOut       []LeftOut    `json:"left_out"`
	Bound         *calc.Figure `json:"bound,omitzero"`

	Source   *book.Book   `json:"-"`
	Currency string       `json:"-"`
	Today    day.Date     `json:"-"`
	By       day.Date     `json:"-"` // the day the candles are wanted
	Days     []Day        `json:"-"`
	Problems problem.List `json:"-"`

	// Contribution is the plan's; Gap the bound less it.
	Contribution *calc.Figure `json:"-"`
	Gap          *calc.Figure `json:"-"`
	// MoreDay and MorePitcher are what one more pour day and a pitcher half as
	// large again would be worth; unknown when everything fits.
	MoreDay     *calc.Figure `json:"-"`
	MorePitcher *calc.Figure `json:"-"`
	// From says where the expected total comes from, by code ("plan.from.<From>").
	From     string   `json:"-"`
	FromWhat []string `json:"-"`
	Tests    []Test   `json:"-"`
}

// Market is the market planned for.
type Market struct {
	Market  string   `json:"market"`
	Date    day.Date `json:"date"`
	Days    int      `json:"days"`
	Channel string   `json:"channel"`
	Season  string   `json:"season"`
}

// Demand is what one active product may sell, and what to bring.
type Demand struct {
	Product      string       `json:"product"`
	Mean         *calc.Figure `json:"mean,omitzero"`
	R            *calc.Figure `json:"r,omitzero"`
	Bring        int          `json:"bring"`
	OnHand       int          `json:"on_hand"`
	Need         int          `json:"need"`
	Pour         int          `json:"pour"` // started units
	ExpectedSold *calc.Figure `json:"expected_sold,omitzero"`
	Contribution *calc.Figure `json:"expected_contribution,omitzero"`

	Of       *book.Product `json:"-"`
	Price    *calc.Figure  `json:"-"`
	Under    *calc.Figure  `json:"-"` // cu, what one too few costs
	Over     *calc.Figure  `json:"-"` // co, what one too many costs
	Critical *calc.Figure  `json:"-"`
}

// Pour is one pot of one recipe and finish.
type Pour struct {
	Batch      int          `json:"batch"`
	Day        day.Date     `json:"day"`
	Order      int          `json:"order"` // within the day, from 1
	Recipe     string       `json:"recipe"`
	Finish     book.Finish  `json:"finish"`
	Jars       []Jar        `json:"jars"`
	Blend      *calc.Figure `json:"blend_grams,omitzero"`
	Due        day.Date     `json:"due"`
	Cured      day.Date     `json:"cured"`
	Minutes    *calc.Figure `json:"minutes,omitzero"` // without the change-over
	Changeover *calc.Figure `json:"changeover,omitzero"`
	Weigh      []Weigh      `json:"weigh"`
	Flags      []string     `json:"flags"`

	Of    *book.Recipe `json:"-"`
	Parts []Take       `json:"-"` // jars, wicks, lids ... to set out
	// PourOf and PoursOf number the pours of one batch, from 1.
	PourOf, PoursOf int `json:"-"`
}

// Jar is how many units of a product a pour fills (started units).
type Jar struct {
	Product string        `json:"product"`
	Units   int           `json:"units"`
	Of      *book.Product `json:"-"`
	Fill    *calc.Figure  `json:"-"` // g per unit
}

// Weigh is a material of a pour. CureBatch is the least batch weight, in g,
// at which the dose error would be within the limit; unknown when it is now.
type Weigh struct {
	Material   string       `json:"material"`
	Grams      *calc.Figure `json:"grams,omitzero"`
	ExactGrams *calc.Figure `json:"exact_grams,omitzero"`
	Drops      *calc.Figure `json:"drops,omitzero"`
	ExactDrops *calc.Figure `json:"exact_drops,omitzero"`
	DoseError  *calc.Figure `json:"dose_error,omitzero"`

	CureBatch *calc.Figure   `json:"-"`
	Of        *book.Material `json:"-"`
}

// Take is how much of a material or product to set out.
type Take struct {
	Of       *book.Material
	Quantity *calc.Figure
}

// Day is a day on which something is poured.
type Day struct {
	Day     day.Date
	Minutes *calc.Figure // all of the day's, change-overs included
	Limit   *calc.Figure
	Pull    []Pull
}

// Pull is what to take from stock: a material, or a product under its code.
type Pull struct {
	Item     string       `json:"item"`
	Quantity *calc.Figure `json:"quantity,omitzero"`
	Unit     string       `json:"unit"`
	OnHand   *calc.Figure `json:"on_hand,omitzero"`

	Material *book.Material `json:"-"`
	Product  *book.Product  `json:"-"`
}

// Buy is a material of which more is needed than is on hand.
type Buy struct {
	Material string       `json:"material"`
	Supplier string       `json:"supplier"`
	Need     *calc.Figure `json:"need,omitzero"`
	Unit     string       `json:"unit"`
	OnHand   *calc.Figure `json:"on_hand,omitzero"`
	Packs    []Pack       `json:"packs"`
	Cost     *calc.Figure `json:"cost,omitzero"`
	OrderBy  day.Date     `json:"order_by,omitzero"`

	Late bool           `json:"-"` // order by is past
	Of   *book.Material `json:"-"`
}

// Pack is how many packs of a size to buy: Size in base units, Price with freight.
type Pack struct {
	Size  *calc.Figure `json:"size,omitzero"`
	Count int          `json:"count"`
	Price *calc.Figure `json:"price,omitzero"`
}

// LeftOut is a product of which fewer are poured than their started units.
type LeftOut struct {
	Product      string       `json:"product"`
	Units        int          `json:"units"`
	Contribution *calc.Figure `json:"contribution,omitzero"`
}

// Test is a combination that is poured and was never burn-tested.
type Test struct {
	Recipe *book.Recipe
	Jar    *book.Jar
	Finish book.Finish
	Wicks  []*book.Material
	Jars   int
}

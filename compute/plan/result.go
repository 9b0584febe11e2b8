// Package plan computes what to bring to a market, and the pours, doses and
// orders that get it there.
package plan

import (
	"encoding/json"

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
	// Also are further markets planned for at the same time, by day.
	Also []Outing `json:"also,omitempty"`
	// WhatIf is there when the plan is one under changes.
	WhatIf *WhatIf `json:"what_if,omitempty"`

	Source   *book.Book   `json:"-"`
	Currency string       `json:"-"`
	Today    day.Date     `json:"-"`
	By       day.Date     `json:"-"` // the day the candles are wanted
	Days     []Day        `json:"-"`
	Problems problem.List `json:"-"`

	// Contribution is the plan's, before booth fees; Gap the bound less it. Both
	// are unknown in a plan without a market.
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

	Of *book.Market `json:"-"`
}

// Outing is a further market of a plan; its stock on hand is what the earlier
// ones leave.
type Outing struct {
	Market        *Market      `json:"market"`
	ExpectedTotal *calc.Figure `json:"expected_total,omitzero"`
	Demand        []Demand     `json:"demand"`

	From     string   `json:"-"`
	FromWhat []string `json:"-"`
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

	Of *book.Product `json:"-"`
	// Known is false where the product's cost cannot be computed; then nothing is
	// brought, and what would say how many is not in the JSON.
	Known    bool         `json:"-"`
	Share    *calc.Figure `json:"-"`
	Price    *calc.Figure `json:"-"`
	Under    *calc.Figure `json:"-"` // cu, what one too few costs
	Over     *calc.Figure `json:"-"` // co, what one too many costs
	Critical *calc.Figure `json:"-"`
}

// MarshalJSON leaves out the counts of a product that is not Known.
func (d Demand) MarshalJSON() ([]byte, error) {
	type plain Demand
	if d.Known {
		return json.Marshal(plain(d))
	}
	return json.Marshal(struct {
		Product string       `json:"product"`
		Mean    *calc.Figure `json:"mean,omitzero"`
		R       *calc.Figure `json:"r,omitzero"`
		OnHand  int          `json:"on_hand"`
	}{d.Product, d.Mean, d.R, d.OnHand})
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
	// Market is which market the pour is for, where there are several.
	Market string `json:"market,omitempty"`

	Of    *book.Recipe `json:"-"`
	Parts []Take       `json:"-"` // jars, wicks, lids ... to set out
	// PourOf and PoursOf number the pours of one batch, from 1.
	PourOf, PoursOf int `json:"-"`

	takes []Take // of every material, losses included
}

// Jar is how many units of a product a pour fills (started units).
type Jar struct {
	Product string        `json:"product"`
	Units   int           `json:"units"`
	Of      *book.Product `json:"-"`
	Fill    *calc.Figure  `json:"-"` // g per unit
}

// Weigh is a material of a pour. CureBatch is the batch weight, in g, nearest to
// the pour's at which the dose error would be within the limit: the next above
// that the pitcher holds, else the next below; unknown when it is within it now.
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

// Day is a day on which something is poured. Its Pull is what its pours take;
// OnHand there is what of it comes from the stock on hand now.
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

// LeftOut is a product of which fewer are poured than their started units, in
// good units. Contribution is unknown in a plan without a market.
type LeftOut struct {
	Product      string       `json:"product"`
	Units        int          `json:"units"`
	Contribution *calc.Figure `json:"contribution,omitzero"`

	Of *book.Product `json:"-"`
}

// Test is a combination that is poured and was never burn-tested, or whose last
// test Failed. Jars is how many test jars that takes, for all its wicks.
type Test struct {
	Recipe *book.Recipe
	Jar    *book.Jar
	Finish book.Finish
	Wicks  []*book.Material
	Jars   int
	Failed bool
}

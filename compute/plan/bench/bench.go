// Package bench decides at the pouring bench: how batches are split into pours,
// in which order a day pours, on which day each pour falls, and what is kept
// when not everything fits. It knows numbers only: grams, minutes, days.
package bench

import (
	"math"

	"pourbook/compute/calc"
	"pourbook/compute/day"
)

// slack is the relative tolerance of limits: 1,800 g of blend that was added up
// from eight parts still fits a pitcher of 1,800 g.
const slack = 1e-9

// Pot is what one pour can hold: grams of blend, and the minutes that a day
// leaves for the units of one pour.
type Pot struct {
	Grams, Minutes float64
}

// Sort is units of one product of a batch: how many are started, and what each
// of them takes of a pot.
type Sort struct {
	Units          int
	Grams, Minutes float64
}

// Kind is a recipe in a finish, as a change-over sees it. Recipe and Dye are
// numbers that tell recipes and sets of dyes apart; Dye 0 is undyed.
type Kind struct {
	Recipe, Dye int
	Natural     bool
	Drops       float64 // per gram of wax, for the order within a day
}

// Batch is what is wanted of one kind by one day.
type Batch struct {
	Kind int      // index into Shop.Kinds
	Due  day.Date // the last day to pour on
	// Turn is whose batch it is where not everything fits: 0 comes first.
	Turn  int
	Fixed float64 // minutes of a pour, however small
	Items []Item
}

// Item is a product of a batch.
type Item struct {
	Sort
	// Worth is what each good unit is worth, in the order in which they are
	// kept; it never rises.
	Worth []float64
	// Use is what a started unit takes of each of Shop.Stock.
	Use []float64
}

// Stock is a material that may not last: Held, in base units, is on hand, the
// rest is there from Arrives on.
type Stock struct {
	Held    float64
	Arrives day.Date
}

// Shop is everything that a plan has to keep to.
type Shop struct {
	Days    []day.Date // the pour days in order; the same day twice is two evenings
	Minutes float64    // of a pour day
	Pitcher float64    // g
	Reject  float64    // share of started units that fail
	Wipe    float64    // minutes to change to another recipe
	Wash    float64    // minutes to change from a dyed batch to another dye or none
	Kinds   []Kind
	Batches []Batch
	Stock   []Stock
	// Held are pours of Batches that already have their day.
	Held []Pour

	changes map[mask]sequence
	togo    []float64 // room for bestOrder
	leasts  map[string]int
}

// Pour is a pot: units of a batch's items, on a day (an index into Shop.Days).
type Pour struct {
	Batch int
	Units []int
	Day   int
}

// pot is what a pour of a batch can hold.
func (s *Shop) pot(b int) Pot { return Pot{s.Pitcher, s.Minutes - s.Batches[b].Fixed} }

// minutes is what a pour takes without its change-over.
func (s *Shop) minutes(b int, units []int) float64 {
	m := s.Batches[b].Fixed
	for i, n := range units {
		m += float64(n) * s.Batches[b].Items[i].Minutes
	}
	return m
}

// use adds what units of a batch take of a material.
func (s *Shop) use(b int, units []int, material int) float64 {
	u := 0.0
	for i, n := range units {
		u += float64(n) * s.Batches[b].Items[i].Use[material]
	}
	return u
}

// Good is how many good units come of started ones.
func (s *Shop) Good(started int) int { return int(calc.FloorOf(float64(started) * (1 - s.Reject))) }

// within reports whether v keeps to a limit.
func within(v, limit float64) bool { return v <= limit+math.Abs(limit)*slack }

// last is how many of the days can be used for a batch: those up to its due day.
func (s *Shop) last(b int) int {
	n := 0
	for n < len(s.Days) && s.Days[n] <= s.Batches[b].Due {
		n++
	}
	return n
}

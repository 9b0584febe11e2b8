// Package demo makes the rows of the demo book that a maker would write down
// over two years: sales, purchases and stock counts of an invented shop. The
// same rows come out every time.
package demo

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strconv"

	"pourbook/compute/day"
	"pourbook/templates"
)

// The demo's calendar: Today is the day on which the demo is run, Market the
// market it plans for, Jar the new jar size it prices.
var (
	Today = day.Of(2026, 11, 5)
	first = day.Of(2024, 11, 1)
	last  = day.Of(2026, 11, 4)
)

// Month is the month that the demo costs.
const Month = "2026-10"

// shop is the simulation: what is sold each day, and what the shelf then holds.
type shop struct {
	rnd      *rand.Rand
	sheets   map[string]*templates.Sheet
	products []product
	markets  map[day.Date]string
	shelf    map[string]float64 // in the unit of the material's pack
	order    int
	bill     int
}

// product is what the simulation knows of a product.
type product struct {
	code, twin string
	natural    bool
	opaque     bool
	recipe     string
	list       float64
	uses       map[string]float64 // material to amount per candle
}

// Sheets is the whole demo book.
func Sheets() []templates.Sheet {
	sheets := templates.DemoBook()
	s := &shop{rnd: rand.New(rand.NewPCG(1847, 12)), sheets: map[string]*templates.Sheet{}, shelf: map[string]float64{}, order: 1000, bill: 400}
	for i := range sheets {
		s.sheets[sheets[i].Name] = &sheets[i]
	}
	s.readProducts()
	s.readMarkets()
	for d := first; d <= last; d++ {
		s.buy(d)
		s.sellOnline(d)
		s.sellAtMarket(d)
		s.sellToShops(d)
		s.count(d)
	}
	return sheets
}

func (s *shop) add(sheet string, cells ...string) {
	s.sheets[sheet].Rows = append(s.sheets[sheet].Rows, cells)
}

// pull is how strongly each month pulls customers, January first.
var pull = [12]float64{0.55, 0.6, 0.65, 0.75, 0.75, 0.6, 0.5, 0.65, 1.0, 1.5, 1.9, 2.3}

// liking is how much a recipe is liked in winter, spring, summer and autumn.
var liking = map[string][4]float64{
	"Quince & Clove": {4, 2, 1, 5}, "Rain Barrel": {2, 4, 4, 2}, "Cedar Attic": {4, 2, 1, 3}, "Sea Lavender": {1, 2, 3, 1},
}

func quarter(d day.Date) int {
	_, m, _ := d.YMD()
	return m % 12 / 3
}

func (s *shop) strength(d day.Date) float64 {
	_, m, _ := d.YMD()
	years := float64(d-first) / 365
	return pull[m-1] * (1 + 0.12*years)
}

// pick draws a product: natural is forced for those who want nothing else.
func (s *shop) pick(d day.Date, onlyNatural bool) product {
	q := quarter(d)
	var pool []product
	var weights []float64
	total := 0.0
	for _, p := range s.products {
		w := liking[p.recipe][q]
		colored := [4]float64{0.92, 0.88, 0.86, 0.91}[q]
		if p.opaque {
			colored -= 0.13
		}
		switch {
		case onlyNatural && !p.natural:
			continue
		case onlyNatural || p.twin == "":
		case p.natural:
			w *= 1 - colored
		default:
			w *= colored
		}
		if p.opaque {
			w *= 1.3
		}
		if p.twin == "" {
			w *= 0.3
		}
		pool, weights, total = append(pool, p), append(weights, w), total+w
	}
	x := s.rnd.Float64() * total
	for i, w := range weights {
		if x -= w; x < 0 {
			return pool[i]
		}
	}
	return pool[len(pool)-1]
}

// price is the list price of the day: prices went up by a dollar in autumn 2025.
func (p product) price(d day.Date) float64 {
	if d < day.Of(2025, 9, 1) {
		return p.list - 1
	}
	return p.list
}

func (s *shop) sellOnline(d day.Date) {
	orders := s.poisson(1.3 * s.strength(d))
	for range orders {
		s.order++
		id := "W" + strconv.Itoa(s.order)
		n := int(220 * s.rnd.Float64() * s.rnd.Float64())
		customer := fmt.Sprintf("C%03d", n+1)
		onlyNatural := n%14 == 4
		lines := map[string]int{}
		for range 1 + s.poisson(0.7) {
			lines[s.pick(d, onlyNatural).code] += 1 + s.poisson(0.3)
		}
		for _, code := range slices.Sorted(maps.Keys(lines)) {
			s.sell(d, id, "Website", "", customer, s.product(code), lines[code])
		}
	}
}

func (s *shop) sellAtMarket(d day.Date) {
	market := s.markets[d]
	if market == "" {
		return
	}
	for range 24 + s.poisson(9*s.strength(d)) {
		s.sell(d, "", "Market stall", market, "", s.pick(d, s.rnd.IntN(16) == 0), 1+s.poisson(0.25))
	}
}

func (s *shop) sellToShops(d day.Date) {
	if (d-first)%38 != 9 {
		return
	}
	s.order++
	customer := []string{"Corner shop", "Garden shop", "Museum shop"}[s.rnd.IntN(3)]
	seen := map[string]bool{}
	for range 5 {
		p := s.pick(d, false)
		if seen[p.code] {
			continue
		}
		seen[p.code] = true
		id := "S" + strconv.Itoa(s.order)
		s.row(d, id, "Shops", "", customer, p, 4+2*s.rnd.IntN(2), p.price(d)*0.55, 0)
	}
}

func (s *shop) sell(d day.Date, order, channel, market, customer string, p product, n int) {
	price, discount := p.price(d), 0.0
	_, m, dom := d.YMD()
	if channel == "Website" && m == 11 && dom >= 24 {
		discount = price * float64(n) * 0.1
	}
	s.row(d, order, channel, market, customer, p, n, price, discount)
	if channel == "Website" && s.rnd.IntN(110) == 0 && d+6 <= last {
		s.row(d+6, order, channel, market, customer, p, -1, price, 0)
	}
}

func (s *shop) row(d day.Date, order, channel, market, customer string, p product, n int, price, discount float64) {
	off := ""
	if discount > 0 {
		off = cents(discount)
	}
	s.add("Sales", d.String(), order, channel, market, customer, p.code, strconv.Itoa(n), cents(price), off)
	for m, amount := range p.uses {
		s.shelf[m] -= amount * float64(n) * 1.035
	}
}

func cents(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

// poisson draws a count with the given mean.
func (s *shop) poisson(mean float64) int {
	n := 0
	for t := s.rnd.ExpFloat64(); t < mean; t += s.rnd.ExpFloat64() {
		n++
	}
	return n
}

func (s *shop) product(code string) product {
	i := slices.IndexFunc(s.products, func(p product) bool { return p.code == code })
	return s.products[i]
}

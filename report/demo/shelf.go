package demo

import (
	"math"
	"strconv"
	"strings"

	"pourbook/compute/day"
	"pourbook/compute/unit"
)

// readProducts takes from the sheets what each candle is made of. Refunds are
// left on the shelf of sold goods, as at the bench.
func (s *shop) readProducts() {
	opaque := map[string]bool{}
	ounces := map[string]float64{}
	for _, r := range s.sheets["Jars"].Rows {
		ounces[r[0]], _ = amount(r[1])
		opaque[r[0]] = r[2] == "yes"
	}
	twins := map[string]string{}
	for _, r := range s.sheets["Products"].Rows {
		list, _ := strconv.ParseFloat(r[5], 64)
		p := product{code: r[0], recipe: r[2], natural: r[4] == "natural", opaque: opaque[r[3]], list: list, uses: map[string]float64{}}
		s.fillJar(&p, ounces[r[3]])
		for _, part := range s.sheets["Jar parts"].Rows {
			if part[0] == r[3] {
				n, _ := amount(part[2])
				p.uses[part[1]] += n
			}
		}
		s.products = append(s.products, p)
		twins[r[2]+"|"+r[3]] += p.code + " "
	}
	for i, r := range s.sheets["Products"].Rows {
		if codes := strings.Fields(twins[r[2]+"|"+r[3]]); len(codes) == 2 {
			s.products[i].twin = codes[1]
		}
	}
}

// fillJar adds the melted materials of a jar, in the unit of their packs. The
// simulation may be rough: it takes the wax as 93 % of the fill.
func (s *shop) fillJar(p *product, ounces float64) {
	waxOz := 0.93 * ounces
	waxes := 0.0
	for _, r := range s.sheets["Recipes"].Rows {
		if r[0] == p.recipe && strings.Contains(r[1], "wax") {
			n, _ := amount(r[2])
			waxes += n
		}
	}
	for _, r := range s.sheets["Recipes"].Rows {
		if r[0] != p.recipe || p.natural && strings.Contains(r[1], "dye") {
			continue
		}
		n, _ := amount(r[2])
		switch r[3] {
		case "drops/lb": // to fluid ounces, at 24 drops per mL
			p.uses[r[1]] += n * waxOz / 16 / 24 / unit.MLPerFluidOz
		case "g/lb":
			p.uses[r[1]] += n * waxOz / 16
		case "oz/lb":
			p.uses[r[1]] += n * waxOz / 16
		case "% of wax":
			if strings.Contains(r[1], "wax") {
				p.uses[r[1]] += n / waxes * waxOz / 16 // pounds
			} else {
				p.uses[r[1]] += n / 100 * waxOz
			}
		default:
			p.uses[r[1]] += n / waxes * waxOz / 16
		}
	}
}

// amount is the number and the unit of text such as "3.5 oz".
func amount(s string) (float64, string) {
	n, u, _ := strings.Cut(s, " ")
	v, _ := strconv.ParseFloat(n, 64)
	return v, u
}

func (s *shop) readMarkets() {
	s.markets = map[day.Date]string{}
	for _, r := range s.sheets["Markets"].Rows {
		d, _ := day.Parse(r[1])
		days, _ := strconv.Atoi(r[2])
		for i := range days {
			s.markets[d+day.Date(i)] = r[0]
		}
	}
}

// drift is how prices have moved since the first year: fragrance went up most.
func drift(kind string, d day.Date) float64 {
	months := float64(d-first) / 30.4
	rate := map[string]float64{"fragrance": 0.006, "wax": 0.0035, "jar": 0.0025}[kind]
	factor := 1 + rate*(months-24)
	if kind == "fragrance" && d >= day.Of(2026, 10, 1) {
		factor += 0.07
	}
	return factor
}

// buy orders packs, once a week, of what runs low.
func (s *shop) buy(d day.Date) {
	if (d-first)%7 != 0 {
		return
	}
	seen := map[string]bool{}
	for _, r := range s.sheets["Materials"].Rows {
		size, _ := amount(r[2])
		low, packs := 0.8*size, 1.0
		if r[1] == "jar" || r[1] == "lid" {
			low, packs = 2.2*size, 3
		}
		if seen[r[0]] || s.shelf[r[0]] > low*s.strength(d) {
			continue
		}
		seen[r[0]] = true
		s.bill++
		price, _ := strconv.ParseFloat(r[3], 64)
		freight, _ := strconv.ParseFloat(r[4], 64)
		packs = math.Max(1, math.Round(packs*s.strength(d)))
		s.shelf[r[0]] += packs * size
		s.add("Purchases", d.String(), r[0], quantity(r[0], packs, r[2]), cents(price*packs*drift(r[1], d)), cents(freight*packs), r[5], "B"+strconv.Itoa(s.bill))
	}
}

// quantity says which pack where a material has two sizes.
func quantity(material string, packs float64, size string) string {
	n := strconv.FormatFloat(packs, 'f', -1, 64)
	if material == "Quince & clove oil" {
		return n + " x " + size
	}
	return n
}

// count writes down what the shelf holds at the end of the last two months.
func (s *shop) count(d day.Date) {
	if d != day.Of(2026, 9, 30) && d != day.Of(2026, 10, 31) {
		return
	}
	counted := map[string]bool{}
	for _, r := range s.sheets["Materials"].Rows {
		if k := r[1]; counted[r[0]] || k == "label" || k == "packaging" || k == "lid" {
			continue
		}
		counted[r[0]] = true
		_, u := amount(r[2])
		places := 1
		if u == "ct" {
			places = 0
		}
		if u == "fl oz" {
			places = 2
		}
		s.add("Stock counts", d.String(), r[0], strconv.FormatFloat(math.Max(0, s.shelf[r[0]]), 'f', places, 64)+" "+u)
	}
}

package parse

import (
	"slices"
	"strings"

	"pourbook/ingest/grid"
)

// Style is how the numbers of a column are written. Decimal is the decimal
// separator, '.' or ','; Known tells that the column shows it, otherwise it is
// the custom of the currency. The zero Style is a point, not known.
type Style struct {
	Decimal rune
	Known   bool
}

func (st Style) decimal() byte {
	if st.Decimal == ',' {
		return ','
	}
	return '.'
}

// commaCurrencies are those whose home writes a decimal comma (Unicode CLDR,
// numbers of the main locale of each).
var commaCurrencies = strings.Fields("EUR SEK NOK DKK ISK PLN CZK HUF RON BGN BRL ARS CLP COP UYU IDR VND TRY RUB UAH BYN RSD")

// Custom is the style of a currency's home, from its code such as "EUR".
func Custom(currency string) Style {
	if slices.Contains(commaCurrencies, strings.ToUpper(strings.TrimSpace(currency))) {
		return Style{Decimal: ','}
	}
	return Style{Decimal: '.'}
}

// Evidence gathers over the cells of a column how its numbers are written.
// The zero value is ready.
type Evidence struct{ point, comma bool }

// LookIn takes in a cell. Cells that are numbers show nothing.
func (e *Evidence) LookIn(c grid.Cell) {
	if c.Kind == grid.Text {
		e.Look(c.Raw)
	}
}

// Look takes in the text of a cell.
func (e *Evidence) Look(s string) {
	s = tidy(s)
	for start := 0; start < len(s); {
		if !numeric(s, start) {
			start++
			continue
		}
		end := start
		for end < len(s) && (numeric(s, end) || s[end] == ' ' && end+1 < len(s) && isDigit(s[end+1])) {
			end++
		}
		e.take(s[start:end])
		start = end
	}
}

func numeric(s string, i int) bool {
	switch c := s[i]; c {
	case '.', ',', '\'':
		return i+1 < len(s) && isDigit(s[i+1])
	default:
		return isDigit(c)
	}
}

func (e *Evidence) take(run string) {
	g := group(run)
	switch g.shows {
	case '.':
		e.point = true
	case ',':
		e.comma = true
	}
}

// Style is what the column shows, or custom where it shows nothing or both.
func (e *Evidence) Style(custom Style) Style {
	switch {
	case e.point && !e.comma:
		return Style{'.', true}
	case e.comma && !e.point:
		return Style{',', true}
	}
	return Style{Decimal: rune(custom.decimal())}
}

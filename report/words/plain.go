package words

import (
	"strings"
	"unicode"

	"pourbook/compute/cost"
	"pourbook/report/show"
	"pourbook/templates"
)

// Plain makes text from a book safe for a terminal and for one line: control
// characters and direction overrides become spaces, invalid UTF-8 a mark.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r), r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f:
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}

// Period is a period in words: "October 2026", or its first and last day.
func Period(p cost.Period) string {
	if p.OneMonth() {
		return show.Month(p.From.Month())
	}
	return templates.Text("period.range", "from", show.LongDate(p.From), "to", show.LongDate(p.To))
}

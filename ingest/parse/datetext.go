package parse

import (
	"strconv"
	"strings"
	"sync"
	"unicode"

	"pourbook/templates"
)

// dateParts is a date's text taken apart. With named the month is sure;
// otherwise a and b are day and month in an order that the column has to tell.
type dateParts struct {
	year, month, day int
	a, b             int
	sure             bool // year, month, day are known
	noYear           bool
	shortYear        bool // two digits
}

// read is the date with the order applied: month 0 when the order is not
// known, year -1 when it cannot be told from two digits.
func (p dateParts) read(order Order) (year, month, dom int) {
	year = p.year
	if p.shortYear {
		year = century(p.year)
	}
	if p.sure {
		return year, p.month, p.day
	}
	switch order {
	case DayFirst:
		return year, p.b, p.a
	case MonthFirst:
		return year, p.a, p.b
	}
	return year, 0, 0
}

// century reads a year of two digits: no candle of this book was sold before 2000.
func century(y int) int {
	if y < 70 {
		return 2000 + y
	}
	return -1
}

// cutDate takes a date's text apart: ISO and other year-first text, digits
// parted by / - or ., and names of months.
func cutDate(s string) (dateParts, bool) {
	words, named := dateWords(dropTime(tidy(s)))
	if named > 0 {
		return namedDate(words, named)
	}
	return digitDate(words)
}

// dropTime takes the time of day and its zone off.
func dropTime(s string) string {
	if i := strings.IndexByte(s, ':'); i > 0 {
		j := strings.LastIndexAny(s[:i], "T ,")
		if j < 0 {
			return s
		}
		return strings.TrimRight(s[:j], " ,")
	}
	return s
}

// dateWords are the numbers of a date's text, "month" where its name stands,
// and "?" for what has no place in a date. named is the number of the month, 0
// where no name stands.
func dateWords(s string) (words []string, named int) {
	for run := range strings.FieldsFuncSeq(s, func(r rune) bool { return strings.ContainsRune(" ,/-.", r) }) {
		digits := strings.TrimRightFunc(run, unicode.IsLetter)
		tail := strings.ToLower(run[len(digits):])
		switch {
		case digits == "" && monthNumber(tail) > 0 && named == 0:
			named = monthNumber(tail)
			words = append(words, "month")
		case digits == "" && isDayWord(tail):
		case digits != "" && (tail == "" || strings.Contains(" st nd rd th ", " "+tail+" ")):
			words = append(words, digits)
		default:
			words = append(words, "?")
		}
	}
	return words, named
}

var (
	months   = sync.OnceValue(func() []string { return templates.List("parse.months") })
	weekdays = sync.OnceValue(func() []string { return templates.List("parse.weekdays") })
)

func monthNumber(s string) int {
	for i, full := range months() {
		if s == full || len(s) >= 3 && len(s) <= 4 && strings.HasPrefix(full, s) {
			return i + 1
		}
	}
	return 0
}

func isDayWord(s string) bool {
	if s == "of" || s == "the" {
		return true
	}
	for _, full := range weekdays() {
		if s == full || len(s) >= 3 && len(s) <= 5 && strings.HasPrefix(full, s) {
			return true
		}
	}
	return false
}

func namedDate(words []string, month int) (dateParts, bool) {
	var n []int
	var size []int
	for _, w := range words {
		if w == "month" {
			continue
		}
		v := natural(w)
		if v < 0 {
			return dateParts{}, false
		}
		n, size = append(n, v), append(size, len(w))
	}
	p := dateParts{month: month, sure: true}
	switch {
	case len(n) == 1 && size[0] <= 2:
		p.day, p.noYear = n[0], true
	case len(n) == 2 && size[0] == 4 && size[1] <= 2:
		p.year, p.day = n[0], n[1]
	case len(n) == 2 && size[0] <= 2 && size[1] == 4:
		p.day, p.year = n[0], n[1]
	case len(n) == 2 && size[0] <= 2 && size[1] == 2:
		p.day, p.year, p.shortYear = n[0], n[1], true
	default:
		return dateParts{}, false
	}
	return p, true
}

func digitDate(words []string) (dateParts, bool) {
	if len(words) == 1 && len(words[0]) == 8 {
		if y, err := strconv.Atoi(words[0]); err == nil {
			return dateParts{year: y / 10000, month: y / 100 % 100, day: y % 100, sure: true}, true
		}
	}
	if len(words) < 2 || len(words) > 3 {
		return dateParts{}, false
	}
	var n [3]int
	for i, w := range words {
		if n[i] = natural(w); n[i] < 0 || len(w) > 4 {
			return dateParts{}, false
		}
	}
	if len(words[0]) > 2 {
		return dateParts{year: n[0], month: n[1], day: n[2], sure: true}, len(words) == 3 && len(words[0]) == 4 && len(words[1]) <= 2 && len(words[2]) <= 2
	}
	p := dateParts{a: n[0], b: n[1], year: n[2]}
	switch {
	case len(words[1]) > 2:
		return p, false
	case len(words) == 2:
		p.noYear = true
	case len(words[2]) == 2:
		p.shortYear = true
	case len(words[2]) != 4:
		return p, false
	}
	return p, true
}

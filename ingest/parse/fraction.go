package parse

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"pourbook/compute/money"
)

var vulgar = map[rune][2]int{
	'½': {1, 2}, '⅓': {1, 3}, '⅔': {2, 3}, '¼': {1, 4}, '¾': {3, 4}, '⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5},
	'⅙': {1, 6}, '⅚': {5, 6}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8},
}

// denominators are those that people weigh and measure with; "12/5" is no
// number but half a date.
var denominators = []int{2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64}

// fraction reads "½", "1½", "1 ½", "3/4", "1 1/2" and "1-1/2".
func fraction(s string) (money.Amount, bool) {
	whole, n, d := 0, 0, 0
	if r, size := utf8.DecodeLastRuneInString(s); vulgar[r][1] > 0 {
		n, d = vulgar[r][0], vulgar[r][1]
		s = s[:len(s)-size]
	} else {
		top, bottom, ok := strings.Cut(s, "/")
		if !ok {
			return money.Amount{}, false
		}
		i := strings.LastIndexAny(top, " -") + 1
		n, d = natural(top[i:]), natural(bottom)
		s = top[:i]
	}
	if rest := strings.TrimRight(s, " -"); rest != "" {
		whole = natural(rest)
	} else if s != "" {
		return money.Amount{}, false
	}
	if whole < 0 || n < 1 || n >= d || !slices.Contains(denominators, d) {
		return money.Amount{}, false
	}
	return money.Float(float64(whole) + float64(n)/float64(d)), true
}

// natural is a whole number of up to six digits, or -1.
func natural(s string) int {
	for i := range len(s) {
		if !isDigit(s[i]) {
			return -1
		}
	}
	n, err := strconv.Atoi(s)
	if err != nil || len(s) > 6 {
		return -1
	}
	return n
}

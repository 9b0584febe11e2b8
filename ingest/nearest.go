package ingest

import (
	"slices"
	"strings"

	"pourbook/compute/cell"
)

// longestName is the length from which a text is no name that somebody could
// have mistyped; comparing two of those takes seconds.
const longestName = 400

// Nearest is the known name that needs the fewest changed letters to be what
// was typed; else the only one that has all its words, or whose words it has
// all; "" when none is close. Case and spaces do not matter.
func Nearest(typed string, known []string) string {
	if len(typed) > longestName {
		return ""
	}
	typed = cell.Fold(typed)
	best, name := 1+len([]rune(typed))/3, ""
	for _, k := range known {
		if len(k) > longestName {
			continue
		}
		if d := distance(typed, cell.Fold(k), best); d < best {
			best, name = d, k
		}
	}
	if name == "" {
		return sharing(strings.Fields(typed), known)
	}
	return name
}

// sharing is the only known name that is longer or shorter than what was typed
// by whole words; "" when there is none, or several.
func sharing(typed []string, known []string) string {
	name := ""
	for _, k := range known {
		words := strings.Fields(cell.Fold(k))
		if len(typed) == 0 || !holds(words, typed) && !holds(typed, words) {
			continue
		}
		if name != "" && cell.Fold(name) != cell.Fold(k) {
			return ""
		}
		name = k
	}
	return name
}

// holds reports whether all of some words, at least one, are among others.
func holds(all, some []string) bool {
	return len(some) > 0 && !slices.ContainsFunc(some, func(w string) bool { return !slices.Contains(all, w) })
}

// distance is how many letters have to be added, dropped, changed, or swapped
// with a neighbor, to get from a to b. Above most it is only known to be more.
func distance(a, b string, most int) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) > most || len(y)-len(x) > most {
		return most + 1
	}
	var short [3][64]int // of most names
	before, last, row := short[0][:], short[1][:], short[2][:]
	if n := len(y) + 1; n > len(row) {
		before, last, row = make([]int, n), make([]int, n), make([]int, n)
	}
	for j := range len(y) + 1 {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			least = min(least, row[j])
		}
		if least > most {
			return most + 1
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}

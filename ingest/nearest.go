package ingest

import "pourbook/compute/cell"

// Nearest is the known name that needs the fewest changed letters to be what
// was typed; "" when none is close. Case and spaces do not matter.
func Nearest(typed string, known []string) string {
	typed = cell.Fold(typed)
	best, name := 1+len([]rune(typed))/3, ""
	for _, k := range known {
		if d := distance(typed, cell.Fold(k), best); d < best {
			best, name = d, k
		}
	}
	return name
}

// distance is how many letters have to be added, dropped, changed, or swapped
// with a neighbor, to get from a to b. Above most it is only known to be more.
func distance(a, b string, most int) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) > most || len(y)-len(x) > most {
		return most + 1
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
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

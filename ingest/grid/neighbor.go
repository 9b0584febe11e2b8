package grid

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// neighbors are up to three books in the folder of path whose names are near.
func neighbors(path string) []string {
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return nil
	}
	asked := strings.ToLower(filepath.Base(path))
	type near struct {
		name string
		far  int
	}
	var found []near
	for _, e := range entries {
		name := strings.ToLower(e.Name())
		ext := filepath.Ext(name)
		if e.IsDir() || strings.HasPrefix(name, "~$") || strings.HasPrefix(name, ".") ||
			!slices.Contains(bookExtensions, ext) && !slices.Contains(textExtensions, ext) {
			continue
		}
		far := min(distance(asked, name), distance(stem(asked), stem(name)))
		if far <= max(1, len([]rune(stem(asked)))/3) {
			found = append(found, near{e.Name(), far})
		}
	}
	slices.SortStableFunc(found, func(a, b near) int { return a.far - b.far })
	var out []string
	for _, n := range found[:min(3, len(found))] {
		out = append(out, n.name)
	}
	return out
}

func stem(name string) string { return strings.TrimSuffix(name, filepath.Ext(name)) }

// distance is the number of letters to insert, delete or replace.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		diagonal := row[0]
		row[0] = i + 1
		for j := range y {
			cost := diagonal
			if x[i] != y[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(y)]
}

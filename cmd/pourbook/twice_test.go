//go:build unix

package main

import (
	"maps"
	"path/filepath"
	"testing"

	"pourbook/compute/oracle"
)

// Runs at once into one folder leave all documents of one of them.
func TestRunsAtOnceDoNotMix(t *testing.T) {
	rounds := 5
	if oracle.Brief() {
		rounds = 2
	}
	dir := t.TempDir()
	book, out := bookIn(t, dir), filepath.Join(dir, "reports")
	all := wholeEditions(t, book)
	program(t)
	won := map[int]int{}
	for range rounds {
		ends := make(chan ended, 4)
		for i := range cap(ends) {
			cmd := start(t, "", costOf(book, out, "--quiet", "--paper", papersInTurn[i%2])...)
			go func() { ends <- finish(t, cmd) }()
		}
		for range cap(ends) {
			if r := <-ends; r.status != exitDone {
				t.Errorf("exit status %d: %s", r.status, r.err)
			}
		}
		switch got := contents(t, out); {
		case maps.Equal(got, all[0]):
			won[0]++
		case maps.Equal(got, all[1]):
			won[1]++
		default:
			t.Errorf("%d documents of several runs", len(got))
		}
	}
	t.Logf("the sets of %v were left", won)
}

package main

import "testing"

func TestSmallHeapsAreLetBe(t *testing.T) {
	const mb = 1 << 20
	for _, c := range []struct{ live, least, most uint64 }{{0, 16, 16}, {2, 14, 16}, {7, 16, 16}, {15, 22, 23}, {16, 88, 88}, {32, 104, 104}, {50, 122, 122}, {80, 160, 160}, {1000, 2000, 2000}} {
		sweep := max(c.live*mb, firstSweep) / 100 * uint64(percent(c.live*mb))
		if c.live*mb >= firstSweep {
			sweep += c.live * mb
		}
		if got := (sweep + mb/2) / mb; got < c.least || got > c.most {
			t.Errorf("a heap of %d MB in use is swept at %d MB, want %d to %d", c.live, got, c.least, c.most)
		}
	}
}

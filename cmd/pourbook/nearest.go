package main

import "github.com/xrash/smetrics"

// nearest is the name most like what was typed; "" when none is close.
func nearest(typed string, names []string) string {
	best, score := "", 0.75
	for _, n := range names {
		if s := smetrics.JaroWinkler(typed, n, 0.7, 4); s > score {
			best, score = n, s
		}
	}
	return best
}

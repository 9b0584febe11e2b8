package main

import "strings"

// quoteAll joins words so that a shell reads them back, as the demo shows them.
func quoteAll(args []string) string {
	out := make([]string, len(args))
	for i, a := range args {
		if strings.ContainsAny(a, " '\"&()$;") {
			a = `"` + a + `"`
		}
		out[i] = a
	}
	return strings.Join(out, " ")
}

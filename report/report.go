// Package report turns results into documents, JSON and the terminal's summary.
package report

import (
	"pourbook/compute/day"
)

// Options are those of the documents.
type Options struct {
	Paper string // "Letter" or "A4"
	Today day.Date
	Shop  string // stands at the foot of every page
}

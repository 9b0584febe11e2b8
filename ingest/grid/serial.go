package grid

import (
	"math"

	"pourbook/compute/day"
)

// A spreadsheet counts days from 1900, with a 29 February 1900 that never was
// (serial number 60), or from 1904 (ECMA-376 part 1, 18.17.4.1).
var (
	epoch1900  = day.Of(1899, 12, 30)
	days1904   = int(day.Of(1904, 1, 1) - epoch1900)
	lastSerial = int(day.Of(9999, 12, 31) - epoch1900)
)

// serialDay is the day of a serial number, its time of day dropped; day.None
// when it is no day of the calendar. A second is 1.2e-5 of a day; what lies
// closer to midnight is rounding of the file.
func serialDay(serial float64, since1904 bool) day.Date {
	n := math.Floor(serial + 1e-6)
	if since1904 {
		n += float64(days1904)
	}
	switch {
	case !(n >= 1 && n <= float64(lastSerial)), n == 60:
		return day.None
	case n < 60:
		return epoch1900 + day.Date(n) + 1
	}
	return epoch1900 + day.Date(n)
}

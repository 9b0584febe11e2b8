package xlsx

import "pourbook/compute/calc"

// salesSheet is the sheet of the period's sales lines.
type salesSheet struct{}

func (s *salesSheet) covers(*calc.Figure) bool    { return false }
func (s *salesSheet) formula(*calc.Figure) string { return "" }
func (b *builder) sales(*salesSheet)              {}

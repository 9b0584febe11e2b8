package xlsx

import (
	"bytes"
	"testing"

	"pourbook/compute/cost"
	"pourbook/compute/day"
)

func TestCostWorkbookRecalculates(t *testing.T) {
	for name, x := range map[string]struct {
		shape
		cost.Period
		office bool // starting LibreOffice takes long
	}{
		"latest":         {shape{days: 420}, october(), true},
		"average":        {shape{days: 150, purchases: true}, october(), false},
		"fifo":           {shape{days: 150, purchases: true, method: "fifo"}, october(), true},
		"pours":          {shape{days: 90, purchases: true, pours: true}, october(), false},
		"half a year":    {shape{days: 400, purchases: true}, cost.Period{From: day.Of(2026, 5, 12), To: day.Of(2026, 10, 20)}, true},
		"all, wholly":    {shape{days: 500}, cost.Period{From: day.Of(2024, 11, 1), To: lastDay}, false},
		"without a sale": {shape{days: 40}, cost.Period{From: day.Of(2026, 8, 1), To: day.Of(2026, 8, 31)}, false},
	} {
		t.Run(name, func(t *testing.T) {
			_, data := costOf(t, makeBook(x.shape), x.Period)
			if n := checkRecalculated(t, data, gnumeric); n < 300 {
				t.Errorf("only %d formulas compared with Gnumeric's", n)
			}
			if x.office {
				checkRecalculated(t, data, office)
			}
		})
	}
}

func TestCostWorkbookIsTheSameEveryTime(t *testing.T) {
	_, a := costOf(t, makeBook(shape{days: 150, purchases: true}), october())
	_, b := costOf(t, makeBook(shape{days: 150, purchases: true}), october())
	if !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
}

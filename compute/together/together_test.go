package together

import "testing"

func TestAllRunAtTheSameTime(t *testing.T) {
	met := make(chan bool)
	a, b := false, false
	Run(func() { <-met; <-met }, func() { met <- true; a = true }, func() { met <- true; b = true })
	if !a || !b {
		t.Error("Run returned before all had ended")
	}
}

func TestPanicOfAnyIsTheCallers(t *testing.T) {
	quiet, loud := func() {}, func() { panic("fault") }
	for _, fs := range [][3]func(){{loud, quiet, quiet}, {quiet, loud, quiet}, {quiet, quiet, loud}, {loud, loud, loud}} {
		func() {
			defer func() {
				if got := recover(); got != "fault" {
					t.Errorf("recovered %v", got)
				}
			}()
			Run(fs[0], fs[1], fs[2])
		}()
	}
}

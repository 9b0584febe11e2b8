// Package together runs functions at the same time.
package together

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Run runs here in its caller's goroutine and the others beside it, as many at a
// time as there are processors, and returns when all have ended. The others begin
// in their order, so one may wait for here and for those before it. What one of
// them panics with, the caller panics with, so that whoever deals with faults of
// the program sees it.
func Run(here func(), beside ...func()) {
	var wait sync.WaitGroup
	var begun atomic.Int32
	faults := make([]any, len(beside))
	for range min(len(beside), runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := int(begun.Add(1)); i <= len(beside); i = int(begun.Add(1)) {
				faults[i-1] = faultOf(beside[i-1])
			}
		})
	}
	defer func() {
		wait.Wait()
		for _, fault := range faults {
			if fault != nil {
				panic(fault)
			}
		}
	}()
	here()
}

// faultOf is what f panics with.
func faultOf(f func()) (fault any) {
	defer func() { fault = recover() }()
	f()
	return nil
}

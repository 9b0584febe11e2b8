// Package together runs functions at the same time.
package together

import "sync"

// Run runs here in its caller's goroutine and the others beside it, and returns
// when all have ended. What one of them panics with, the caller panics with, so
// that whoever deals with faults of the program sees it.
func Run(here func(), beside ...func()) {
	var wait sync.WaitGroup
	faults := make([]any, len(beside))
	for i, f := range beside {
		wait.Go(func() {
			defer func() { faults[i] = recover() }()
			f()
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

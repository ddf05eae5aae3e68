package aero

import (
	"runtime"
	"sync"
)

// OnAll calls do with 0 to n-1, spread over all processors. The calls must not
// disturb one another.
func OnAll(n int, do func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	var wait sync.WaitGroup
	for w := range workers {
		wait.Go(func() {
			for i := w; i < n; i += workers {
				do(i)
			}
		})
	}
	wait.Wait()
}

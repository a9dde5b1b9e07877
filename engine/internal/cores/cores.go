// Package cores shares independent pieces of work among the cores of the machine.
package cores

import (
	"runtime"
	"sync"
)

// Do does n pieces of work on all cores; do is told which worker it is.
func Do(n int, do func(worker, i int)) {
	jobs := make(chan int)
	var wg sync.WaitGroup
	for w := range Workers(n) {
		wg.Go(func() {
			for i := range jobs {
				do(w, i)
			}
		})
	}
	for i := range n {
		jobs <- i
	}
	close(jobs)
	wg.Wait()
}

// Workers is how many goroutines share n pieces of work.
func Workers(n int) int { return min(runtime.GOMAXPROCS(0), max(1, n)) }

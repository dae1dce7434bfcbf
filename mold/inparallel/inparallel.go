// Package inparallel runs independent pieces of work on the machine's cores, with
// results that do not depend on how many there are.
package inparallel

import (
	"runtime"
	"sync"
)

// workers is how many goroutines share the work of one mold. More would not help: its
// parts are few, and two of them are most of the work.
const workers = 2

// Do runs f for 0 to n-1, in the order of their start, and returns when all have
// ended. Each index must write only its own results.
func Do(n int, f func(i int)) { share(workers, n, f) }

// Wide is Do with as many at once as there are cores, for many molds.
func Wide(n int, f func(i int)) { share(runtime.GOMAXPROCS(0), n, f) }

func share(workers, n int, f func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(workers, n) {
		wg.Go(func() {
			for i := range next {
				f(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

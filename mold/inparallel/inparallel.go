// Package inparallel runs independent pieces of work on the machine's cores, with
// results that do not depend on how many there are.
package inparallel

import "sync"

// workers is how many goroutines share the work. More would not help: a mold's
// parts are few, and two of them are most of the work.
const workers = 2

// Do runs f for 0 to n-1, in the order of their start, and returns when all have
// ended. Each index must write only its own results.
func Do(n int, f func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range workers {
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

package inparallel

import (
	"runtime"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

// As many pieces of work run at once as there are workers, no more and no fewer: each
// holds the memory of a mold. The clock of the test stands still while one can go on.
func TestAsManyAtOnceAsWorkers(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(3))
	for _, c := range []struct {
		name    string
		do      func(int, func(int))
		n, want int
	}{
		{"Do", Do, 0, 0}, {"Do", Do, 1, 1}, {"Do", Do, 2, 2}, {"Do", Do, 20, workers},
		{"Wide", Wide, 1, 1}, {"Wide", Wide, 2, 2}, {"Wide", Wide, 20, 3},
	} {
		synctest.Test(t, func(t *testing.T) {
			var mu sync.Mutex
			running, most := 0, 0
			count := func(d int) {
				mu.Lock()
				defer mu.Unlock()
				running += d
				most = max(most, running)
			}
			start := time.Now()
			c.do(c.n, func(int) {
				count(1)
				time.Sleep(time.Second)
				count(-1)
			})
			if most != c.want {
				t.Errorf("%s of %d: %d at once, want %d", c.name, c.n, most, c.want)
			}
			rounds := 0
			if c.want > 0 {
				rounds = (c.n + c.want - 1) / c.want
			}
			if got := time.Since(start); got != time.Duration(rounds)*time.Second {
				t.Errorf("%s of %d pieces of a second took %v, want %d s", c.name, c.n, got, rounds)
			}
		})
	}
}

// Work starts in the order of its numbers: what takes long may be put first.
func TestStartsInOrder(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		begun := time.Now()
		at := make([]time.Duration, 5)
		Do(len(at), func(i int) {
			at[i] = time.Since(begun)
			time.Sleep(time.Second)
		})
		for i, got := range at {
			if want := time.Duration(i/workers) * time.Second; got != want {
				t.Errorf("piece %d began after %v, want %v", i, got, want)
			}
		}
	})
}

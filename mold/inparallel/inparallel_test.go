package inparallel

import (
	"sync/atomic"
	"testing"
)

// Every index is worked on once, and all are done when Do returns.
func TestDo(t *testing.T) {
	for _, n := range []int{0, 1, 2, 100} {
		var sum atomic.Int64
		seen := make([]int, n)
		Do(n, func(i int) {
			seen[i]++
			sum.Add(int64(i))
		})
		for i, k := range seen {
			if k != 1 {
				t.Errorf("index %d of %d was run %d times", i, n, k)
			}
		}
		if want := int64(n * (n - 1) / 2); sum.Load() != want {
			t.Errorf("%d indices add up to %d, want %d", n, sum.Load(), want)
		}
	}
}

package inparallel

import (
	"sync/atomic"
	"testing"
)

// Every index is worked on once, and all are done when the call returns.
func TestEachOnce(t *testing.T) {
	for name, do := range map[string]func(int, func(int)){"Do": Do, "Wide": Wide} {
		for _, n := range []int{0, 1, 2, 100} {
			var sum atomic.Int64
			seen := make([]int, n)
			do(n, func(i int) {
				seen[i]++
				sum.Add(int64(i))
			})
			for i, k := range seen {
				if k != 1 {
					t.Errorf("%s: index %d of %d was run %d times", name, i, n, k)
				}
			}
			if want := int64(n * (n - 1) / 2); sum.Load() != want {
				t.Errorf("%s: %d indices add up to %d, want %d", name, n, sum.Load(), want)
			}
		}
	}
}

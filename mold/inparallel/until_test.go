package inparallel

import (
	"context"
	"errors"
	"testing"
	"testing/synctest"
)

// Work that does not end is left behind as soon as the context is over. Where it were
// not, nothing could go on in here, which fails the test.
func TestLeavesWorkBehind(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, cancel := context.WithCancel(context.Background())
		begun, release := make(chan struct{}), make(chan struct{})
		go func() { <-begun; cancel() }()
		v, err := Until(ctx, func() (int, error) {
			close(begun)
			<-release
			return 1, nil
		})
		if v != 0 || !errors.Is(err, context.Canceled) {
			t.Errorf("got %d, %v", v, err)
		}
		close(release)
	})
}

// Work that ends has its say, be it an error.
func TestWaitsForWork(t *testing.T) {
	want := errors.New("no space left")
	if v, err := Until(context.Background(), func() (int, error) { return 7, want }); v != 7 || err != want {
		t.Errorf("got %d, %v", v, err)
	}
}

package main

import (
	"context"
	"errors"
	"testing"
	"testing/synctest"

	"wheelmold/mold/study"
	"wheelmold/params"
)

// A study that does not end is left behind as soon as the context is over, and warns
// nobody from then on. Where it were not, nothing could go on in here, which fails the test.
func TestStudyingIsLeftBehind(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, cancel := context.WithCancel(context.Background())
		release, warned := make(chan struct{}), 0
		x, err := studying(ctx, study.Options{Warn: func(params.Faults) { warned++ }}, func(o study.Options) (*study.Result, error) {
			o.Warn(params.Faults{{Cause: "in time"}})
			cancel()
			<-release
			o.Warn(params.Faults{{Cause: "late"}})
			return &study.Result{}, nil
		})
		if x != nil || !errors.Is(err, context.Canceled) {
			t.Errorf("got %v, %v", x, err)
		}
		close(release)
		synctest.Wait()
		if warned != 1 {
			t.Errorf("warned %d times, want once", warned)
		}
	})
}

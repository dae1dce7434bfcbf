package inparallel

import "context"

// Until runs work that cannot be canceled, and leaves it behind when the context is
// over: then it returns the context's error at once, and work goes on unheeded. It must
// write nothing that its caller reads in that case.
func Until[T any](ctx context.Context, work func() (T, error)) (T, error) {
	type outcome struct {
		v   T
		err error
	}
	done := make(chan outcome, 1)
	go func() {
		v, err := work()
		done <- outcome{v, err}
	}()
	select {
	case o := <-done:
		return o.v, o.err
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}

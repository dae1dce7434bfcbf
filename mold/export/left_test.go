package export

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

// A file that takes long is left behind when the context is over, in the middle of it or
// before what follows it, and can bring nothing of the folder back.
func TestLeavesSlowFiles(t *testing.T) {
	parent := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	release, ended := make(chan struct{}), make(chan struct{})
	free := sync.OnceFunc(func() { close(release) })
	waited := time.AfterFunc(time.Minute, free) // a folder that waits for its file fails, and does not hang
	slow := File{"picture.png", func(w io.Writer) error {
		defer close(ended)
		cancel()
		<-release
		_, err := w.Write(make([]byte, 1<<20))
		if !errors.Is(err, context.Canceled) {
			t.Errorf("writing what was left behind: %v", err)
		}
		return err
	}}
	_, err := Write(ctx, options(t, filepath.Join(parent, "out")), made(parts(), slow, note("late")))
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	if !waited.Stop() {
		t.Error("the folder waited for its file")
	}
	for _, when := range []string{"at the end", "once the file ended"} {
		if left, _ := os.ReadDir(parent); len(left) > 0 {
			t.Errorf("%s left behind: %v", when, left)
		}
		free()
		<-ended
	}
}

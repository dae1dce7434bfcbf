package outdir

import (
	"context"
	"io"
	"path/filepath"
	"testing"
)

// Whoever writes on after the folder was discarded makes nothing, neither with a file
// that was open nor with another one.
func TestWritingAfterDiscard(t *testing.T) {
	dir := t.TempDir()
	f, err := Create(context.Background(), filepath.Join(dir, "out"), false)
	if err != nil {
		t.Fatal(err)
	}
	f.Write("open", func(w io.Writer) error {
		if err := f.Discard(); err != nil {
			t.Error(err)
		}
		_, err := io.WriteString(w, "late")
		return err
	})
	begun := false
	err = f.Write("late", func(io.Writer) error { begun = true; return nil })
	if err == nil || begun {
		t.Errorf("a file was begun: %v, error %v", begun, err)
	}
	expect(t, dir)
}

// A folder whose context is over begins no more files.
func TestBeginsNoFileOnceCanceled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	f, err := Create(ctx, filepath.Join(t.TempDir(), "out"), false)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Discard()
	cancel()
	begun := false
	if err := f.Write("late", func(io.Writer) error { begun = true; return nil }); err == nil || begun {
		t.Errorf("a file was begun: %v, error %v", begun, err)
	}
}

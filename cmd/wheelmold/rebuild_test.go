package main

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// What a save of a small wheel costs while it is watched, in a warm process.
func BenchmarkRebuild(b *testing.B) {
	src, err := os.ReadFile("../../examples/wren.toml")
	if err != nil {
		b.Fatal(err)
	}
	flags := &buildFlags{meshFlags: meshFlags{tolerance: meshTolerance(), out: filepath.Join(b.TempDir(), "wren")}, force: true}
	for b.Loop() {
		job := &source{name: "wren.toml", bytes: src, sets: &settings{}, warnings: []string{}}
		if _, _, err := buildFolder(context.Background(), io.Discard, job, flags.making(nil)); err != nil {
			b.Fatal(err)
		}
	}
}

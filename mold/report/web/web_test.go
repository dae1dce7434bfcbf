package web

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// recorded reads bundle/sources.sha256: the SHA-256 in hex by file.
func recorded(t *testing.T) map[string]string {
	t.Helper()
	list, err := os.ReadFile("bundle/sources.sha256")
	if err != nil {
		t.Fatal(err)
	}
	sums := map[string]string{}
	for line := range strings.Lines(string(list)) {
		sum, file, ok := strings.Cut(strings.TrimSpace(line), "  ")
		if !ok {
			t.Fatalf("sources.sha256: line %q", line)
		}
		sums[file] = sum
	}
	return sums
}

// Who changes a source and forgets the bundle would ship another script than the one
// that was read and tried.
func TestBundleBelongsToItsSources(t *testing.T) {
	sums := recorded(t)
	want := []string{"bundle/viewer.js", "package.json", "package-lock.json", "generate/main.go"}
	sources, err := filepath.Glob("src/*")
	if err != nil || len(sources) == 0 {
		t.Fatalf("no sources, error %v", err)
	}
	for _, s := range sources {
		want = append(want, filepath.ToSlash(s))
	}
	for _, f := range want {
		data, err := os.ReadFile(filepath.FromSlash(f))
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprintf("%x", sha256.Sum256(data)); got != sums[f] {
			t.Errorf("%s has changed: run npm ci and go generate in mold/report/web", f)
		}
	}
	for f := range sums {
		if !slices.Contains(want, f) {
			t.Errorf("%s is gone: run npm ci and go generate in mold/report/web", f)
		}
	}
}

// The page is one file that asks nobody for anything and allows nothing else.
func TestViewerKeepsToThePage(t *testing.T) {
	if i := strings.Index(strings.ToLower(Viewer), "</script"); i >= 0 {
		t.Errorf("ends its element at byte %d", i)
	}
	for i := range len(Viewer) {
		if Viewer[i] >= 0x80 || Viewer[i] == '\r' {
			t.Fatalf("byte %#x at %d: a page in another encoding would break its hash", Viewer[i], i)
		}
	}
	for _, never := range []string{"eval(", "new Function", "importScripts", "sourceMappingURL", "node_modules"} {
		if strings.Contains(Viewer, never) {
			t.Errorf("contains %q", never)
		}
	}
	const most = 650 << 10
	if len(Viewer) > most {
		t.Errorf("%d bytes, more than %d", len(Viewer), most)
	}
}

// The license of three.js goes with every copy.
func TestViewerHoldsItsLicense(t *testing.T) {
	head, _, _ := strings.Cut(Viewer, "*/")
	for _, words := range []string{"three.js authors", "Permission is hereby granted, free of charge", "THE SOFTWARE IS PROVIDED \"AS IS\""} {
		if !strings.Contains(head, words) {
			t.Errorf("the first comment does not contain %q", words)
		}
	}
}

package web

import (
	"os"
	"slices"
	"strings"
	"testing"

	"wheelmold/mold/report/web/sources"
)

// Who changes a source and forgets the bundle would ship another script than the one
// that was read and tried.
func TestBundleBelongsToItsSources(t *testing.T) {
	recorded, err := os.ReadFile(sources.Record)
	if err != nil {
		t.Fatal(err)
	}
	now, err := sources.Checksums(".", "../../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	was, is := strings.Split(string(recorded), "\n"), strings.Split(string(now), "\n")
	for _, line := range is {
		if !slices.Contains(was, line) {
			t.Errorf("the bundle was not made from %q: run npm ci and go generate in mold/report/web", line)
		}
	}
	for _, line := range was {
		if !slices.Contains(is, line) {
			t.Errorf("the bundle was made from %q: run npm ci and go generate in mold/report/web", line)
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

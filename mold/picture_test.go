package mold

import (
	"bytes"
	"flag"
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the pictures in testdata")

// madeKestrel is the example that the pictures show.
func madeKestrel(t *testing.T, tolerance float64) *Made {
	t.Helper()
	m, err := New(example(t, "../examples/kestrel.toml"))
	if err != nil {
		t.Fatal(err)
	}
	made, err := m.Make(MakeOptions{Tolerance: tolerance})
	if err != nil {
		t.Fatal(err)
	}
	return made
}

func pixels(m image.Image) *image.RGBA {
	out := image.NewRGBA(m.Bounds())
	draw.Draw(out, out.Rect, m, m.Bounds().Min, draw.Src)
	return out
}

// The pictures shown to readers are what the program draws. Where facets are laid
// otherwise within their tolerance, lines move by a part of a pixel: meshes of 0.015
// and 0.03 mm differ from those of 0.02 mm by more than maxOff in 130 and 320
// pixels of 1,080,000. A single bolt hole covers 400.
func TestPicturesShowTheProgram(t *testing.T) {
	const (
		maxOff   = 12
		maxShare = 0.0003
		maxBytes = 200_000 // a page that shows them should load at once
	)
	made := madeKestrel(t, .02)
	for name, got := range map[string]image.Image{
		"kestrel": made.Exploded(1200), "kestrel-section": made.Section(1200), "kestrel-shell-a": made.Piece("shell-a", 1200),
	} {
		path := filepath.Join("testdata", "pictures", name+".png")
		if *update {
			writePicture(t, path, got)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if len(data) > maxBytes {
			t.Errorf("%s: %d bytes, more than %d", path, len(data), maxBytes)
		}
		want, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		a, b := pixels(got), pixels(want)
		if a.Rect != b.Rect {
			t.Fatalf("%s is %v, drawn now %v", path, b.Rect, a.Rect)
		}
		off := 0
		for i := 0; i < len(a.Pix); i += 4 {
			for k := range 3 {
				if d := int(a.Pix[i+k]) - int(b.Pix[i+k]); d > maxOff || -d > maxOff {
					off++
					break
				}
			}
		}
		t.Logf("%s: %d bytes, %d pixels differ", path, len(data), off)
		if share := float64(off) / float64(len(a.Pix)/4); share > maxShare {
			t.Errorf("%s: %.3f %% of the pixels differ; look at it, then run: go test ./mold -run Picture -update", path, 100*share)
		}
	}
}

func writePicture(t *testing.T, path string, m image.Image) {
	t.Helper()
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestCompression}
	if err := e.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// The same mold gives the same picture on any number of cores.
func TestPictureIsTheSameEverywhere(t *testing.T) {
	made := madeKestrel(t, .05)
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	apart, cut, lid := pixels(made.Exploded(240)), pixels(made.Section(240)), pixels(made.Piece("lid", 240))
	runtime.GOMAXPROCS(5)
	if !bytes.Equal(pixels(made.Exploded(240)).Pix, apart.Pix) || !bytes.Equal(pixels(made.Section(240)).Pix, cut.Pix) || !bytes.Equal(pixels(made.Piece("lid", 240)).Pix, lid.Pix) {
		t.Error("pictures differ between one core and five")
	}
	if bytes.Equal(apart.Pix, cut.Pix) {
		t.Error("exploded view and section are the same")
	}
}

// Every piece that was made has a picture of its own, and no other has one.
func TestPictureOfEachPiece(t *testing.T) {
	made := madeKestrel(t, .05)
	shown := map[string]string{}
	for _, p := range made.Parts {
		name := p.Piece.Name
		pix := string(pixels(made.Piece(name, 120)).Pix)
		if other, ok := shown[pix]; ok {
			t.Errorf("%s and %s look alike", name, other)
		}
		shown[pix] = name
	}
	if len(shown) != 5 {
		t.Errorf("%d pictures", len(shown))
	}
	if made.Parts = made.Parts[:1]; made.Piece("hub", 120) != nil {
		t.Error("there is a picture of what was not made")
	}
}

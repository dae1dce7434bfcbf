package dxf

import (
	"bytes"
	"math"
	"reflect"
	"strings"
	"testing"

	"wheelmold/mesh/outline"
)

func arcTo(to, c Point, r float64, ccw bool) outline.Segment {
	return outline.Segment{To: to, Center: c, Radius: r, CCW: ccw}
}

func written(t testing.TB, d *Drawing) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func read(t testing.TB, b []byte) *Drawing {
	t.Helper()
	d, err := Read(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// all holds one of each entity, and numbers that no decimal fraction holds.
func all() *Drawing {
	d := &Drawing{Layers: []Layer{{"OUTLINE", 7, Continuous}, {"CENTER-LINES", 1, Center}, {"BEHIND_$2", 3, Hidden}}}
	d.Add("OUTLINE", Line{Point{-1. / 3, 1e-7}, Point{1e3 / 7, 2}})
	d.Add("OUTLINE", Arc{Point{1, 2}, math.Pi, 350.5, 10.25})
	d.Add("BEHIND_$2", Circle{Point{-5, 1. / 16384}, 3.25})
	d.Add("0", Dot{Point{4, -4}})
	d.Add("CENTER-LINES", Polyline{true, []Vertex{{Point{0, 0}, 0}, {Point{1, 0}, math.Sqrt2 - 1}, {Point{0, 1}, -1}}})
	d.Add("CENTER-LINES", Polyline{false, []Vertex{{Point{0, 0}, 0}, {Point{1, .1}, 0}, {Point{2, .5}, 0}}})
	d.Add("0", Text{Point{1, 1}, 3.5, "Ø 5 \u2264 ½, 100% 50%%c ^J \\U+0041 Σ"})
	return d
}

func TestReadGivesBackWhatWasWritten(t *testing.T) {
	want := all()
	b := written(t, want)
	if got := read(t, b); !reflect.DeepEqual(got, want) {
		t.Errorf("read\n%+v, wrote\n%+v", got, want)
	}
	if !bytes.Equal(b, written(t, all())) {
		t.Error("the same drawing gives other bytes")
	}
	if i := bytes.IndexFunc(b, func(r rune) bool { return r > '~' }); i >= 0 {
		t.Errorf("byte %d is not ASCII", i)
	}
}

// The definition of bulge: tan(θ/4). A quarter turn, half a turn, and a sixth.
func TestBulge(t *testing.T) {
	c := Point{10, 20}
	at := func(deg float64) Point {
		s, k := math.Sincos(deg * math.Pi / 180)
		return Point{c[0] + 5*k, c[1] + 5*s}
	}
	for _, x := range []struct {
		deg, want float64
		ccw       bool
	}{{90, .41421356237, true}, {180, 1, true}, {60, .26794919243, true}, {-90, -.41421356237, false}, {-180, -1, false}} {
		p := outline.Path{Start: at(30), Segments: []outline.Segment{arcTo(at(30+x.deg), c, 5, x.ccw), {To: Point{0, 0}}}}
		line := Of(p).(Polyline)
		if got := line.Vertices[0].Bulge; math.Abs(got-x.want) > 1e-10 {
			t.Errorf("%g°: bulge %v, want %v", x.deg, got, x.want)
		}
		s := line.Path().Segments[0]
		if dist(s.Center, c) > 1e-9 || math.Abs(s.Radius-5) > 1e-9 || s.CCW != x.ccw {
			t.Errorf("%g°: an arc about %v of radius %v, ccw %v, of its bulge", x.deg, s.Center, s.Radius, s.CCW)
		}
	}
}

func TestPathsAreWhatTheyAre(t *testing.T) {
	half := []outline.Segment{arcTo(Point{-1, 0}, Point{}, 1, true), arcTo(Point{1, 0}, Point{}, 1, true)}
	turned := []outline.Segment{arcTo(Point{-1, 0}, Point{}, 1, false), arcTo(Point{1, 0}, Point{}, 1, false)}
	lens := []outline.Segment{arcTo(Point{-1, 0}, Point{}, 1, true), arcTo(Point{1, 0}, Point{}, 1, false)}
	for _, x := range []struct {
		name string
		path outline.Path
		want Entity
	}{
		{"two halves", outline.Path{Start: Point{1, 0}, Segments: half, Closed: true}, Circle{Point{}, 1}},
		{"clockwise", outline.Path{Start: Point{1, 0}, Segments: turned, Closed: true}, Circle{Point{}, 1}},
		{"one turn", outline.Path{Start: Point{1, 0}, Segments: []outline.Segment{arcTo(Point{1, 0}, Point{}, 1, true)}, Closed: true}, Circle{Point{}, 1}},
		{"there and back", outline.Path{Start: Point{1, 0}, Segments: lens, Closed: true}, Polyline{true, []Vertex{{Point{1, 0}, 1}, {Point{-1, 0}, -1}}}},
		{"straight", outline.Path{Start: Point{1, 0}, Segments: []outline.Segment{{To: Point{3, 4}}}}, Line{Point{1, 0}, Point{3, 4}}},
		{"arc", outline.Path{Start: Point{1, 0}, Segments: []outline.Segment{arcTo(Point{0, 1}, Point{}, 1, true)}}, Arc{Point{}, 1, 0, 90}},
		{"clockwise arc", outline.Path{Start: Point{1, 0}, Segments: []outline.Segment{arcTo(Point{0, 1}, Point{}, 1, false)}}, Arc{Point{}, 1, 90, 0}},
		{"curve", outline.Path{Start: Point{0, 0}, Segments: []outline.Segment{{To: Point{2, 0}, Via: []Point{{1, 1}}}}}, Polyline{false, []Vertex{{Point{0, 0}, 0}, {Point{1, 1}, 0}, {Point{2, 0}, 0}}}},
	} {
		if got := Of(x.path); !reflect.DeepEqual(got, x.want) {
			t.Errorf("%s: %+v, want %+v", x.name, got, x.want)
		}
	}
}

// A stadium of half circles of radius 2 on sides of 10: 2·2·10 + π·2².
func TestAreaByBulges(t *testing.T) {
	p := Polyline{true, []Vertex{{Point{0, -2}, 0}, {Point{10, -2}, 1}, {Point{10, 2}, 0}, {Point{0, 2}, 1}}}
	want := 40 + 4*math.Pi
	if got := (outline.Region{p.Path()}).Area(); math.Abs(got-want) > 1e-12*want {
		t.Errorf("area %v, want %v", got, want)
	}
	lo, hi := (&Drawing{Items: []Item{{"0", p}}}).Bounds()
	if dist(lo, Point{-2, -2}) > 1e-12 || dist(hi, Point{12, 2}) > 1e-12 {
		t.Errorf("box %v %v", lo, hi)
	}
}

// What release 12 cannot hold is refused before anything is written.
func TestWriteRefuses(t *testing.T) {
	layer := func(l Layer) *Drawing { return &Drawing{Layers: []Layer{l}} }
	entity := func(e Entity) *Drawing { return &Drawing{Items: []Item{{"0", e}}} }
	for want, d := range map[string]*Drawing{
		"a name has":        layer(Layer{"bolt holes", 7, Continuous}),
		"1 to 31 capitals":  layer(Layer{strings.Repeat("A", 32), 7, Continuous}),
		"no color":          layer(Layer{"A", 0, Continuous}),
		"no line type":      layer(Layer{"A", 1, "DOTTED"}),
		"there already":     {Layers: []Layer{{"A", 1, Center}, {"A", 2, Center}}},
		"not listed":        {Items: []Item{{"A", Dot{}}}},
		"number that is":    entity(Line{Point{math.NaN(), 0}, Point{}}),
		"beyond":            entity(Dot{Point{0, math.Inf(1)}}),
		"radius":            entity(Circle{Point{}, 0}),
		"less than two":     entity(Polyline{}),
		"a text needs":      entity(Text{Point{}, 1, ""}),
		"1 to 255 bytes":    entity(Text{Point{}, 1, strings.Repeat("Ø", 40)}),
		"a radius that is ": entity(Arc{Point{}, -1, 0, 90}),
	} {
		var b bytes.Buffer
		if err := Write(&b, d); err == nil || !strings.Contains(err.Error(), want) || b.Len() > 0 {
			t.Errorf("%q: %v, %d bytes written", want, err, b.Len())
		}
	}
}

// Planted damage.
func TestReadRefuses(t *testing.T) {
	sound := string(written(t, all()))
	for _, x := range []struct{ name, old, new string }{
		{"other release", "AC1009", "AC1015"},
		{"inches", "$INSUNITS\r\n70\r\n4", "$INSUNITS\r\n70\r\n1"},
		{"no units", "$INSUNITS", "$INSBASE"},
		{"unknown layer", "8\r\nOUTLINE", "8\r\nOUTLINES"},
		{"unknown entity", "0\r\nCIRCLE", "0\r\nELLIPSE"},
		{"off the plane", "30\r\n0.0\r\n40\r\n3.25", "30\r\n1.0\r\n40\r\n3.25"},
		{"negative radius", "40\r\n3.25", "40\r\n-3.25"},
		{"no radius", "40\r\n3.25\r\n", ""},
		{"radius twice", "40\r\n3.25", "40\r\n3.25\r\n40\r\n3.25"},
		{"no number", "40\r\n3.25", "40\r\nwide"},
		{"no code", "40\r\n3.25", "forty\r\n3.25"},
		{"spline", "66\r\n1\r\n10\r\n0.0\r\n20\r\n0.0\r\n30\r\n0.0\r\n70\r\n1", "66\r\n1\r\n10\r\n0.0\r\n20\r\n0.0\r\n30\r\n0.0\r\n70\r\n5"},
		{"vertices without end", "SEQEND", "POINT"},
		{"symbol", "5 ", "%%c"},
		{"text after the end", "EOF\r\n", "EOF\r\n0\r\n"},
		{"cut off", "0\r\nEOF\r\n", ""},
		{"table in a table", "TABLE\r\n2\r\nSTYLE", "TABLE\r\n2\r\nVIEW"},
	} {
		bad := strings.Replace(sound, x.old, x.new, 1)
		if bad == sound {
			t.Errorf("%s: nothing planted", x.name)
		}
		if _, err := Read(strings.NewReader(bad)); err == nil || !strings.HasPrefix(err.Error(), "dxf: line ") {
			t.Errorf("%s: %v", x.name, err)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(written(f, all()))
	f.Add(written(f, &Drawing{}))
	f.Add([]byte("0\nSECTION\n2\nHEADER\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		d, err := Read(bytes.NewReader(b))
		if err != nil {
			return
		}
		if got := read(t, written(t, d)); !reflect.DeepEqual(got, d) {
			t.Errorf("read again\n%+v, first\n%+v", got, d)
		}
	})
}

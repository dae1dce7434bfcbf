package stl

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"reflect"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/check"
	"wheelmold/mesh/meshtest"
)

func write(t testing.TB, m *mesh.Mesh) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, m, "wheelmold tetra, mm"); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Layout: 80 bytes header, count, then normal, three corners and an attribute
// of 0 per facet, little endian; 84 + 50·4 = 284 bytes (Library of Congress,
// fdd000505).
func TestLayout(t *testing.T) {
	b := write(t, meshtest.Tetra(3))
	if len(b) != 284 {
		t.Fatalf("%d bytes, want 284", len(b))
	}
	if got := string(b[:19]); got != "wheelmold tetra, mm" {
		t.Errorf("header %q", got)
	}
	if n := binary.LittleEndian.Uint32(b[80:]); n != 4 {
		t.Errorf("count %d, want 4", n)
	}
	third := float32(1 / math.Sqrt(3))
	for i, want := range [][12]float32{
		{0, 0, -1, 0, 0, 0, 0, 3, 0, 3, 0, 0},
		{0, -1, 0, 0, 0, 0, 3, 0, 0, 0, 0, 3},
		{third, third, third, 3, 0, 0, 0, 3, 0, 0, 0, 3},
		{-1, 0, 0, 0, 3, 0, 0, 0, 0, 0, 0, 3},
	} {
		var got [12]float32
		f := b[84+50*i:]
		for k := range got {
			u := binary.LittleEndian.Uint32(f[4*k:])
			got[k] = math.Float32frombits(u)
			if u == 1<<31 {
				t.Errorf("facet %d holds -0", i)
			}
		}
		if got != want {
			t.Errorf("facet %d: %v, want %v", i, got, want)
		}
		if a := binary.LittleEndian.Uint16(f[48:]); a != 0 {
			t.Errorf("facet %d: attribute %d", i, a)
		}
	}
}

func TestNothingIsLostOnTheWay(t *testing.T) {
	m := meshtest.Ring(90, 45)
	// The corners of the range in which the lattice is exact in 32 bits.
	m.V[0] = mesh.Vec{1024 - 0x1p-14, -1024 + 0x1p-14, 0x1p-14}
	got, err := Read(bytes.NewReader(write(t, m)))
	if err != nil {
		t.Fatal(err)
	}
	if len(got.V) != len(m.V) || len(got.T) != len(m.T) {
		t.Fatalf("%d vertices, %d facets; want %d, %d", len(got.V), len(got.T), len(m.V), len(m.T))
	}
	for i := range m.T {
		for k := range 3 {
			if p, q := got.V[got.T[i][k]], m.V[m.T[i][k]]; p != q {
				t.Fatalf("facet %d corner %d: %v, want %v", i, k, p, q)
			}
		}
	}
}

func TestReadMeshIsSound(t *testing.T) {
	m, err := Read(bytes.NewReader(write(t, meshtest.Ring(40, 20))))
	if err != nil {
		t.Fatal(err)
	}
	if r := check.Audit(m, check.Options{}); !r.OK() || r.Euler != 0 {
		t.Errorf("Euler number %d, faults %q", r.Euler, r.Faults())
	}
}

func TestSameBytesEveryTime(t *testing.T) {
	if !bytes.Equal(write(t, meshtest.Ring(40, 20)), write(t, meshtest.Ring(40, 20))) {
		t.Error("two files of one mesh differ")
	}
}

func TestWriteRefuses(t *testing.T) {
	with := func(p mesh.Vec) *mesh.Mesh {
		m := meshtest.Tetra(3)
		m.V[3] = p
		return m
	}
	bad := meshtest.Tetra(3)
	bad.T[2][1] = 4
	for _, c := range []struct {
		name, title, word string
		m                 *mesh.Mesh
	}{
		{"title of a text file", "Solid of revolution", "solid", meshtest.Tetra(3)},
		{"more digits than fit", "x", "32 bits", with(mesh.Vec{0, 0, 0.1})},
		{"lattice beyond its range", "x", "32 bits", with(mesh.Vec{0, 0, 1024 + 0x1p-14})},
		{"beyond float32", "x", "32 bits", with(mesh.Vec{0, 0, 1e39})},
		{"NaN", "x", "32 bits", with(mesh.Vec{0, 0, math.NaN()})},
		{"no such vertex", "x", "vertex 4 of 4", bad},
	} {
		var b bytes.Buffer
		err := Write(&b, c.m, c.title)
		if err == nil || !strings.Contains(err.Error(), c.word) {
			t.Errorf("%s: error %v does not say %q", c.name, err, c.word)
		}
		if b.Len() > 0 {
			t.Errorf("%s: %d bytes written", c.name, b.Len())
		}
	}
}

// A long or foreign title must not spill into the count.
func TestTitleIsCut(t *testing.T) {
	var b bytes.Buffer
	if err := Write(&b, meshtest.Tetra(3), "Ø90 "+strings.Repeat("lid ", 40)); err != nil {
		t.Fatal(err)
	}
	if h := string(b.Bytes()[:80]); !strings.HasPrefix(h, "?90 lid ") || b.Len() != 284 {
		t.Errorf("header %q, %d bytes", h, b.Len())
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestWriteReportsTheWritersError(t *testing.T) {
	if err := Write(broken{}, meshtest.Tetra(3), "x"); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("error %v", err)
	}
}

func TestReadRefuses(t *testing.T) {
	good := write(t, meshtest.Tetra(3))
	huge := bytes.Clone(good)
	copy(huge[80:], "\xff\xff\xff\xff") // promises 215 GB
	for name, b := range map[string][]byte{
		"empty": nil, "half a header": good[:50], "cut off": good[:283], "too long": append(bytes.Clone(good), 0),
		"huge count": huge, "text": []byte("solid x\n" + strings.Repeat("facet normal 0 0 1\n", 9) + "endsolid x\n"),
	} {
		if m, err := Read(bytes.NewReader(b)); err == nil {
			t.Errorf("%s: read %d facets", name, len(m.T))
		}
	}
}

// FuzzRead: what can be read can be written, unless it is not finite, and reads
// the same again.
func FuzzRead(f *testing.F) {
	f.Add(write(f, meshtest.Tetra(3)))
	f.Add(write(f, &mesh.Mesh{}))
	f.Add(bytes.Repeat([]byte{0}, 84))
	f.Fuzz(func(t *testing.T, b []byte) {
		m, err := Read(bytes.NewReader(b))
		if err != nil {
			return
		}
		var out bytes.Buffer
		if err := Write(&out, m, "again"); err != nil {
			for _, p := range m.V {
				for _, x := range p {
					if math.IsNaN(x) || math.IsInf(x, 0) {
						return
					}
				}
			}
			t.Fatal(err)
		}
		again, err := Read(&readSeeker{bytes.NewReader(out.Bytes())})
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(again, m) {
			t.Errorf("%v became %v", m, again)
		}
	})
}

// readSeeker hides every other method, as a plain file does.
type readSeeker struct{ io.ReadSeeker }

func BenchmarkWrite(b *testing.B) {
	m := meshtest.Ring(500, 200)
	for b.Loop() {
		if err := Write(io.Discard, m, "ring"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	file := write(b, meshtest.Ring(500, 200))
	for b.Loop() {
		if _, err := Read(bytes.NewReader(file)); err != nil {
			b.Fatal(err)
		}
	}
}

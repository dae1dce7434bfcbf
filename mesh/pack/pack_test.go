package pack

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"math"
	"reflect"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/meshtest"
)

func write(t testing.TB, m *mesh.Mesh, step float64) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, m, step); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// sealed returns b with its sum behind.
func sealed(b []byte) []byte {
	return binary.LittleEndian.AppendUint32(bytes.Clone(b), crc32.ChecksumIEEE(b))
}

// The bytes of a tetrahedron of 3 mm in steps of half a millimeter, by hand: 6 steps
// fold to 12, -6 to 11, the exponent -1 to 1.
func TestFormat(t *testing.T) {
	want := sealed(append([]byte("wmp1"),
		1, 4, 4,
		0, 0, 0, 0 /**/, 0, 0, 12, 0 /**/, 0, 12, 11, 0, // 0 2 1: all new
		3, 1, 0, 11, 0, 12, // 0 1 3: three back, one back, new
		2, 3, 1, // 1 2 3
		3, 4, 1, // 2 0 3
	))
	if got := write(t, meshtest.Tetra(3), .5); !bytes.Equal(got, want) {
		t.Errorf("% x\nwant\n% x", got, want)
	}
}

// skewed is a ring off every grid, with a vertex that no triangle uses.
func skewed() *mesh.Mesh {
	m := meshtest.Ring(50, 30)
	for i, v := range m.V {
		v = v.Scale(math.Phi / 1.6)
		m.V[i] = mesh.Vec{.6*v[0] - .8*v[1] + math.Pi, .8*v[0] + .6*v[1] - 1e3/7, v[2] + math.Sqrt2}
	}
	m.V = append(m.V, mesh.Vec{1e4, 0, 0})
	return m
}

func TestEveryTriangleComesBackWithinHalfAStep(t *testing.T) {
	m := skewed()
	for _, step := range []float64{1, 1. / 8, 1. / 1024, 1. / 16384} {
		got, err := Read(bytes.NewReader(write(t, m, step)))
		if err != nil {
			t.Fatal(err)
		}
		if len(got.T) != len(m.T) || len(got.V) != len(m.V)-1 {
			t.Fatalf("%d triangles, %d vertices; want %d, %d", len(got.T), len(got.V), len(m.T), len(m.V)-1)
		}
		worst := 0.0
		for i := range m.T {
			for k := range 3 {
				p, q := got.V[got.T[i][k]], m.V[m.T[i][k]]
				for a := range p {
					worst = max(worst, math.Abs(p[a]-q[a]))
					if math.Mod(p[a], step) != 0 {
						t.Fatalf("step %v: coordinate %v is no multiple", step, p[a])
					}
				}
			}
		}
		// Of 4500 coordinates, some lie near the middle between two steps.
		if worst > step/2 || worst < .49*step {
			t.Errorf("step %v: off by up to %v", step, worst)
		}
	}
}

// What is on the grid already, and in the order of first use, comes back as it was.
func TestOnTheGridNothingChanges(t *testing.T) {
	once, err := Read(bytes.NewReader(write(t, meshtest.Ring(40, 20), 1./16384)))
	if err != nil {
		t.Fatal(err)
	}
	again, err := Read(bytes.NewReader(write(t, once, 1./16384)))
	if err != nil || !reflect.DeepEqual(once, again) {
		t.Errorf("changed, error %v", err)
	}
}

func TestStep(t *testing.T) {
	for _, c := range []struct{ tolerance, want float64 }{
		{0.01, 1. / 1024}, {0.02, 1. / 512}, {10, 1}, {9.99, .5}, {20, 2}, {0.625, 1. / 16},
		{0.001, 1. / 16384}, {1e-9, 1. / 16384}, {0, 1. / 16384}, {-1, 1. / 16384},
		{math.NaN(), 1. / 16384}, {math.Inf(1), 1. / 16384},
	} {
		if got := Step(c.tolerance); got != c.want {
			t.Errorf("Step(%v) = %v, want %v", c.tolerance, got, c.want)
		}
	}
}

// A page must stay small: an STL has 50 bytes to a triangle.
func TestFewBytes(t *testing.T) {
	m := meshtest.Ring(200, 100)
	if n := float64(len(write(t, m, 1./1024))) / float64(len(m.T)); n > 8 {
		t.Errorf("%.2f bytes to a triangle", n)
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
		name, word string
		m          *mesh.Mesh
		step       float64
	}{
		{"no power of two", "power of two", meshtest.Tetra(3), .001},
		{"no step", "power of two", meshtest.Tetra(3), 0},
		{"negative step", "power of two", meshtest.Tetra(3), -.5},
		{"finer than the format", "power of two", meshtest.Tetra(3), 1. / (1 << 21)},
		{"coarser than the format", "power of two", meshtest.Tetra(3), 2048},
		{"infinite step", "power of two", meshtest.Tetra(3), math.Inf(1)},
		{"NaN", "vertex 3", with(mesh.Vec{0, 0, math.NaN()}), 1},
		{"too far", "vertex 3", with(mesh.Vec{0, 1 << 30, 0}), 1},
		{"no such vertex", "vertex 4 of 4", bad, 1},
	} {
		var b bytes.Buffer
		err := Write(&b, c.m, c.step)
		if err == nil || !strings.Contains(err.Error(), c.word) {
			t.Errorf("%s: error %v does not say %q", c.name, err, c.word)
		}
		if b.Len() > 0 {
			t.Errorf("%s: %d bytes written", c.name, b.Len())
		}
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }
func (broken) Read([]byte) (int, error)  { return 0, io.ErrClosedPipe }

func TestErrorsOfTheStreamComeThrough(t *testing.T) {
	if err := Write(broken{}, meshtest.Tetra(3), 1); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("Write: error %v", err)
	}
	if _, err := Read(broken{}); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("Read: error %v", err)
	}
}

// Any bit that flips and any byte that is missing or added is seen.
func TestDamageIsRefused(t *testing.T) {
	good := write(t, meshtest.Ring(5, 4), 1./1024)
	for i := range good {
		for bit := range 8 {
			b := bytes.Clone(good)
			b[i] ^= 1 << bit
			if _, err := Read(bytes.NewReader(b)); err == nil {
				t.Errorf("bit %d of byte %d flipped: read", bit, i)
			}
		}
		if _, err := Read(bytes.NewReader(good[:i])); err == nil || !strings.Contains(err.Error(), "cut off") {
			t.Errorf("cut off after %d bytes: error %v", i, err)
		}
	}
	if _, err := Read(bytes.NewReader(append(good, 0))); err == nil {
		t.Error("a byte more: read")
	}
}

// Bytes that contradict themselves are refused though their sum is right, and
// promises are not believed before they are kept.
func TestContradictionsAreRefused(t *testing.T) {
	corners := []byte{0, 0, 0, 0, 0, 2, 0, 0, 0, 0, 2, 0}
	file := func(head ...byte) []byte {
		return append(append([]byte("wmp1"), head...), corners...)
	}
	if m, err := Read(bytes.NewReader(sealed(file(0, 3, 1)))); err != nil || len(m.V) != 3 || len(m.T) != 1 {
		t.Fatalf("the sound one: %v, %v", m, err)
	}
	far := append([]byte("wmp1"), 0, 3, 1)
	far = append(far, 0, 0, 0, 0, 0)
	far = binary.AppendVarint(far, maxSteps)
	ahead := append(append([]byte("wmp1"), 0, 3, 1), 0, 0, 0, 0, 2, 1, 1)
	for _, c := range []struct {
		name, word string
		b          []byte
	}{
		{"another vertex", "promised", file(0, 4, 1)},
		{"a step beyond the format", "step", file(22, 3, 1)},
		{"10^18 triangles", "pack: ", file(append([]byte{0, 3}, binary.AppendUvarint(nil, 1e18)...)...)},
		{"10^18 vertices", "number", file(append([]byte{0}, append(binary.AppendUvarint(nil, 1e18), 1)...)...)},
		{"a vertex too far", "reach", far},
		{"a vertex before the first", "back 2 of 1", ahead},
		{"a number that does not end", "overflow", append([]byte("wmp1"), bytes.Repeat([]byte{0xff}, 12)...)},
		{"another format", "begin", []byte("wmp2\x00\x00\x00")},
	} {
		_, err := Read(bytes.NewReader(sealed(c.b)))
		if err == nil || !strings.Contains(err.Error(), c.word) {
			t.Errorf("%s: error %v does not say %q", c.name, err, c.word)
		}
	}
}

// FuzzRead: what can be read can be written, and reads the same again. The sum is
// put behind the bytes, or no change would come past it.
func FuzzRead(f *testing.F) {
	for _, m := range []*mesh.Mesh{meshtest.Tetra(3), meshtest.Ring(5, 4), {}} {
		b := write(f, m, 1./1024)
		f.Add(b[:len(b)-4])
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		m, err := Read(bytes.NewReader(sealed(b)))
		if err != nil {
			return
		}
		exponent, _ := binary.Varint(b[len(magic):])
		again, err := Read(bytes.NewReader(write(t, m, math.Ldexp(1, int(exponent)))))
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(again, m) {
			t.Errorf("%v became %v", m, again)
		}
	})
}

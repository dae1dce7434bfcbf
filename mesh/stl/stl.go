// Package stl writes meshes as binary STL, and reads such files back.
//
// A file that Write made holds exactly the coordinates of its mesh, the true
// unit normal of every facet, and the same bytes for the same mesh; Write
// refuses a mesh whose coordinates the format's 32 bits cannot hold. STL knows
// no unit; builders and slicers take it as millimeters.
//
// Read takes binary STL only, trusts no count before it has seen the file's
// size, and welds corners with identical coordinates. Neither judges the mesh:
// see mesh/check.
package stl

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/hschendel/stl"

	"wheelmold/mesh"
	"wheelmold/mesh/check"
)

const (
	headerSize = 84 // 80 bytes of text, 4 bytes of facet count
	facetSize  = 50 // normal and corners as float32, attribute
	textSize   = 80
)

// Write writes m to w as binary STL, with title in the header as far as it fits.
// Readers tell the two kinds of STL apart by a leading "solid": a title must not
// begin so.
func Write(w io.Writer, m *mesh.Mesh, title string) error {
	if strings.HasPrefix(strings.ToLower(strings.TrimSpace(title)), "solid") {
		return fmt.Errorf("stl: title %q begins with \"solid\", which marks a text file", title)
	}
	if uint64(len(m.T)) > math.MaxUint32 {
		return fmt.Errorf("stl: %d facets are more than the format can count", len(m.T))
	}
	v, err := round(m.V)
	if err != nil {
		return err
	}
	s := stl.Solid{BinaryHeader: header(title), Triangles: make([]stl.Triangle, len(m.T))}
	for i, t := range m.T {
		for k, n := range t {
			if n < 0 || int(n) >= len(v) {
				return fmt.Errorf("stl: facet %d names vertex %d of %d", i, n, len(v))
			}
			s.Triangles[i].Vertices[k] = v[n]
		}
		s.Triangles[i].Normal = normal(m, i)
	}
	// The library writes facet by facet.
	b := bufio.NewWriterSize(w, 1<<16)
	if err := s.WriteAll(b); err != nil {
		return fmt.Errorf("stl: %w", err)
	}
	if err := b.Flush(); err != nil {
		return fmt.Errorf("stl: %w", err)
	}
	return nil
}

// header returns title as the text of a binary header: printable ASCII, spaces
// behind.
func header(title string) []byte {
	h := make([]byte, 0, textSize)
	for _, r := range title {
		if len(h) == textSize {
			break
		}
		if r < ' ' || r > '~' {
			r = '?'
		}
		h = append(h, byte(r))
	}
	for len(h) < textSize {
		h = append(h, ' ')
	}
	return h
}

// round returns the vertices in the format's 32 bits, which hold every multiple
// of 2⁻¹⁴ mm up to 1024 mm exactly.
func round(v []mesh.Vec) ([]stl.Vec3, error) {
	out := make([]stl.Vec3, len(v))
	for i, p := range v {
		for k, x := range p {
			out[i][k] = float32(x) + 0 // no file shows -0 beside 0
			if float64(out[i][k]) != x {
				return nil, fmt.Errorf("stl: vertex %d: coordinate %v mm does not fit the format's 32 bits; snap the mesh first", i, x)
			}
		}
	}
	return out, nil
}

// normal returns the unit normal of facet i; zero, which the format allows and
// readers recompute, where the facet has none.
func normal(m *mesh.Mesh, i int) stl.Vec3 {
	n := m.Normal(i)
	if l := n.Norm(); l > 0 {
		n = n.Scale(1 / l)
	}
	return stl.Vec3{float32(n[0]) + 0, float32(n[1]) + 0, float32(n[2]) + 0}
}

// Read reads one binary STL file, all of r, which must stand at its start. Normals and
// attributes are passed over: the order of the corners says which side is out.
func Read(r io.ReadSeeker) (*mesh.Mesh, error) {
	n, err := count(r)
	if err != nil {
		return nil, err
	}
	s := sink{Welder: check.NewWelder(n)}
	if err := stl.CopyAll(r, &s); err != nil {
		return nil, fmt.Errorf("stl: %w", err)
	}
	return s.Mesh(), nil
}

// count returns the number of facets that the header promises and the file's
// size confirms, and leaves r at the start.
func count(r io.ReadSeeker) (int, error) {
	var h [headerSize]byte
	if _, err := io.ReadFull(r, h[:]); errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return 0, fmt.Errorf("stl: shorter than the %d bytes of a binary header", headerSize)
	} else if err != nil {
		return 0, fmt.Errorf("stl: %w", err)
	}
	size, err := r.Seek(0, io.SeekEnd)
	if err != nil {
		return 0, fmt.Errorf("stl: %w", err)
	}
	n := int64(h[80]) | int64(h[81])<<8 | int64(h[82])<<16 | int64(h[83])<<24
	if want := headerSize + facetSize*n; size != want {
		return 0, fmt.Errorf("stl: %d bytes, but %d facets make %d: cut off, or not binary STL", size, n, want)
	}
	_, err = r.Seek(0, io.SeekStart)
	return int(n), err
}

// sink welds the facets that the library reads.
type sink struct{ *check.Welder }

func (sink) SetName(string)          {}
func (sink) SetBinaryHeader([]byte)  {}
func (sink) SetASCII(bool)           {}
func (sink) SetTriangleCount(uint32) {}

// AppendTriangle takes one facet.
func (s sink) AppendTriangle(t stl.Triangle) {
	s.Add(wide(t.Vertices[0]), wide(t.Vertices[1]), wide(t.Vertices[2]))
}

func wide(p stl.Vec3) mesh.Vec { return mesh.Vec{float64(p[0]), float64(p[1]), float64(p[2])} }

package main

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"iter"
	"math"
	"os"

	"wheelmold/mesh"
	"wheelmold/mesh/check"
)

// soup is a mesh as loose triangles: what every maker can be asked for.
type soup [][3]mesh.Vec

// writeSoup writes triangles as nine float64 each, little-endian: no digit is lost on
// the way to the measure. They come one by one, so that a list of another kind is not
// copied: that would count as memory of who made it.
func writeSoup(path string, s iter.Seq[[3]mesh.Vec]) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	w := bufio.NewWriterSize(f, 1<<16)
	var b [8]byte
	for t := range s {
		for _, p := range t {
			for _, x := range p {
				binary.LittleEndian.PutUint64(b[:], math.Float64bits(x))
				if _, err := w.Write(b[:]); err != nil {
					return err
				}
			}
		}
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return f.Close()
}

// readSoup reads what writeSoup, or a yardstick, has written.
func readSoup(path string) (soup, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	if len(data) == 0 || len(data)%72 != 0 {
		return nil, fmt.Errorf("%s: %d bytes are no triangles of 72 bytes", path, len(data))
	}
	s := make(soup, len(data)/72)
	for i := range s {
		for j := range 9 {
			s[i][j/3][j%3] = math.Float64frombits(binary.LittleEndian.Uint64(data[72*i+8*j:]))
		}
	}
	return s, nil
}

// weldStep is the grid, mm, on which corners count as one: far below any deviation that
// is measured, far above what rounding parts.
const weldStep = 1e-5

// welded joins corners and drops triangles that have lost a side to it.
func welded(s soup) *mesh.Mesh {
	w := check.NewWelder(len(s))
	for _, t := range s {
		for k := range t {
			for i, x := range t[k] {
				t[k][i] = math.Round(x/weldStep)*weldStep + 0 // no negative zero
			}
		}
		if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
			w.Add(t[0], t[1], t[2])
		}
	}
	return w.Mesh()
}

// volume of a closed mesh, mm³, about a corner of it.
func (s soup) volume() float64 {
	v := 0.0
	for _, t := range s {
		o := s[0][0]
		v += t[0].Sub(o).Dot(t[1].Sub(o).Cross(t[2].Sub(o)))
	}
	return v / 6
}

// Package pack writes meshes in few bytes, to be shown, and reads them back.
//
// What Read returns has the triangles of the mesh that Write was given, in their
// order and with their corners in theirs, and every vertex within half a step of its
// place on each axis. Vertices are numbered anew, in the order in which triangles
// first use them; those that none uses are left out, and so are labels. Damaged bytes
// are refused.
//
// A packed mesh is for the eye. Rounding may flatten a thin triangle or let
// neighbors touch: what is made from a mesh takes mesh/stl or mesh/threemf.
//
// # Format
//
// A number is written seven bits to a byte, the lowest first; the high bit says that
// more follow (a varint). A signed one is folded first: 0, -1, 1, -2 … become
// 0, 1, 2, 3 … (zigzag). In this order:
//
//	4 bytes   "wmp1"
//	signed    the step's exponent e: lengths are counted in 2^e mm
//	number    vertices
//	number    triangles
//	then, for each corner of each triangle:
//	  number  how far its vertex lies back in the order of first use:
//	          0 is the next new one, 1 the one met last
//	  and for a new one, three times
//	  signed  its x, y, z less that of the corner before, in steps (from 0, 0, 0)
//	4 bytes   CRC-32 (IEEE) of all before, lowest byte first
//
// Neighbors in the list of triangles are neighbors on the surface, so that nearly
// all of these numbers take one byte or two.
package pack

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

const magic = "wmp1"

// Limits of the format: steps of a nanometer to a meter, and coordinates whose
// differences fit 32 bits, with which readers of any language count.
const (
	minExponent = -20
	maxExponent = 10
	maxSteps    = 1 << 30
)

// Step returns the step, in mm, for a mesh that lies within tolerance (mm) of its
// surface: the largest power of two that is at most a tenth of it, so that rounding
// does not show beside the tolerance, but none finer than the lattice on which meshes
// lie.
func Step(tolerance float64) float64 {
	tenth := tolerance / 10
	if !(tenth > solid.Lattice) || math.IsInf(tenth, 0) {
		return solid.Lattice
	}
	_, e := math.Frexp(tenth) // a fraction of at least 1/2, times 2^e
	return math.Ldexp(1, e-1)
}

// Write writes m to w with its vertices rounded to multiples of step, mm, a power of
// two.
func Write(w io.Writer, m *mesh.Mesh, step float64) error {
	fraction, exponent := math.Frexp(step)
	exponent--
	if fraction != 0.5 || exponent < minExponent || exponent > maxExponent {
		return fmt.Errorf("pack: step %v mm: want a power of two from 2^%d to 2^%d", step, minExponent, maxExponent)
	}
	order, used, err := firstUse(m)
	if err != nil {
		return err
	}
	p := packer{order: order, place: make([]steps, len(m.V))}
	for i, v := range m.V {
		if order[i] == 0 {
			continue
		}
		if p.place[i], err = round(v, step); err != nil {
			return fmt.Errorf("pack: vertex %d: %w", i, err)
		}
	}
	p.out = append(p.out, magic...)
	p.out = binary.AppendVarint(p.out, int64(exponent))
	p.out = binary.AppendUvarint(p.out, uint64(used))
	p.out = binary.AppendUvarint(p.out, uint64(len(m.T)))
	for _, t := range m.T {
		for _, v := range t {
			p.corner(v)
		}
	}
	p.out = binary.LittleEndian.AppendUint32(p.out, crc32.ChecksumIEEE(p.out))
	if _, err := w.Write(p.out); err != nil {
		return fmt.Errorf("pack: %w", err)
	}
	return nil
}

// steps is a place in whole steps.
type steps [3]int64

// round returns the nearest place to v.
func round(v mesh.Vec, step float64) (steps, error) {
	var q steps
	for k, x := range v {
		n := math.Round(x / step)
		if !(math.Abs(n) < maxSteps) {
			return q, fmt.Errorf("coordinate %v mm is out of reach of steps of %v mm", x, step)
		}
		q[k] = int64(n)
	}
	return q, nil
}

// firstUse numbers the vertices from 1 to n in the order in which triangles use them;
// 0 is one that none uses.
func firstUse(m *mesh.Mesh) (order []int, n int, err error) {
	order = make([]int, len(m.V))
	for i, t := range m.T {
		for _, v := range t {
			if v < 0 || int(v) >= len(m.V) {
				return nil, 0, fmt.Errorf("pack: triangle %d names vertex %d of %d", i, v, len(m.V))
			}
			if order[v] == 0 {
				n++
				order[v] = n
			}
		}
	}
	return order, n, nil
}

// packer writes corner after corner.
type packer struct {
	order []int   // of each vertex, from 1
	place []steps // of each vertex
	met   int     // vertices written
	last  steps   // the corner before
	out   []byte
}

// corner writes the vertex v of the next corner.
func (p *packer) corner(v int32) {
	q := p.place[v]
	if p.order[v] <= p.met {
		p.out = binary.AppendUvarint(p.out, uint64(p.met-p.order[v]+1))
	} else {
		p.met++
		p.out = binary.AppendUvarint(p.out, 0)
		for k := range q {
			p.out = binary.AppendVarint(p.out, q[k]-p.last[k])
		}
	}
	p.last = q
}

// Read reads one packed mesh, all of r. It allocates in proportion to the bytes that
// it has seen, whatever they promise.
func Read(r io.Reader) (*mesh.Mesh, error) {
	u := unpacker{from: bufio.NewReader(r)}
	m, err := u.mesh()
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, errors.New("pack: cut off")
	}
	if err != nil {
		return nil, fmt.Errorf("pack: %w", err)
	}
	return m, nil
}

// unpacker reads corner after corner.
type unpacker struct {
	from   *bufio.Reader
	sum    uint32 // CRC-32 of what was read
	byte   [1]byte
	places []steps // of the vertices met
	last   steps   // the corner before
}

// ReadByte reads a byte and adds it to the sum.
func (u *unpacker) ReadByte() (byte, error) {
	b, err := u.from.ReadByte()
	if err == nil {
		u.byte[0] = b
		u.sum = crc32.Update(u.sum, crc32.IEEETable, u.byte[:])
	}
	return b, err
}

func (u *unpacker) mesh() (*mesh.Mesh, error) {
	step, vertices, triangles, err := u.head()
	if err != nil {
		return nil, err
	}
	m := &mesh.Mesh{}
	for range triangles {
		var t [3]int32
		for k := range t {
			if t[k], err = u.corner(); err != nil {
				return nil, err
			}
		}
		m.T = append(m.T, t)
	}
	if uint64(len(u.places)) != vertices {
		return nil, fmt.Errorf("%d vertices, %d promised", len(u.places), vertices)
	}
	for _, q := range u.places {
		m.V = append(m.V, mesh.Vec{float64(q[0]) * step, float64(q[1]) * step, float64(q[2]) * step})
	}
	return m, u.foot()
}

// head reads what stands before the corners: the step, mm, and the counts.
func (u *unpacker) head() (step float64, vertices, triangles uint64, err error) {
	for _, want := range []byte(magic) {
		switch b, err := u.ReadByte(); {
		case err != nil:
			return 0, 0, 0, err
		case b != want:
			return 0, 0, 0, fmt.Errorf("does not begin with %q", magic)
		}
	}
	exponent, err := binary.ReadVarint(u)
	if err != nil {
		return 0, 0, 0, err
	}
	if exponent < minExponent || exponent > maxExponent {
		return 0, 0, 0, fmt.Errorf("step of 2^%d mm: want 2^%d to 2^%d", exponent, minExponent, maxExponent)
	}
	if vertices, err = binary.ReadUvarint(u); err != nil {
		return 0, 0, 0, err
	}
	if triangles, err = binary.ReadUvarint(u); err != nil {
		return 0, 0, 0, err
	}
	if vertices > math.MaxInt32 {
		return 0, 0, 0, fmt.Errorf("%d vertices are more than a mesh can number", vertices)
	}
	return math.Ldexp(1, int(exponent)), vertices, triangles, nil
}

// corner reads the vertex of the next corner.
func (u *unpacker) corner() (int32, error) {
	back, err := binary.ReadUvarint(u)
	if err != nil {
		return 0, err
	}
	n := len(u.places)
	if back > uint64(n) {
		return 0, fmt.Errorf("a corner lies back %d of %d vertices", back, n)
	}
	if back > 0 {
		n -= int(back)
		u.last = u.places[n]
		return int32(n), nil
	}
	for k := range u.last {
		d, err := binary.ReadVarint(u)
		if err != nil {
			return 0, err
		}
		// The sum of two numbers below 2³¹ cannot overflow.
		if d <= -2*maxSteps || d >= 2*maxSteps || max(u.last[k]+d, -u.last[k]-d) >= maxSteps {
			return 0, fmt.Errorf("vertex %d is out of reach", n)
		}
		u.last[k] += d
	}
	if n == math.MaxInt32 {
		return 0, errors.New("more vertices than a mesh can number")
	}
	u.places = append(u.places, u.last)
	return int32(n), nil
}

// foot reads the sum and the end.
func (u *unpacker) foot() error {
	var b [4]byte
	if _, err := io.ReadFull(u.from, b[:]); err != nil {
		return err
	}
	if got := binary.LittleEndian.Uint32(b[:]); got != u.sum {
		return fmt.Errorf("damaged: the sum is %08x, not %08x", u.sum, got)
	}
	if _, err := u.from.ReadByte(); err == nil {
		return errors.New("more bytes behind the end")
	} else if !errors.Is(err, io.EOF) {
		return err
	}
	return nil
}

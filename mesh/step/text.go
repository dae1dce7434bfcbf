package step

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"unicode/utf8"

	"wheelmold/mesh"
)

// Vec is a point or direction, mm.
type Vec = mesh.Vec

// ref is the number of an entity.
type ref int

// enum is an enumeration's word, without its dots.
type enum string

// mark is a parameter without a value.
type mark byte

const (
	absent  mark = '$' // optional and left out
	derived mark = '*' // follows from others
)

// record is an entity's type with its parameters: a part of a complex entity, or a
// typed value.
type record struct {
	name   string
	params []any
}

func rec(name string, params ...any) record { return record{name, params} }

// writer gathers the entities of one file.
type writer struct {
	text       []byte
	last       ref
	scratch    []byte
	points     map[Vec]ref
	directions map[Vec]ref
	known      map[string]ref
	err        error
}

func newWriter() *writer {
	return &writer{points: map[Vec]ref{}, directions: map[Vec]ref{}, known: map[string]ref{}}
}

// fail keeps the first error.
func (w *writer) fail(err error) {
	if w.err == nil {
		w.err = err
	}
}

// entity adds an entity.
func (w *writer) entity(name string, params ...any) ref {
	w.scratch = w.record(w.scratch[:0], name, params)
	return w.add(w.scratch)
}

// shared returns the entity with these parameters, adding it if there is none yet. It
// is for what has no identity of its own: positions, surfaces, colors.
func (w *writer) shared(name string, params ...any) ref {
	w.scratch = w.record(w.scratch[:0], name, params)
	if r, ok := w.known[string(w.scratch)]; ok {
		return r
	}
	key := string(w.scratch)
	r := w.add(w.scratch)
	w.known[key] = r
	return r
}

// complex adds an entity of several types at once, which Part 21 wants in the order of
// their names.
func (w *writer) complex(parts ...record) ref {
	b := append(w.scratch[:0], '(')
	for _, p := range parts {
		b = w.record(b, p.name, p.params)
	}
	w.scratch = append(b, ')')
	return w.add(w.scratch)
}

func (w *writer) add(text []byte) ref {
	w.last++
	w.text = append(w.text, '#')
	w.text = strconv.AppendInt(w.text, int64(w.last), 10)
	w.text = append(w.text, '=')
	w.text = append(w.text, text...)
	w.text = append(w.text, ";\n"...)
	return w.last
}

func (w *writer) record(b []byte, name string, params []any) []byte {
	b = append(b, name...)
	b = append(b, '(')
	for i, p := range params {
		if i > 0 {
			b = append(b, ',')
		}
		b = w.param(b, p)
	}
	return append(b, ')')
}

// param appends one parameter.
func (w *writer) param(b []byte, p any) []byte {
	switch p := p.(type) {
	case ref:
		b = append(b, '#')
		return strconv.AppendInt(b, int64(p), 10)
	case []ref:
		return list(b, p, func(b []byte, r ref) []byte { return w.param(b, r) })
	case float64:
		return w.real(b, p)
	case []float64:
		return list(b, p, w.real)
	case Vec:
		return list(b, p[:], w.real)
	case int:
		return strconv.AppendInt(b, int64(p), 10)
	case []int:
		return list(b, p, func(b []byte, i int) []byte { return strconv.AppendInt(b, int64(i), 10) })
	case string:
		return quote(b, p)
	case []string:
		return list(b, p, quote)
	case bool:
		if p {
			return append(b, ".T."...)
		}
		return append(b, ".F."...)
	case enum:
		b = append(b, '.')
		b = append(b, p...)
		return append(b, '.')
	case mark:
		return append(b, byte(p))
	case record:
		return w.record(b, p.name, p.params)
	}
	panic(fmt.Sprintf("step: a parameter of type %T", p))
}

// perLine is how many values of a list stand on a line: some readers hold no line of
// thousands of characters.
const perLine = 16

func list[T any](b []byte, xs []T, one func([]byte, T) []byte) []byte {
	b = append(b, '(')
	for i, x := range xs {
		if i > 0 {
			b = append(b, ',')
			if i%perLine == 0 {
				b = append(b, '\n')
			}
		}
		b = one(b, x)
	}
	return append(b, ')')
}

// real appends the shortest decimals that read back exactly. Part 21 wants a point in
// every real. What is left of a zero after a rotation is zero: readers take lengths
// below 1e-7 mm for one.
func (w *writer) real(b []byte, x float64) []byte {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		w.fail(errors.New("step: a coordinate is no number"))
		return append(b, '?')
	}
	if math.Abs(x) < 1e-15 {
		return append(b, "0."...)
	}
	from := len(b)
	b = strconv.AppendFloat(b, x, 'G', -1, 64)
	digits := b[from:]
	if slices.Contains(digits, '.') {
		return b
	}
	if e := slices.Index(digits, 'E'); e >= 0 {
		return slices.Insert(b, from+e, '.')
	}
	return append(b, '.')
}

// quote appends s as a Part 21 string. Printable ASCII stands for itself but for the
// backslash, which is doubled; everything else is written by its number in ISO 10646, and so is
// the apostrophe (see the package comment). A control character becomes a space: no
// name needs one, and readers end at some.
func quote(b []byte, s string) []byte {
	b = append(b, '\'')
	for _, r := range s {
		switch {
		case r < ' ' || r == 0x7f:
			b = append(b, ' ')
		case r == '\\':
			b = append(b, `\\`...)
		case r == '\'' || r >= utf8.RuneSelf && r <= 0xffff:
			b = fmt.Appendf(b, `\X2\%04X\X0\`, r)
		case r > 0xffff:
			b = fmt.Appendf(b, `\X4\%08X\X0\`, r)
		default:
			b = append(b, byte(r))
		}
	}
	return append(b, '\'')
}

// point returns the CARTESIAN_POINT at p; equal points are one.
func (w *writer) point(p Vec) ref {
	r, ok := w.points[p]
	if !ok {
		r = w.entity("CARTESIAN_POINT", "", p)
		w.points[p] = r
	}
	return r
}

// direction returns the DIRECTION along the unit vector d.
func (w *writer) direction(d Vec) ref {
	r, ok := w.directions[d]
	if !ok {
		r = w.entity("DIRECTION", "", d)
		w.directions[d] = r
	}
	return r
}

// placement returns the frame at o with the unit vectors z, and x across it. Frames of
// planes that lean by less than a microradian come with the axes of upright ones
// (solid.Across); readers would turn x, but not all as the standard says.
func (w *writer) placement(o, z, x Vec) ref {
	if lean := x.Dot(z); math.Abs(lean) > 1e-13 {
		x = x.AddScaled(-lean, z).Unit()
	}
	return w.shared("AXIS2_PLACEMENT_3D", "", w.point(o), w.direction(z), w.direction(x))
}

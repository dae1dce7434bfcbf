package engrave

import (
	"math"

	"wheelmold/mesh/solid"
)

// font holds the measures that letters are drawn by, on solid.Lattice. Middle
// lines run from y = 0 to y = top; the ink reaches half a stroke farther.
type font struct {
	half    float64 // half the stroke
	height  float64 // of the ink
	top     float64 // of the middle lines
	mid     float64
	gap     float64 // between strokes of one letter
	between float64 // between the ink of two letters
	blank   float64 // a space
}

func newFont(height, stroke float64) *font {
	half := solid.Round(stroke / 2)
	return &font{
		half:   half,
		height: solid.Round(height),
		top:    solid.Round(height) - 2*half,
		mid:    solid.Round((height - stroke) / 2),
		// Above half a stroke by what rounding and slanted sides may take.
		gap:     solid.Round(.54 * stroke),
		between: solid.Round(.20 * height),
		blank:   solid.Round(.30 * height),
	}
}

// glyph returns the letter's outlines with their ink from x = 0 and y = 0, and
// the width of the ink.
func (f *font) glyph(r rune) (outlines []solid.Profile, width float64) {
	if r == '+' {
		return f.plus()
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range letters[r](f) {
		for i := range p {
			p[i].x, p[i].y, p[i].r = solid.Round(p[i].x), solid.Round(p[i].y), solid.Round(p[i].r)
		}
		f.reach(p)
		o := p.outline(f.half)
		for _, e := range o.Elems() {
			a, b := bounds(e)
			lo, hi = min(lo, a), max(hi, b)
		}
		outlines = append(outlines, o)
	}
	lo = math.Floor(lo/solid.Lattice) * solid.Lattice
	hi = math.Ceil(hi/solid.Lattice) * solid.Lattice
	for i, o := range outlines {
		outlines[i] = moved(o, -lo, f.half)
	}
	return outlines, hi - lo
}

// reach lengthens upright ends on the baseline or at the top to the edge of the
// ink.
func (f *font) reach(p path) {
	n := len(p)
	for _, e := range [2][2]int{{0, 1}, {n - 1, n - 2}} {
		if end := &p[e[0]]; end.x != p[e[1]].x {
			continue
		} else if end.y == 0 {
			end.y = -f.half
		} else if end.y == f.top {
			end.y = f.top + f.half
		}
	}
}

// bounds returns how far the segment reaches to the left and right.
func bounds(e solid.Elem) (lo, hi float64) {
	lo, hi = min(e.A[0], e.B[0]), max(e.A[0], e.B[0])
	if e.Arc {
		for _, d := range []float64{-e.R, e.R} {
			if x := e.C[0] + d; e.Dist(x, e.C[1]) < 1e-9 {
				lo, hi = min(lo, x), max(hi, x)
			}
		}
	}
	return lo, hi
}

// The widths of middle lines, as parts of the height.
const (
	normal = .46
	wide   = .60
	widest = .80
)

// clear is the distance of a stroke's square end from the middle line that it
// stays clear of.
func (f *font) clear() float64 { return f.half + f.gap }

// box returns the width of a letter and the radius of its bends.
func (f *font) box(part float64) (w, r float64) {
	w = part * f.height
	return w, .36 * w
}

var letters = map[rune]func(*font) []path{
	'A': func(f *font) []path {
		w, r := f.box(normal * 1.08)
		k, bar := f.clear(), .36*f.top
		return []path{{{0, 0, 0}, {0, f.top, r}, {w, f.top, r}, {w, 0, 0}}, {{k, bar, 0}, {w - k, bar, 0}}}
	},
	'B': func(f *font) []path {
		w, r := f.box(normal)
		k, m := f.clear(), f.mid+.02*f.height
		return []path{
			{{0, 0, 0}, {0, f.top, 0}},
			{{k, f.top, 0}, {.93 * w, f.top, r}, {.93 * w, m, r}, {k, m, 0}},
			{{k, 0, 0}, {w, 0, r}, {w, m - k, 0}},
		}
	},
	'C': func(f *font) []path {
		w, r := f.box(normal)
		a := .26 * f.top
		return []path{{{w, f.top - a, 0}, {w, f.top, r}, {0, f.top, r}, {0, 0, r}, {w, 0, r}, {w, a, 0}}}
	},
	'D': func(f *font) []path {
		w, _ := f.box(normal)
		k, r := f.clear(), .62*w
		return []path{
			{{0, 0, 0}, {0, f.top, 0}},
			{{k, f.top, 0}, {w, f.top, r}, {w, 0, r}, {k, 0, 0}},
		}
	},
	'E': func(f *font) []path {
		w := .9 * normal * f.height
		return []path{
			{{w, f.top, 0}, {0, f.top, 0}, {0, 0, 0}, {w, 0, 0}},
			{{f.clear(), f.mid, 0}, {.88 * w, f.mid, 0}},
		}
	},
	'F': func(f *font) []path {
		w := .9 * normal * f.height
		return []path{
			{{w, f.top, 0}, {0, f.top, 0}, {0, 0, 0}},
			{{f.clear(), f.mid, 0}, {.88 * w, f.mid, 0}},
		}
	},
	'G': func(f *font) []path {
		w, r := f.box(normal)
		a := .26 * f.top
		b := .44 * f.top
		return []path{{{w, f.top - a, 0}, {w, f.top, r}, {0, f.top, r}, {0, 0, r}, {w, 0, r}, {w, b, 0}, {.40 * w, b, 0}}}
	},
	'H': func(f *font) []path {
		w, k := 1.08*normal*f.height, f.clear()
		return []path{{{0, 0, 0}, {0, f.top, 0}}, {{k, f.mid, 0}, {w - k, f.mid, 0}}, {{w, 0, 0}, {w, f.top, 0}}}
	},
	'I': func(f *font) []path { return []path{{{0, 0, 0}, {0, f.top, 0}}} },
	'J': func(f *font) []path {
		w, r := f.box(.36)
		return []path{{{w, f.top, 0}, {w, 0, r}, {0, 0, r}, {0, .26 * f.top, 0}}}
	},
	'K': func(f *font) []path {
		w := normal * f.height
		dy := f.mid + f.half
		// The point of the arms reaches half/sin of their slope to the left.
		c := f.clear() + f.half*math.Hypot(w-f.clear(), dy)/dy
		return []path{
			{{0, 0, 0}, {0, f.top, 0}},
			{{w, f.top + f.half, 0}, {c, f.mid, 0}, {w, -f.half, 0}},
		}
	},
	'L': func(f *font) []path { return []path{{{0, f.top, 0}, {0, 0, 0}, {.84 * normal * f.height, 0, 0}}} },
	'M': func(f *font) []path {
		w := wide * f.height
		return []path{{{0, 0, 0}, {0, f.top, 0}, {w / 2, .30 * f.top, 0}, {w, f.top, 0}, {w, 0, 0}}}
	},
	'N': func(f *font) []path {
		w := normal * f.height
		return []path{{{0, 0, 0}, {0, f.top, 0}, {w, 0, 0}, {w, f.top, 0}}}
	},
	'O': func(f *font) []path {
		w, r := f.box(normal * 1.1)
		a := w/2 - f.gap/2
		return []path{
			{{a, f.top, 0}, {0, f.top, r}, {0, 0, r}, {a, 0, 0}},
			{{w - a, 0, 0}, {w, 0, r}, {w, f.top, r}, {w - a, f.top, 0}},
		}
	},
	'P': func(f *font) []path {
		w, r := f.box(normal)
		k, m := f.clear(), .44*f.top
		return []path{{{0, 0, 0}, {0, f.top, 0}}, {{k, f.top, 0}, {w, f.top, r}, {w, m, r}, {k, m, 0}}}
	},
	'Q': func(f *font) []path {
		w, r := f.box(normal * 1.1)
		return []path{
			{{.41 * w, 0, 0}, {0, 0, r}, {0, f.top, r}, {w, f.top, r}, {w, .44 * f.top, 0}},
			{{.56 * w, .30*f.top + f.half, 0}, {1.04 * w, -f.half, 0}},
		}
	},
	'R': func(f *font) []path {
		w, r := f.box(normal)
		k, m := f.clear(), .44*f.top
		return []path{
			{{0, 0, 0}, {0, f.top, 0}},
			{{k, f.top, 0}, {w, f.top, r}, {w, m, r}, {k, m, 0}},
			{{.56 * w, m - k, 0}, {1.03 * w, -f.half, 0}},
		}
	},
	'S': func(f *font) []path {
		w, r := f.box(normal)
		a := .24 * f.top
		return []path{{{w, f.top - a, 0}, {w, f.top, r}, {0, f.top, r}, {0, f.mid, r}, {w, f.mid, r}, {w, 0, r}, {0, 0, r}, {0, a, 0}}}
	},
	'T': func(f *font) []path {
		w := normal * 1.1 * f.height
		return []path{{{0, f.top, 0}, {w, f.top, 0}}, {{w / 2, f.top - f.clear(), 0}, {w / 2, 0, 0}}}
	},
	'U': func(f *font) []path {
		w, r := f.box(normal)
		return []path{{{0, f.top, 0}, {0, 0, r}, {w, 0, r}, {w, f.top, 0}}}
	},
	'V': func(f *font) []path {
		w, high := wide*f.height, f.top+f.half
		return []path{{{0, high, 0}, {w / 2, 0, 0}, {w, high, 0}}}
	},
	'W': func(f *font) []path {
		w, high := widest*f.height, f.top+f.half
		return []path{{{0, high, 0}, {.25 * w, 0, 0}, {.5 * w, .66 * f.top, 0}, {.75 * w, 0, 0}, {w, high, 0}}}
	},
	'X': func(f *font) []path {
		w, high := wide*f.height, f.top+f.half
		dy := f.mid + f.half
		c := w/2 - f.gap/2
		c -= f.half * math.Hypot(c, dy) / dy
		return []path{
			{{0, high, 0}, {c, f.mid, 0}, {0, -f.half, 0}},
			{{w, -f.half, 0}, {w - c, f.mid, 0}, {w, high, 0}},
		}
	},
	'Y': func(f *font) []path {
		w, high := wide*f.height, f.top+f.half
		m := .50 * f.top
		return []path{{{0, high, 0}, {w / 2, m, 0}, {w, high, 0}}, {{w / 2, m - f.clear(), 0}, {w / 2, 0, 0}}}
	},
	'Z': func(f *font) []path {
		w := normal * f.height
		return []path{{{0, f.top, 0}, {w, f.top, 0}, {0, 0, 0}, {w, 0, 0}}}
	},
	'0': func(f *font) []path {
		w, r := f.box(normal)
		a := w/2 - f.gap/2
		return []path{
			{{a, f.top, 0}, {0, f.top, r}, {0, 0, r}, {a, 0, 0}},
			{{w - a, 0, 0}, {w, 0, r}, {w, f.top, r}, {w - a, f.top, 0}},
			{{w / 2, .34 * f.top, 0}, {w / 2, .66 * f.top, 0}},
		}
	},
	'1': func(f *font) []path {
		b := .18 * f.height
		return []path{{{0, f.top, 0}, {b, f.top, 0}, {b, f.clear(), 0}}, {{0, 0, 0}, {2 * b, 0, 0}}}
	},
	'2': func(f *font) []path {
		w, r := f.box(normal)
		return []path{{{0, .74 * f.top, 0}, {0, f.top, r}, {w, f.top, r}, {w, .52 * f.top, r * .6}, {0, 0, 0}, {w, 0, 0}}}
	},
	'3': func(f *font) []path {
		w, r := f.box(normal)
		m := f.mid + .02*f.height
		return []path{
			{{0, f.top, 0}, {.93 * w, f.top, r}, {.93 * w, m, r}, {.34 * w, m, 0}},
			{{0, 0, 0}, {w, 0, r}, {w, m - f.clear(), 0}},
		}
	},
	'4': func(f *font) []path {
		w := normal * 1.05 * f.height
		y, x := .28*f.top, .80*w
		return []path{
			{{.42 * w, f.top + f.half, 0}, {0, y, 0}, {x - f.clear(), y, 0}},
			{{x, .58 * f.top, 0}, {x, 0, 0}},
		}
	},
	'5': func(f *font) []path {
		w, r := f.box(normal)
		m := f.mid + .05*f.height
		return []path{{{.92 * w, f.top, 0}, {0, f.top, 0}, {0, m, 0}, {w, m, r}, {w, 0, r}, {0, 0, 0}}}
	},
	'6': six,
	'7': func(f *font) []path {
		w := normal * f.height
		return []path{{{0, f.top, 0}, {w, f.top, 0}, {.26 * w, -f.half, 0}}}
	},
	'8': func(f *font) []path {
		w, r := f.box(normal)
		m := f.mid + .02*f.height
		in, a := .05*w, w/2-f.gap/2
		r = min(r, .95*(a-in))
		return []path{
			{{a, m, 0}, {in, m, r}, {in, f.top, r}, {w - in, f.top, r}, {w - in, m, r}, {w - a, m, 0}},
			{{0, m - f.clear(), 0}, {0, 0, r}, {w, 0, r}, {w, m - f.clear(), 0}},
		}
	},
	'9': func(f *font) []path { // a six, upside down
		w := normal * f.height
		ps := six(f)
		for _, p := range ps {
			for i := range p {
				p[i].x, p[i].y = w-p[i].x, f.top-p[i].y
			}
		}
		return ps
	},
	'-': func(f *font) []path { return []path{{{0, f.mid, 0}, {.26 * f.height, f.mid, 0}}} },
	'_': func(f *font) []path { return []path{{{0, 0, 0}, {.40 * f.height, 0, 0}}} },
	'.': func(f *font) []path { return []path{{{0, 0, 0}, {2 * f.half, 0, 0}}} },
	'/': func(f *font) []path {
		return []path{{{0, -f.half, 0}, {.36 * f.height, f.top + f.half, 0}}}
	},
}

// plus is one outline: a cross cut into strokes looks like a sign of division.
func (f *font) plus() (outlines []solid.Profile, width float64) {
	a, h := solid.Round(.24*f.height), f.half
	p := solid.Poly(-h, -a, h, -a, h, -h, a, -h, a, h, h, h, h, a, -h, a, -h, h, -a, h, -a, -h, -h, -h)
	return []solid.Profile{moved(p, a, solid.Round(f.mid)+h)}, 2 * a
}

func six(f *font) []path {
	w, r := f.box(normal)
	m := .56 * f.top
	return []path{{{.9 * w, f.top, 0}, {0, f.top, r}, {0, 0, r}, {w, 0, r}, {w, m, r}, {f.clear(), m, 0}}}
}

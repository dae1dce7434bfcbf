package dxf

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// Write writes the drawing. The error names what release 12 cannot hold.
func Write(out io.Writer, d *Drawing) error {
	if err := d.check(); err != nil {
		return err
	}
	w := &writer{b: bufio.NewWriterSize(out, 1<<16)}
	w.header(d)
	w.tables(d.Layers)
	w.section("ENTITIES")
	for _, it := range d.Items {
		it.Entity.write(w, it.Layer)
	}
	w.text(0, "ENDSEC")
	w.text(0, "EOF")
	if err := w.b.Flush(); err != nil {
		return fmt.Errorf("dxf: %w", err)
	}
	return nil
}

// longest name of a layer that release 12 takes.
const longestName = 31

// check reports what cannot be written.
func (d *Drawing) check() error {
	known := map[string]bool{"0": true}
	for _, l := range d.Layers {
		switch {
		case l.Name == "" || len(l.Name) > longestName || strings.Trim(l.Name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_$") != "":
			return fmt.Errorf("dxf: layer %q: a name has 1 to %d capitals, digits, - _ $", l.Name, longestName)
		case known[l.Name]:
			return fmt.Errorf("dxf: layer %s is there already", l.Name)
		case l.Color < 1 || l.Color > 255:
			return fmt.Errorf("dxf: layer %s: no color %d; 1 to 255", l.Name, l.Color)
		case linetypes[l.Linetype].text == "":
			return fmt.Errorf("dxf: layer %s: no line type %q", l.Name, l.Linetype)
		}
		known[l.Name] = true
	}
	for i, it := range d.Items {
		if !known[it.Layer] {
			return fmt.Errorf("dxf: entity %d lies on a layer %q that is not listed", i+1, it.Layer)
		}
		if err := it.Entity.faults(); err != nil {
			return fmt.Errorf("dxf: entity %d, on %s: %w", i+1, it.Layer, err)
		}
	}
	return nil
}

// widest coordinate, mm: a kilometer is no mold.
const widest = 1e6

var errNumber = errors.New("a number that is none, or beyond a kilometer")

func finite(x ...float64) error {
	for _, v := range x {
		if math.IsNaN(v) || math.Abs(v) > widest {
			return errNumber
		}
	}
	return nil
}

func round(r float64) error {
	if !(r > 0) {
		return errors.New("a radius that is not above 0")
	}
	return finite(r)
}

func (l Line) faults() error { return finite(l.From[0], l.From[1], l.To[0], l.To[1]) }
func (d Dot) faults() error  { return finite(d.At[0], d.At[1]) }

func (c Circle) faults() error { return errors.Join(round(c.Radius), finite(c.Center[0], c.Center[1])) }

func (a Arc) faults() error {
	return errors.Join(round(a.Radius), finite(a.Center[0], a.Center[1], a.From, a.To))
}

func (p Polyline) faults() error {
	if len(p.Vertices) < 2 {
		return errors.New("a polyline of less than two vertices")
	}
	for _, v := range p.Vertices {
		if err := finite(v.At[0], v.At[1], v.Bulge); err != nil {
			return err
		}
	}
	return nil
}

func (t Text) faults() error {
	if !(t.Height > 0) || t.Value == "" || len(escape(t.Value)) > longestText {
		return fmt.Errorf("a text needs a height, and 1 to %d bytes", longestText)
	}
	return finite(t.At[0], t.At[1], t.Height)
}

// writer writes pairs of group code and value.
type writer struct{ b *bufio.Writer }

func (w *writer) text(code int, v string) {
	w.b.WriteString(strconv.Itoa(code))
	w.b.WriteString("\r\n")
	w.b.WriteString(v)
	w.b.WriteString("\r\n")
}

func (w *writer) int(code, v int)          { w.text(code, strconv.Itoa(v)) }
func (w *writer) real(code int, v float64) { w.text(code, number(v)) }
func (w *writer) point(code int, p Point) {
	w.real(code, p[0])
	w.real(code+10, p[1])
	w.real(code+20, 0)
}
func (w *writer) variable(name string)        { w.text(9, name) }
func (w *writer) section(name string)         { w.text(0, "SECTION"); w.text(2, name) }
func (w *writer) entity(name, layer string)   { w.text(0, name); w.text(8, layer) }
func (w *writer) table(name string, rows int) { w.text(0, "TABLE"); w.text(2, name); w.int(70, rows) }

// number prints a real so that reading gives it back, with a point and without an
// exponent, which not every reader takes.
func number(v float64) string {
	s := strconv.FormatFloat(v+0, 'f', -1, 64)
	if s == "-0" {
		s = "0"
	}
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return s
}

func (w *writer) header(d *Drawing) {
	lo, hi := d.Bounds()
	w.section("HEADER")
	w.variable("$ACADVER")
	w.text(1, release)
	w.variable("$EXTMIN")
	w.point(10, lo)
	w.variable("$EXTMAX")
	w.point(10, hi)
	w.variable("$INSUNITS")
	w.int(70, millimeters)
	w.variable("$MEASUREMENT")
	w.int(70, metric)
	w.text(0, "ENDSEC")
}

// What the header says.
const (
	release     = "AC1009"
	millimeters = 4
	metric      = 1
)

// Bounds returns the corners of the box around all that is drawn, mm, texts by where they
// begin; zero where nothing is.
func (d *Drawing) Bounds() (lo, hi Point) {
	if len(d.Items) == 0 {
		return lo, hi
	}
	lo, hi = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, it := range d.Items {
		it.Entity.bounds(func(p Point) {
			for i, x := range p {
				lo[i], hi[i] = min(lo[i], x), max(hi[i], x)
			}
		})
	}
	return lo, hi
}

// pattern is a line type: what it looks like, and its dashes (gaps negative), mm: short
// enough to show on what is 20 mm long at 1:1.
type pattern struct {
	text   string
	dashes []float64
}

var linetypes = map[Linetype]pattern{
	Continuous: {"Solid line", nil},
	Center:     {"Center ____ _ ____ _ ____", []float64{16, -3, 3, -3}},
	Hidden:     {"Hidden __ __ __ __", []float64{3, -1.5}},
}

func (w *writer) tables(layers []Layer) {
	w.section("TABLES")
	w.table("LTYPE", len(linetypes))
	for _, name := range []Linetype{Continuous, Center, Hidden} {
		w.linetype(name, linetypes[name])
	}
	w.text(0, "ENDTAB")
	w.table("LAYER", len(layers)+1)
	w.layer(Layer{"0", 7, Continuous})
	for _, l := range layers {
		w.layer(l)
	}
	w.text(0, "ENDTAB")
	w.table("STYLE", 1)
	w.style()
	w.text(0, "ENDTAB")
	w.text(0, "ENDSEC")
}

func (w *writer) linetype(name Linetype, p pattern) {
	w.text(0, "LTYPE")
	w.text(2, string(name))
	w.int(70, 0)
	w.text(3, p.text)
	w.int(72, 'A')
	w.int(73, len(p.dashes))
	length := 0.0
	for _, d := range p.dashes {
		length += math.Abs(d)
	}
	w.real(40, length)
	for _, d := range p.dashes {
		w.real(49, d)
	}
}

func (w *writer) layer(l Layer) {
	w.text(0, "LAYER")
	w.text(2, l.Name)
	w.int(70, 0)
	w.int(62, l.Color)
	w.text(6, string(l.Linetype))
}

// style is the text style that every text has.
func (w *writer) style() {
	w.text(0, "STYLE")
	w.text(2, "STANDARD")
	w.int(70, 0)
	w.real(40, 0)
	w.real(41, 1)
	w.real(50, 0)
	w.int(71, 0)
	w.real(42, 2.5)
	w.text(3, "txt")
	w.text(4, "")
}

func (l Line) write(w *writer, layer string) {
	w.entity("LINE", layer)
	w.point(10, l.From)
	w.point(11, l.To)
}

func (d Dot) write(w *writer, layer string) {
	w.entity("POINT", layer)
	w.point(10, d.At)
}

func (c Circle) write(w *writer, layer string) {
	w.entity("CIRCLE", layer)
	w.point(10, c.Center)
	w.real(40, c.Radius)
}

func (a Arc) write(w *writer, layer string) {
	w.entity("ARC", layer)
	w.point(10, a.Center)
	w.real(40, a.Radius)
	w.real(50, a.From)
	w.real(51, a.To)
}

func (t Text) write(w *writer, layer string) {
	w.entity("TEXT", layer)
	w.point(10, t.At)
	w.real(40, t.Height)
	w.text(1, escape(t.Value))
}

func (p Polyline) write(w *writer, layer string) {
	w.entity("POLYLINE", layer)
	w.int(66, 1)
	w.point(10, Point{})
	closed := 0
	if p.Closed {
		closed = 1
	}
	w.int(70, closed)
	for _, v := range p.Vertices {
		w.entity("VERTEX", layer)
		w.point(10, v.At)
		if v.Bulge != 0 {
			w.real(42, v.Bulge)
		}
	}
	w.entity("SEQEND", layer)
}

package dxf

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// What Read takes at most: a mold's largest piece has some thousand entities.
const (
	mostBytes = 64 << 20
	mostPairs = 4 << 20
	mostLine  = 1024
)

// Read reads a drawing as Write writes it. Anything else is an error that names the
// line: another release, other units, entities or codes that this package does not know,
// codes that are missing or there twice.
func Read(r io.Reader) (*Drawing, error) {
	p := &reader{lines: bufio.NewScanner(io.LimitReader(r, mostBytes))}
	p.lines.Buffer(make([]byte, 0, mostLine), mostLine)
	d, err := p.drawing()
	if err == nil {
		err = d.check()
	}
	if err != nil {
		return nil, fmt.Errorf("dxf: line %d: %w", p.line, err)
	}
	return d, nil
}

// pair is a group code with its value.
type pair struct {
	code  int
	value string
}

// reader reads pairs, one ahead.
type reader struct {
	lines *bufio.Scanner
	line  int
	pairs int
	ahead *pair
}

var errShort = errors.New("the file ends too early")

func (p *reader) text() (string, error) {
	if !p.lines.Scan() {
		if err := p.lines.Err(); err != nil {
			return "", err
		}
		return "", errShort
	}
	p.line++
	return strings.TrimSuffix(p.lines.Text(), "\r"), nil
}

// peek returns the pair that next will return.
func (p *reader) peek() (pair, error) {
	if p.ahead != nil {
		return *p.ahead, nil
	}
	if p.pairs++; p.pairs > mostPairs {
		return pair{}, fmt.Errorf("more than %d pairs", mostPairs)
	}
	code, err := p.text()
	if err != nil {
		return pair{}, err
	}
	n, err := strconv.Atoi(strings.TrimSpace(code))
	if err != nil {
		return pair{}, fmt.Errorf("%q is no group code", code)
	}
	value, err := p.text()
	if err != nil {
		return pair{}, err
	}
	p.ahead = &pair{n, value}
	return *p.ahead, nil
}

func (p *reader) next() (pair, error) {
	g, err := p.peek()
	p.ahead = nil
	return g, err
}

// expect takes one pair that must be as given.
func (p *reader) expect(code int, value string) error {
	g, err := p.next()
	if err == nil && g != (pair{code, value}) {
		err = fmt.Errorf("%d %q, where %d %q should be", g.code, g.value, code, value)
	}
	return err
}

func (p *reader) begin(section string) error {
	return errors.Join(p.expect(0, "SECTION"), p.expect(2, section))
}

func (p *reader) drawing() (*Drawing, error) {
	d := &Drawing{}
	for _, part := range []func(*Drawing) error{p.header, p.tables, p.entities} {
		if err := part(d); err != nil {
			return nil, err
		}
	}
	if err := p.expect(0, "EOF"); err != nil {
		return nil, err
	}
	if rest, err := p.text(); err == nil {
		return nil, fmt.Errorf("%q after the end", rest)
	}
	return d, nil
}

// header takes the variables, of which those that matter must be as Write sets them.
func (p *reader) header(*Drawing) error {
	if err := p.begin("HEADER"); err != nil {
		return err
	}
	want := map[string]pair{
		"$ACADVER": {1, release}, "$INSUNITS": {70, strconv.Itoa(millimeters)}, "$MEASUREMENT": {70, strconv.Itoa(metric)},
	}
	name := ""
	for {
		g, err := p.next()
		switch {
		case err != nil:
			return err
		case g == pair{0, "ENDSEC"}:
			if len(want) > 0 {
				return errors.New("the header does not state release, units and measurement")
			}
			return nil
		case g.code == 9:
			name = g.value
			continue
		}
		if w, ok := want[name]; ok {
			if g != w {
				return fmt.Errorf("%s is %q, not %q", name, g.value, w.value)
			}
			delete(want, name)
		}
	}
}

// tables takes the layers; line types and text style are the same in every file.
func (p *reader) tables(d *Drawing) error {
	if err := p.begin("TABLES"); err != nil {
		return err
	}
	for {
		g, err := p.next()
		switch {
		case err != nil:
			return err
		case g == pair{0, "ENDSEC"}:
			return nil
		case g != pair{0, "TABLE"}:
			return fmt.Errorf("%q is no table", g.value)
		}
		if err := p.table(d); err != nil {
			return err
		}
	}
}

func (p *reader) table(d *Drawing) error {
	name, err := p.next()
	if err != nil {
		return err
	}
	for {
		f, err := p.record()
		if err != nil {
			return err
		}
		switch {
		case f.kind == "ENDTAB":
			return nil
		case f.kind == "LAYER" && name.value == "LAYER":
			l := Layer{f.text(2), f.int(62), Linetype(f.text(6))}
			if err := f.done(70); err != nil {
				return err
			}
			if l.Name != "0" {
				d.Layers = append(d.Layers, l)
			}
		case f.kind != "" && f.kind != name.value:
			return fmt.Errorf("a %q in the table %s", f.kind, name.value)
		}
	}
}

// record is all up to the next code 0.
type record struct {
	kind  string // "" before the first code 0 of a table
	pairs []pair
	err   error
}

func (p *reader) record() (*record, error) {
	f := &record{}
	if g, err := p.peek(); err != nil {
		return nil, err
	} else if g.code == 0 {
		f.kind, p.ahead = g.value, nil
	}
	if f.kind == "EOF" || f.kind == "ENDSEC" {
		return f, nil
	}
	for {
		g, err := p.peek()
		if err != nil {
			return nil, err
		}
		if g.code == 0 {
			return f, nil
		}
		f.pairs, p.ahead = append(f.pairs, g), nil
	}
}

// text takes the value of a code, which must be there.
func (f *record) text(code int) string {
	i := slices.IndexFunc(f.pairs, func(g pair) bool { return g.code == code })
	if i < 0 {
		f.fail(fmt.Errorf("a %s without code %d", f.kind, code))
		return ""
	}
	v := f.pairs[i].value
	f.pairs = slices.Delete(f.pairs, i, i+1)
	return v
}

func (f *record) int(code int) int {
	n, err := strconv.Atoi(strings.TrimSpace(f.text(code)))
	f.fail(err)
	return n
}

func (f *record) real(code int) float64 {
	v, err := strconv.ParseFloat(strings.TrimSpace(f.text(code)), 64)
	f.fail(err)
	return v + 0 // no drawing tells -0 from 0
}

func (f *record) has(code int) bool {
	return slices.ContainsFunc(f.pairs, func(g pair) bool { return g.code == code })
}

// point takes a point, which must lie in the plane.
func (f *record) point(code int) Point {
	p := Point{f.real(code), f.real(code + 10)}
	if f.real(code+20) != 0 {
		f.fail(errors.New("a point off the plane"))
	}
	return p
}

func (f *record) fail(err error) {
	if f.err == nil {
		f.err = err
	}
}

// done tells what was wrong, or is left over beside codes that do not matter.
func (f *record) done(passed ...int) error {
	for _, code := range passed {
		f.pairs = slices.DeleteFunc(f.pairs, func(g pair) bool { return g.code == code })
	}
	if len(f.pairs) > 0 {
		f.fail(fmt.Errorf("a %s with code %d, which none has or which is there twice", f.kind, f.pairs[0].code))
	}
	return f.err
}

func (p *reader) entities(d *Drawing) error {
	if err := p.begin("ENTITIES"); err != nil {
		return err
	}
	for {
		f, err := p.record()
		if err != nil {
			return err
		}
		if f.kind == "ENDSEC" {
			return nil
		}
		layer := f.text(8)
		e, err := p.entity(f, layer)
		if err != nil {
			return err
		}
		d.Add(layer, e)
	}
}

func (p *reader) entity(f *record, layer string) (e Entity, err error) {
	switch f.kind {
	case "LINE":
		e = Line{f.point(10), f.point(11)}
	case "POINT":
		e = Dot{f.point(10)}
	case "CIRCLE":
		e = Circle{f.point(10), f.real(40)}
	case "ARC":
		e = Arc{f.point(10), f.real(40), f.real(50), f.real(51)}
	case "TEXT":
		t := Text{At: f.point(10), Height: f.real(40)}
		t.Value, err = unescape(f.text(1))
		f.fail(err)
		e = t
	case "POLYLINE":
		return p.polyline(f, layer)
	default:
		return nil, fmt.Errorf("an entity %q", f.kind)
	}
	return e, f.done()
}

// polyline reads the vertices of one that has begun.
func (p *reader) polyline(f *record, layer string) (Entity, error) {
	var out Polyline
	f.point(10)
	flags := f.int(70)
	out.Closed = flags == 1
	if f.int(66) != 1 || flags&^1 != 0 {
		f.fail(errors.New("a polyline of another kind"))
	}
	if err := f.done(); err != nil {
		return nil, err
	}
	for {
		v, err := p.record()
		if err != nil {
			return nil, err
		}
		if v.text(8) != layer {
			v.fail(errors.New("a vertex on another layer than its polyline"))
		}
		switch v.kind {
		case "SEQEND":
			return out, v.done()
		case "VERTEX":
			x := Vertex{At: v.point(10)}
			if v.has(42) {
				x.Bulge = v.real(42)
			}
			out.Vertices = append(out.Vertices, x)
			if err := v.done(); err != nil {
				return nil, err
			}
		default:
			return nil, fmt.Errorf("a %q within a polyline", v.kind)
		}
	}
}

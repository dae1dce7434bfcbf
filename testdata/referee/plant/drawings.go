package main

import (
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"wheelmold/mesh/dxf"
)

// flat returns a plate of 60 x 40 mm with half a disk of 40 mm on its right end, two bolt
// holes of 6.6 mm and a ball pocket of 10 mm, each with its mark.
func flat() *dxf.Drawing {
	d := &dxf.Drawing{}
	for _, name := range []string{"OUTLINE", "BOLT-HOLES", "BALL-POCKETS", "CENTERS", "HOLE-MARKS", "NOTES"} {
		d.Layers = append(d.Layers, dxf.Layer{Name: name, Color: 7, Linetype: dxf.Continuous})
	}
	d.Add("OUTLINE", dxf.Polyline{Closed: true, Vertices: []dxf.Vertex{
		{At: dxf.Point{0, -20}}, {At: dxf.Point{60, -20}, Bulge: 1}, {At: dxf.Point{60, 20}}, {At: dxf.Point{0, 20}},
	}})
	hole := func(layer, mark string, x, y, r float64) {
		d.Add(layer, dxf.Circle{Center: dxf.Point{x, y}, Radius: r})
		d.Add("CENTERS", dxf.Dot{At: dxf.Point{x, y}})
		d.Add("HOLE-MARKS", dxf.Text{At: dxf.Point{x + r + 1, y - 1.5}, Height: 3, Value: mark})
	}
	hole("BOLT-HOLES", "A1", 10, 10, 3.3)
	hole("BOLT-HOLES", "A2", 10, -10, 3.3)
	hole("BALL-POCKETS", "B1", 60, 0, 5)
	d.Add("NOTES", dxf.Text{At: dxf.Point{0, -30}, Height: 3, Value: "1:1, millimeters"})
	return d
}

// drawings plants flat drawings, and what is expected of each: the sound one.
func drawings(dir string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	expected := map[string]any{}
	want := map[string]any{
		"circles":  map[string]any{"BOLT-HOLES": [][]float64{{10, 10, 6.6}, {10, -10, 6.6}}, "BALL-POCKETS": [][]float64{{60, 0, 10}}},
		"marks":    [][]any{{"A1", 10, 10}, {"A2", 10, -10}, {"B1", 60, 0}},
		"outlines": []any{map[string]any{"area": 60*40 + math.Pi*20*20/2, "box": []float64{0, -20, 80, 20}}},
	}
	for name, spoil := range drawingFaults() {
		d := flat()
		spoil(d)
		expected[name+".dxf"] = want
		if err := writeWith(filepath.Join(dir, name+".dxf"), func(w io.Writer) error { return dxf.Write(w, d) }); err != nil {
			return err
		}
	}
	var sound strings.Builder
	if err := dxf.Write(&sound, flat()); err != nil {
		return err
	}
	for name, change := range map[string][2]string{
		"inches":      {"$INSUNITS\r\n70\r\n4", "$INSUNITS\r\n70\r\n1"},
		"unitless":    {"9\r\n$INSUNITS\r\n70\r\n4\r\n", ""},
		"other":       {"AC1009", "AC1015"},
		"cut":         {sound.String()[sound.Len()/2:], ""},
		"orphan":      {"SEQEND", "POINT"},
		"no-linetype": {"6\r\nCONTINUOUS", "6\r\nWAVY"},
	} {
		expected[name+".dxf"] = want
		text := strings.Replace(sound.String(), change[0], change[1], 1)
		if err := writeWith(filepath.Join(dir, name+".dxf"), func(w io.Writer) error { _, err := io.WriteString(w, text); return err }); err != nil {
			return err
		}
	}
	b, err := json.Marshal(expected)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "expected.json"), b, 0o666)
}

// drawingFaults are what may be wrong with a drawing, by file name.
func drawingFaults() map[string]func(*dxf.Drawing) {
	change := func(f func(*dxf.Polyline)) func(*dxf.Drawing) {
		return func(d *dxf.Drawing) {
			p := d.Items[0].Entity.(dxf.Polyline)
			f(&p)
			d.Items[0].Entity = p
		}
	}
	circle := func(f func(*dxf.Circle)) func(*dxf.Drawing) {
		return func(d *dxf.Drawing) {
			c := d.Items[1].Entity.(dxf.Circle)
			f(&c)
			d.Items[1].Entity = c
		}
	}
	mark := func(f func(*dxf.Text)) func(*dxf.Drawing) {
		return func(d *dxf.Drawing) {
			x := d.Items[3].Entity.(dxf.Text)
			f(&x)
			d.Items[3].Entity = x
		}
	}
	return map[string]func(*dxf.Drawing){
		"sound":    func(*dxf.Drawing) {},
		"reversed": change(func(p *dxf.Polyline) { p.Vertices[1].Bulge = -1 }),
		"open":     change(func(p *dxf.Polyline) { p.Closed = false }),
		"flat-arc": change(func(p *dxf.Polyline) { p.Vertices[1].Bulge = .999 }),
		"shifted": change(func(p *dxf.Polyline) {
			for i := range p.Vertices {
				p.Vertices[i].At[1] += .01
			}
		}),
		"moved":       circle(func(c *dxf.Circle) { c.Center[0] += .01 }),
		"wide":        circle(func(c *dxf.Circle) { c.Radius += .01 }),
		"missing":     func(d *dxf.Drawing) { d.Items = append(d.Items[:1:1], d.Items[4:]...) },
		"unmarked":    func(d *dxf.Drawing) { d.Items = append(d.Items[:3:3], d.Items[4:]...) },
		"mismarked":   mark(func(x *dxf.Text) { x.Value = "A2" }),
		"far-mark":    mark(func(x *dxf.Text) { x.At[0] += 3 }),
		"doubled":     func(d *dxf.Drawing) { d.Items = append(d.Items, d.Items[1]) },
		"other-layer": func(d *dxf.Drawing) { d.Items[1].Layer = "BALL-POCKETS" },
		"no-layer": func(d *dxf.Drawing) {
			for i := range d.Items {
				if d.Items[i].Layer == "BALL-POCKETS" {
					d.Items[i].Layer = "0"
				}
			}
			d.Layers = append(d.Layers[:2:2], d.Layers[3:]...)
		},
		"no-units-said": func(d *dxf.Drawing) { d.Items[len(d.Items)-1].Entity = dxf.Text{Height: 3, Value: "1:1"} },
		"inch-scale":    scaled(1 / 25.4),
	}
}

// scaled makes a drawing as much smaller.
func scaled(k float64) func(*dxf.Drawing) {
	at := func(p dxf.Point) dxf.Point { return dxf.Point{p[0] * k, p[1] * k} }
	return func(d *dxf.Drawing) {
		for i, it := range d.Items {
			switch e := it.Entity.(type) {
			case dxf.Circle:
				d.Items[i].Entity = dxf.Circle{Center: at(e.Center), Radius: e.Radius * k}
			case dxf.Dot:
				d.Items[i].Entity = dxf.Dot{At: at(e.At)}
			case dxf.Polyline:
				for k := range e.Vertices {
					e.Vertices[k].At = at(e.Vertices[k].At)
				}
			}
		}
	}
}

package steptest

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh/step"
)

// Model is what a file holds.
type Model struct {
	Products []string // in the order of the file
	Placed   []string // parts of an assembly; each lies where its coordinates say
	Solids   []Solid
}

// Solid is one MANIFOLD_SOLID_BREP or BREP_WITH_VOIDS.
type Solid struct {
	Name    string
	Voids   int
	Volume  float64 // mm³, by integration over the faces of the file
	Faces   map[string]int
	Edges   map[string]int
	Names   []string // of the faces
	Colored int      // faces that have a color
	Gap     float64  // largest distance of an edge from its surfaces, mm
	Loose   float64  // largest distance of a vertex from the end of an edge, mm
	Kink    float64  // largest angle at an edge's end between it and where its surfaces meet, radians
}

type audit struct {
	file   *step.File
	colors map[int]int // styles of a face
	edges  map[int]*edge
}

// edge is an EDGE_CURVE.
type edge struct {
	curve    curve
	kind     string
	v0, v1   int
	p0, p1   Vec
	stations []float64 // rising, from v0 to v1
	loose    float64   // of its vertices
	uses     map[bool]int
	surfaces []surface
}

// Audit reads a file and returns what it holds, or what is wrong with it: a loop or
// shell that is not closed, an edge off its faces, a border on the wrong side of its
// face, units, a color or name that is not there as it should be.
func Audit(src []byte) (m *Model, err error) {
	f, err := step.Read(bytes.NewReader(src))
	if err != nil {
		return nil, err
	}
	defer func() {
		if r := recover(); r != nil {
			x, ok := r.(fault)
			if !ok {
				panic(r)
			}
			m, err = nil, x.error
		}
	}()
	a := &audit{file: f, colors: map[int]int{}, edges: map[int]*edge{}}
	a.units()
	a.readColors()
	m = &Model{}
	for _, id := range a.all("PRODUCT") {
		m.Products = append(m.Products, text(a.typed(id, "PRODUCT", 4)[0]))
	}
	for _, id := range a.all("ADVANCED_BREP_SHAPE_REPRESENTATION") {
		for _, item := range refs(a.typed(id, "ADVANCED_BREP_SHAPE_REPRESENTATION", 3)[1]) {
			if a.file.Entities[item].Type() != "AXIS2_PLACEMENT_3D" {
				m.Solids = append(m.Solids, a.solid(item))
			}
		}
	}
	m.Placed = a.placed()
	return m, nil
}

// units: everything is measured in millimeters and radians.
func (a *audit) units() {
	n := 0
	for _, id := range a.file.Order {
		switch a.file.Entities[id].Type() {
		case "LENGTH_UNIT NAMED_UNIT SI_UNIT":
			p := a.part(id, "SI_UNIT")
			if p[0].Text != "MILLI" || p[1].Text != "METRE" {
				wrong("a length unit of %s %s", p[0].Text, p[1].Text)
			}
			n++
		case "NAMED_UNIT PLANE_ANGLE_UNIT SI_UNIT":
			if p := a.part(id, "SI_UNIT"); p[0].Kind != step.Absent || p[1].Text != "RADIAN" {
				wrong("an angle unit of %s", p[1].Text)
			}
			n++
		}
	}
	if n != 2 {
		wrong("%d units of length and angle, want 2", n)
	}
}

// readColors follows every STYLED_ITEM down to its COLOUR_RGB.
func (a *audit) readColors() {
	for _, id := range a.all("STYLED_ITEM") {
		p := a.typed(id, "STYLED_ITEM", 3)
		at := refs(p[1])[0]
		at = refs(a.typed(at, "PRESENTATION_STYLE_ASSIGNMENT", 1)[0])[0]
		at = ref(a.typed(at, "SURFACE_STYLE_USAGE", 2)[1])
		at = refs(a.typed(at, "SURFACE_SIDE_STYLE", 2)[1])[0]
		at = ref(a.typed(at, "SURFACE_STYLE_FILL_AREA", 1)[0])
		at = refs(a.typed(at, "FILL_AREA_STYLE", 2)[1])[0]
		at = ref(a.typed(at, "FILL_AREA_STYLE_COLOUR", 2)[1])
		for _, c := range a.typed(at, "COLOUR_RGB", 4)[1:] {
			if x := real(c); x < 0 || x > 1 {
				wrong("#%d: a color of %g", at, x)
			}
		}
		a.colors[ref(p[2])]++
	}
}

// placed lists the parts of an assembly; they may not be moved.
func (a *audit) placed() (names []string) {
	for _, id := range a.all("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION") {
		p := a.typed(id, "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION", 2)
		move := ref(a.part(ref(p[0]), "REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION")[0])
		m := a.typed(move, "ITEM_DEFINED_TRANSFORMATION", 4)
		from, to := a.frame(m[2]), a.frame(m[3])
		if from != to {
			wrong("#%d: a part is moved", id)
		}
		// Readers look for both placements among the items of the two shapes.
		for i, shape := range a.part(ref(p[0]), "REPRESENTATION_RELATIONSHIP")[2:] {
			if !slices.Contains(refs(a.record(ref(shape), 3).Params[1]), ref(m[2+i])) {
				wrong("#%d: a placement of another shape", move)
			}
		}
		property := a.typed(ref(p[1]), "PRODUCT_DEFINITION_SHAPE", 3)
		use := a.typed(ref(property[2]), "NEXT_ASSEMBLY_USAGE_OCCURRENCE", 6)
		names = append(names, text(use[1]))
	}
	return names
}

// solid reads and judges one solid.
func (a *audit) solid(id int) Solid {
	s := Solid{Faces: map[string]int{}, Edges: map[string]int{}}
	r := a.file.Entities[id]
	shells := []int{}
	switch r.Type() {
	case "MANIFOLD_SOLID_BREP":
		a.record(id, 2)
	case "BREP_WITH_VOIDS":
		for _, o := range refs(a.record(id, 3).Params[2]) {
			p := a.typed(o, "ORIENTED_CLOSED_SHELL", 4)
			if !flag(p[3]) {
				wrong("#%d: a reversed void", o)
			}
			shells = append(shells, ref(p[2]))
		}
	default:
		wrong("#%d: a %s is no solid", id, r.Type())
	}
	s.Name, s.Voids = text(r[0].Params[0]), len(shells)
	for i, shell := range append(shells, ref(r[0].Params[1])) {
		v := a.shell(&s, shell)
		if i < len(shells) != (v < 0) {
			wrong("#%d: a shell of volume %g", shell, v)
		}
		s.Volume += v
	}
	return s
}

// shell reads a shell and returns its volume.
func (a *audit) shell(s *Solid, id int) float64 {
	used := map[int]*edge{}
	faces := refs(a.typed(id, "CLOSED_SHELL", 2)[1])
	read := make([]face, len(faces))
	lo, hi := Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for i, f := range faces {
		read[i] = a.face(s, f, used)
		for _, l := range read[i].loops {
			for _, u := range l {
				for k := range lo {
					lo[k], hi[k] = min(lo[k], u.p0[k]), max(hi[k], u.p0[k])
				}
			}
		}
	}
	joined(id, read)
	for e, x := range used {
		if x.uses[true] != 1 || x.uses[false] != 1 {
			wrong("#%d is used %d times forward and %d times back", e, x.uses[true], x.uses[false])
		}
		s.Edges[x.kind]++
		s.Kink = max(s.Kink, x.kink())
	}
	volume := 0.0
	middle := lo.Add(hi).Scale(.5)
	for i := range read {
		volume += read[i].integrate(middle)
	}
	return volume / 3
}

// joined: every face of a shell is reached from the first over common edges.
func joined(id int, faces []face) {
	at := map[*edge][]int{}
	for i, f := range faces {
		for _, l := range f.loops {
			for _, u := range l {
				at[u.edge] = append(at[u.edge], i)
			}
		}
	}
	reached := map[int]bool{0: true}
	for queue := []int{0}; len(queue) > 0; queue = queue[1:] {
		for _, l := range faces[queue[0]].loops {
			for _, u := range l {
				for _, i := range at[u.edge] {
					if !reached[i] {
						reached[i] = true
						queue = append(queue, i)
					}
				}
			}
		}
	}
	if len(reached) != len(faces) {
		wrong("#%d: %d of %d faces hang together", id, len(reached), len(faces))
	}
}

// use is an edge as a loop runs along it, from p0 to p1.
type use struct {
	*edge
	forward bool
	p0, p1  Vec
}

// face is an ADVANCED_FACE.
type face struct {
	id      int
	surface surface
	kind    string
	same    bool // the surface's normal points out of the solid
	loops   [][]use
}

func (a *audit) face(s *Solid, id int, used map[int]*edge) face {
	p := a.typed(id, "ADVANCED_FACE", 4)
	f := face{id: id, same: flag(p[3])}
	f.surface, f.kind = a.surface(ref(p[2]))
	s.Faces[f.kind]++
	s.Names = append(s.Names, text(p[0]))
	if n := a.colors[id]; n > 0 {
		s.Colored++
		if n > 1 {
			wrong("#%d has %d colors", id, n)
		}
	}
	bounds := refs(p[1])
	outer := 0
	for _, b := range bounds {
		r := a.record(b, 3)
		if !slices.Contains([]string{"FACE_BOUND", "FACE_OUTER_BOUND"}, r.Type) || !flag(r.Params[2]) {
			wrong("#%d: a bound of face #%d is a %s, or reversed", b, id, r.Type)
		}
		if r.Type == "FACE_OUTER_BOUND" {
			outer++
		}
		f.loops = append(f.loops, a.loop(s, &f, ref(r.Params[1]), used))
	}
	if outer != 1 || len(bounds) == 0 || a.record(bounds[0], 3).Type != "FACE_OUTER_BOUND" {
		wrong("#%d has %d outer bounds", id, outer)
	}
	return f
}

func (a *audit) loop(s *Solid, f *face, id int, used map[int]*edge) (out []use) {
	var starts, ends []int
	for _, o := range refs(a.typed(id, "EDGE_LOOP", 2)[1]) {
		p := a.typed(o, "ORIENTED_EDGE", 5)
		n := ref(p[3])
		e := a.edge(n)
		u := use{e, flag(p[4]), e.p0, e.p1}
		from, to := e.v0, e.v1
		if !u.forward {
			u.p0, u.p1, from, to = u.p1, u.p0, to, from
		}
		out, starts, ends = append(out, u), append(starts, from), append(ends, to)
		used[n] = e
		e.uses[u.forward]++
		e.surfaces = append(e.surfaces, f.surface)
		s.Gap, s.Loose = max(s.Gap, e.off(f.surface)), max(s.Loose, e.loose)
	}
	for i := range starts {
		if ends[i] != starts[(i+1)%len(starts)] {
			wrong("#%d: loop #%d is open", f.id, id)
		}
	}
	return out
}

func (a *audit) edge(id int) *edge {
	if e := a.edges[id]; e != nil {
		return e
	}
	p := a.typed(id, "EDGE_CURVE", 5)
	if !flag(p[4]) {
		wrong("#%d runs against its curve", id)
	}
	vertex := func(q step.Param) (int, Vec) {
		return ref(q), a.point(a.typed(ref(q), "VERTEX_POINT", 2)[1])
	}
	e := &edge{curve: a.curve(ref(p[3])), kind: a.file.Entities[ref(p[3])].Type(), uses: map[bool]int{}}
	e.v0, e.p0 = vertex(p[1])
	e.v1, e.p1 = vertex(p[2])
	e.stations = e.curve.between(e.p0, e.p1)
	t0, t1 := e.stations[0], e.stations[len(e.stations)-1]
	if t1 <= t0 {
		wrong("#%d has no length or runs against its curve", id)
	}
	for _, end := range []struct {
		t float64
		p Vec
	}{{t0, e.p0}, {t1, e.p1}} {
		q, _ := e.curve.at(end.t)
		e.loose = max(e.loose, q.Dist(end.p))
	}
	a.edges[id] = e
	return e
}

// off is how far the edge lies from a surface, in 10 steps per station.
func (e *edge) off(s surface) float64 {
	worst := 0.0
	for i, t := range e.stations[1:] {
		for k := range 11 {
			p, _ := e.curve.at(e.stations[i] + (t-e.stations[i])*float64(k)/10)
			worst = max(worst, s.distance(p))
		}
	}
	return worst
}

// kink is the angle at the edge's ends between it and where its two surfaces meet, if
// they do at an angle.
func (e *edge) kink() float64 {
	worst := 0.0
	for _, t := range [2]float64{e.stations[0], e.stations[len(e.stations)-1]} {
		p, d := e.curve.at(t)
		normal := func(s surface) Vec {
			_, du, dv := s.at(s.parameters(p))
			return du.Cross(dv).Unit()
		}
		if along := normal(e.surfaces[0]).Cross(normal(e.surfaces[1])); along.Norm() > .01 {
			worst = max(worst, math.Asin(min(1, along.Unit().Cross(d.Unit()).Norm())))
		}
	}
	return worst
}

// String says what a model holds.
func (m *Model) String() string {
	return fmt.Sprintf("%d products, %d placed, %d solids", len(m.Products), len(m.Placed), len(m.Solids))
}

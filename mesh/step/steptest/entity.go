package steptest

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh/step"
)

// fault is what a file has wrong; the functions below panic with it, Audit returns it.
type fault struct{ error }

func wrong(format string, args ...any) { panic(fault{fmt.Errorf(format, args...)}) }

// record returns entity id, which must be a single one with that many parameters.
func (a *audit) record(id, params int) step.Record {
	e := a.file.Entities[id]
	if len(e) != 1 || len(e[0].Params) != params {
		wrong("#%d is %s with parameters other than %d", id, e.Type(), params)
	}
	return e[0]
}

// typed is record with a type.
func (a *audit) typed(id int, name string, params int) []step.Param {
	r := a.record(id, params)
	if r.Type != name {
		wrong("#%d is a %s, want a %s", id, r.Type, name)
	}
	return r.Params
}

// part returns one record of a complex entity.
func (a *audit) part(id int, name string) []step.Param {
	e := a.file.Entities[id]
	i := slices.IndexFunc(e, func(r step.Record) bool { return r.Type == name })
	if i < 0 {
		wrong("#%d is no %s", id, name)
	}
	return e[i].Params
}

// all lists the single entities of a type.
func (a *audit) all(name string) (ids []int) {
	for _, id := range a.file.Order {
		if e := a.file.Entities[id]; len(e) == 1 && e[0].Type == name {
			ids = append(ids, id)
		}
	}
	return ids
}

func ref(p step.Param) int {
	if p.Kind != step.Ref {
		wrong("%v is no reference", p)
	}
	return int(p.Number)
}

func refs(p step.Param) (ids []int) {
	for _, q := range list(p) {
		ids = append(ids, ref(q))
	}
	return ids
}

func list(p step.Param) []step.Param {
	if p.Kind != step.List {
		wrong("%v is no list", p)
	}
	return p.List
}

func real(p step.Param) float64 {
	if p.Kind != step.Real {
		wrong("%v is no real", p)
	}
	return p.Number
}

func integer(p step.Param) int {
	if p.Kind != step.Integer {
		wrong("%v is no integer", p)
	}
	return int(p.Number)
}

func text(p step.Param) string {
	if p.Kind != step.Text {
		wrong("%v is no text", p)
	}
	return p.Text
}

func flag(p step.Param) bool {
	if p.Kind != step.Enum || p.Text != "T" && p.Text != "F" {
		wrong("%v is no boolean", p)
	}
	return p.Text == "T"
}

func (a *audit) vector(p step.Param) (v Vec) {
	l := list(p)
	if len(l) != 3 {
		wrong("%v has not three coordinates", p)
	}
	for i := range v {
		v[i] = real(l[i])
	}
	return v
}

func (a *audit) point(p step.Param) Vec {
	return a.vector(a.typed(ref(p), "CARTESIAN_POINT", 2)[1])
}

// direction must have length 1: the standard would take any, but no reader gains by it.
func (a *audit) direction(p step.Param) Vec {
	d := a.vector(a.typed(ref(p), "DIRECTION", 2)[1])
	if math.Abs(d.Norm()-1) > 1e-12 {
		wrong("a direction of length %g", d.Norm())
	}
	return d
}

func (a *audit) frame(p step.Param) frame {
	q := a.typed(ref(p), "AXIS2_PLACEMENT_3D", 4)
	f := frame{o: a.point(q[1]), z: a.direction(q[2]), x: a.direction(q[3])}
	if math.Abs(f.z.Dot(f.x)) > 1e-12 {
		wrong("axes that are not square")
	}
	f.y = f.z.Cross(f.x)
	return f
}

func (a *audit) curve(id int) curve {
	r := a.file.Entities[id]
	switch r.Type() {
	case "LINE":
		p := a.typed(id, "LINE", 3)
		v := a.typed(ref(p[2]), "VECTOR", 3)
		return line{a.point(p[1]), a.direction(v[1]).Scale(real(v[2]))}
	case "CIRCLE":
		p := a.typed(id, "CIRCLE", 3)
		return conic{a.frame(p[1]), real(p[2]), real(p[2])}
	case "ELLIPSE":
		p := a.typed(id, "ELLIPSE", 4)
		return conic{a.frame(p[1]), real(p[2]), real(p[3])}
	case "B_SPLINE_CURVE_WITH_KNOTS":
		return a.spline(a.typed(id, "B_SPLINE_CURVE_WITH_KNOTS", 9))
	}
	wrong("#%d: no edge runs along a %s", id, r.Type())
	return nil
}

func (a *audit) spline(p []step.Param) curve {
	b := bspline{degree: integer(p[1])}
	for _, q := range list(p[2]) {
		b.control = append(b.control, a.point(q))
	}
	times, knots := list(p[6]), list(p[7])
	if len(times) != len(knots) {
		wrong("%d knots, %d counts", len(knots), len(times))
	}
	for i, k := range knots {
		if i > 0 && real(k) <= real(knots[i-1]) {
			wrong("knots do not rise")
		}
		for range integer(times[i]) {
			b.knots = append(b.knots, real(k))
		}
	}
	if n := len(b.knots); n != len(b.control)+b.degree+1 || integer(times[0]) != b.degree+1 || integer(times[len(times)-1]) != b.degree+1 {
		wrong("a spline of degree %d with %d points and %d knots", b.degree, len(b.control), n)
	}
	return b
}

// surface returns a surface and its kind.
func (a *audit) surface(id int) (surface, string) {
	r := a.file.Entities[id]
	switch r.Type() {
	case "PLANE":
		return plane{a.frame(a.typed(id, "PLANE", 2)[1])}, "plane"
	case "CYLINDRICAL_SURFACE":
		p := a.typed(id, "CYLINDRICAL_SURFACE", 3)
		return turned{a.frame(p[1]), ruling{real(p[2]), 0}}, "cylinder"
	case "CONICAL_SURFACE":
		p := a.typed(id, "CONICAL_SURFACE", 4)
		if s := real(p[3]); s <= 0 || s >= math.Pi/2 || real(p[2]) < 0 {
			wrong("#%d: a cone of radius %g and half angle %g", id, real(p[2]), s)
		}
		return turned{a.frame(p[1]), ruling{real(p[2]), math.Tan(real(p[3]))}}, "cone"
	case "SPHERICAL_SURFACE":
		p := a.typed(id, "SPHERICAL_SURFACE", 3)
		return turned{a.frame(p[1]), arc{m: real(p[2])}}, "sphere"
	case "TOROIDAL_SURFACE":
		p := a.typed(id, "TOROIDAL_SURFACE", 4)
		if real(p[2]) <= real(p[3]) {
			wrong("#%d: a torus that meets itself", id)
		}
		return turned{a.frame(p[1]), arc{r: real(p[2]), m: real(p[3]), closed: true}}, "torus"
	case "SURFACE_OF_REVOLUTION":
		return a.revolution(a.typed(id, "SURFACE_OF_REVOLUTION", 3)), "revolution"
	}
	wrong("#%d: no face lies on a %s", id, r.Type())
	return nil, ""
}

// revolution is that of a circle whose plane holds the axis.
func (a *audit) revolution(p []step.Param) surface {
	axis := a.typed(ref(p[2]), "AXIS1_PLACEMENT", 3)
	c, ok := a.curve(ref(p[1])).(conic)
	if !ok || c.a != c.b {
		wrong("a surface of revolution of no circle")
	}
	f := frame{o: a.point(axis[1]), z: a.direction(axis[2])}
	f.x = f.z.Cross(c.z)
	f.y = f.z.Cross(f.x)
	m := f.local(c.o)
	if math.Abs(c.z.Dot(f.z)) > 1e-12 || math.Abs(m[1]) > 1e-9 {
		wrong("a circle turns about an axis outside of its plane")
	}
	return turned{f, arc{r: m[0], z: m[2], m: c.a, start: math.Atan2(c.x.Dot(f.z), c.x.Dot(f.x)), closed: true}}
}

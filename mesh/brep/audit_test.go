package brep

import (
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh/solid"
)

var (
	xAxis = Vec{1, 0, 0}
	yAxis = Vec{0, 1, 0}
	zAxis = Vec{0, 0, 1}
)

// audit checks what every boundary promises: edges lie on the carriers of both
// faces, faces lie on opposite sides of every edge, loops close.
func audit(b *Boundary) error {
	type corner struct{ face, vertex int }
	balance := map[corner]int{}
	for _, e := range b.Edges {
		if len(e.Half) != 2 {
			return fmt.Errorf("edge at %v has %d faces", e.Mid, len(e.Half))
		}
		sense := 0
		for _, h := range e.Half {
			f := b.Faces[h.Face]
			from, to := e.V0, e.V1
			if h.Reversed {
				from, to = to, from
			}
			balance[corner{h.Face, from}]++
			balance[corner{h.Face, to}]--
			if h.Reversed != f.Negative {
				sense++
			} else {
				sense--
			}
			for i := 0; i <= 8; i++ {
				p := e.Curve.At(e.T0 + (e.T1-e.T0)*float64(i)/8)
				if d := math.Abs(f.Carrier.F(p)); d > 1e-7 {
					return fmt.Errorf("edge at %v is %.2g mm off its %v", p, d, f.Carrier.Kind)
				}
			}
		}
		if sense != 0 {
			return fmt.Errorf("faces lie on the same side of the edge at %v", e.Mid)
		}
		for v, t := range map[int]float64{e.V0: e.T0, e.V1: e.T1} {
			if e.V0 != e.V1 && b.Vertices[v].Dist(e.Curve.At(t)) > touchTol {
				return fmt.Errorf("edge at %v does not end at its vertex", e.Mid)
			}
		}
	}
	for c, n := range balance {
		if n != 0 {
			return fmt.Errorf("a loop of face %d is open at %v", c.face, b.Vertices[c.vertex])
		}
	}
	return nil
}

// volumes evaluates and audits several solids of one model.
func volumes(m *solid.Model, roots ...*solid.Node) ([]float64, error) {
	ev := NewEvaluator(m)
	var out []float64
	for _, r := range roots {
		b, err := ev.Boundary(r)
		if err != nil {
			return nil, fmt.Errorf("%v: %w", r, err)
		}
		if err := audit(b); err != nil {
			return nil, fmt.Errorf("%v: %w", r, err)
		}
		out = append(out, b.Volume())
	}
	return out, nil
}

// laws checks block - (a ∪ b) against block ∩ (a ∪ b), and V(A∪B) + V(A∩B) =
// V(A) + V(B) inside the block. It returns the volume of what is left of the block.
func laws(m *solid.Model, block, a, b *solid.Node, tol float64) (float64, error) {
	u := solid.Union(a, b)
	v, err := volumes(m, solid.Minus(block, u), solid.Intersect(block, u),
		solid.Intersect(block, a), solid.Intersect(block, b), solid.Intersect(block, a, b), block)
	if err != nil {
		return 0, err
	}
	if d := v[0] + v[1] - v[5]; math.Abs(d) > tol*v[5] {
		return v[0], fmt.Errorf("complement in the block: off by %.3g mm³", d)
	}
	if d := v[1] + v[4] - v[2] - v[3]; math.Abs(d) > tol*v[5] {
		return v[0], fmt.Errorf("inclusion and exclusion: off by %.3g mm³", d)
	}
	return v[0], nil
}

func TestAuditSeesFaults(t *testing.T) {
	for name, spoil := range map[string]func(*Boundary){
		"missing face":   func(b *Boundary) { b.Edges[0].Half = b.Edges[0].Half[:1] },
		"turned face":    func(b *Boundary) { b.Edges[0].Half[0].Reversed = !b.Edges[0].Half[0].Reversed },
		"missing edge":   func(b *Boundary) { b.Edges = b.Edges[1:] },
		"face elsewhere": func(b *Boundary) { b.Faces[0].Carrier.D++ },
	} {
		m := solid.NewModel()
		b := boundary(t, m, solid.Minus(block(m), m.Cylinder("hole", "", Vec{}, zAxis, 3, 0, 20)))
		if err := audit(b); err != nil {
			t.Fatal(err)
		}
		if spoil(b); audit(b) == nil {
			t.Errorf("%s passes", name)
		}
	}
}

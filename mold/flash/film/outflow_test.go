package film

import (
	"math"
	"testing"
)

func one(u, v float64) float64 { return 1 }

func total(out []Outflow) float64 {
	sum := 0.0
	for _, o := range out {
		sum += o.Flux
	}
	return sum
}

// Between concentric circles the flow is 2π/ln(R2/R1) for the head 1.
func TestRingOutflow(t *testing.T) {
	cells := []float64{4, 2, 1, 0.5}
	errors := make([]float64, len(cells))
	want := 2 * math.Pi / math.Log(62.0/30)
	for i, cell := range cells {
		g := grid(cell, circle(0.3, 0.7, 62, 2), circle(0.3, 0.7, 30, 1))
		errors[i] = math.Abs(total(g.Outflow(one, nil))/want - 1)
	}
	p := order(cells, errors)
	t.Logf("order %.2f, errors %.2g", p, errors)
	if p < 1.6 || errors[len(errors)-1] > 1e-4 {
		t.Errorf("order %.2f, errors %v", p, errors)
	}
}

// Through a straight land the flow is width over length.
func TestStraightOutflow(t *testing.T) {
	g := grid(1, box(0.3, 0.7, 60.3, 40.2, 1, 0, 2, 0))
	if got, want := total(g.Outflow(one, nil)), 60/39.5; math.Abs(got/want-1) > 1e-9 {
		t.Errorf("flux %.9f, want %.9f", got, want)
	}
	cells := []float64{2, 1, 0.5}
	errors := make([]float64, len(cells))
	for i, cell := range cells {
		g := grid(cell, turned(0.3, 0.7, 60, 40, 27, 1, 0, 2, 0))
		errors[i] = math.Abs(total(g.Outflow(one, nil))/1.5 - 1)
	}
	t.Logf("at 27°: order %.2f, errors %.2g", order(cells, errors), errors)
	if p := order(cells, errors); p < 0.7 || errors[2] > 0.015 {
		t.Errorf("at 27°: order %.2f, errors %v", p, errors)
	}
}

// What enters at the seam leaves at the exits, whatever the heads are.
func TestFlowIsConserved(t *testing.T) {
	g := plate(4)
	for name, head := range map[string]func(u, v float64) float64{
		"level":  one,
		"rising": func(u, v float64) float64 { return 300 + v },
		"odd":    func(u, v float64) float64 { return math.Sin(u) - 0.3 },
	} {
		s := g.newSteady(head, nil)
		p := s.solve()
		in, size := 0.0, 0.0
		for k := range g.crossings {
			if x := &g.crossings[k]; x.class == Seam {
				flux := (s.value[k] - p[s.number[x.cell]-1]) / x.share
				in += flux
				size += math.Abs(flux)
			}
		}
		if out := total(g.Outflow(head, nil)); math.Abs(in-out) > 1e-8*size {
			t.Errorf("%s: in %.12g, out %.12g", name, in, out)
		}
	}
}

func TestClosedExits(t *testing.T) {
	g := grid(1, box(0, 0, 60, 40, 1, 0, 2, 3))
	both, first := g.Outflow(one, nil), g.Outflow(one, func(label int) bool { return label == 2 })
	for _, o := range first {
		if o.Label != 2 {
			t.Fatalf("flow through a closed exit: %+v", o)
		}
	}
	if got := total(first); math.Abs(got/1.5-1) > 1e-9 {
		t.Errorf("flux %.9f, want 1.5", got)
	}
	if total(both) <= total(first) {
		t.Errorf("two exits let out %g, one %g", total(both), total(first))
	}
	if out := g.Outflow(one, func(int) bool { return false }); len(out) != 0 {
		t.Errorf("%d outflows with all exits closed", len(out))
	}
}

// The flow is linear in the head, and each outflow lies on its edge.
func TestOutflowPlaces(t *testing.T) {
	g := plate(5)
	single := g.Outflow(one, nil)
	double := g.Outflow(func(u, v float64) float64 { return 2 }, nil)
	for i, o := range single {
		if math.Abs(double[i].Flux-2*o.Flux) > 1e-9 {
			t.Fatalf("flux %g for twice the head, %g for once", double[i].Flux, o.Flux)
		}
		onSquare := math.Abs(math.Max(math.Abs(o.U), math.Abs(o.V)) - 189)
		inPocket := math.Abs(math.Hypot(math.Abs(o.U)-150, math.Abs(o.V)-150) - 6.5)
		if math.Min(onSquare, inPocket) > 1e-9 || o.Flux <= 0 || !g.In[o.Cell] {
			t.Fatalf("outflow %+v", o)
		}
	}
}

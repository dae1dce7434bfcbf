package mold

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

func exactVolume(t *testing.T, ev *brep.Evaluator, name string, n *solid.Node) float64 {
	t.Helper()
	b, err := ev.Boundary(n)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return math.NaN()
	}
	return b.Volume()
}

func TestDefaults(t *testing.T) {
	for _, d := range []float64{25, 40, 60, 80, 110, 150, 200, 280, 400} {
		for _, p := range []string{"milled", "filament"} {
			t.Run(fmt.Sprintf("%v %s", d, p), func(t *testing.T) {
				j, err := params.Default(d, 0.4*d, 0.15*d, p)
				if err != nil {
					t.Fatal(err)
				}
				m, err := New(j)
				if err != nil {
					t.Fatal(err)
				}
				ev := brep.NewEvaluator(m.Model)
				sum := 0.0
				for _, p := range m.Pieces {
					sum += exactVolume(t, ev, p.Name, p.Root)
				}
				rubber := exactVolume(t, ev, "rubber", m.Rubber)
				sum += rubber + exactVolume(t, ev, "channels", m.Channels) + exactVolume(t, ev, "clearances", m.Clearances)
				block := exactVolume(t, ev, "block", m.Block)
				t.Logf("B %v block %.0f rubber %.1f closure %.2g", m.Layout.B, block, rubber, sum/block-1)
				if math.Abs(sum/block-1) > 1e-9 {
					t.Errorf("closure %g", sum/block-1)
				}
			})
		}
	}
}

func TestRandomClosure(t *testing.T) {
	n := few(150, 15)
	ms, tags, refused := validJobs(n)
	for k, v := range refused {
		t.Logf("refused %d: %s", v, k)
	}
	if len(ms) < n {
		t.Fatalf("only %d valid jobs", len(ms))
	}
	for i, m := range ms {
		ev := brep.NewEvaluator(m.Model)
		sum := 0.0
		for _, p := range m.Pieces {
			sum += exactVolume(t, ev, tags[i]+": "+p.Name, p.Root)
		}
		rubber := exactVolume(t, ev, tags[i]+": rubber", m.Rubber)
		sum += rubber + exactVolume(t, ev, tags[i]+": channels", m.Channels) + exactVolume(t, ev, tags[i]+": clearances", m.Clearances)
		for _, o := range m.Overlaps {
			sum -= exactVolume(t, ev, tags[i]+": overlap", o)
		}
		block := exactVolume(t, ev, "block", m.Block)
		if math.Abs(sum/block-1) > 1e-9 {
			t.Errorf("%s: closure %.3g", tags[i], sum/block-1)
		}
		if c := m.RubberVolume(); math.Abs(c/rubber-1) > 1e-9 {
			t.Errorf("%s: rubber %.6f closed form, %.6f boundary (%.2g)", tags[i], c, rubber, c/rubber-1)
		}
	}
}

// Any wheel from 25 to 400 mm, narrow or wide, thin or thick in the bore, by any
// process: features place themselves and keep their walls (New checks them with
// exact distances).
func TestEveryDiameter(t *testing.T) {
	step := 1.12
	if testing.Short() {
		step = 1.7
	}
	for d := 25.0; d <= 400; d *= step {
		for _, width := range []float64{max(6, .12*d), .25 * d, .45 * d, .8 * d} {
			for _, bore := range []float64{.06 * d, .22 * d} {
				for _, p := range []string{"milled", "filament", "lapped filament", "resin"} {
					j, err := params.Default(d, width, max(2, bore), p)
					if err == nil {
						_, err = New(j)
					}
					if err != nil {
						t.Errorf("%.1f x %.1f, bore %.1f, %s: %v", d, width, bore, p, err)
					}
				}
			}
		}
	}
}

func TestExamples(t *testing.T) {
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		p := m.PouredMass()
		t.Logf("%s: B %v, rubber %.1f cm³, channels %.1f cm³, poured %.0f g (%.2f lb)", name, m.Layout.B, m.RubberVolume()/1000, m.FilledChannels()/1000, p, p/453.59237)
	}
}

// An example with another diameter is either refused by validation, with the
// number to change, or a mold whose surfaces can be computed.
func TestExampleDiameters(t *testing.T) {
	step := 1.05
	if testing.Short() {
		step = 1.4
	}
	for _, name := range examples(t) {
		src, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		made := 0
		for d := 25.0; d <= 400; d *= step {
			set, err := params.ParseSetting(fmt.Sprintf("wheel.diameter=%.1fmm", d))
			if err != nil {
				t.Fatal(err)
			}
			j, _, err := params.Parse(name, src, set)
			if err != nil {
				continue
			}
			m, err := New(j)
			if err == nil {
				_, err = m.Check()
				made++
			}
			if err != nil {
				t.Errorf("%s at %.1f mm: %v", name, d, err)
			}
		}
		if made < 3 {
			t.Errorf("%s: only %d diameters made", name, made)
		}
	}
}

// few is how many random jobs a test takes: fewer in a short run.
func few(all, short int) int {
	if testing.Short() {
		return short
	}
	return all
}

func examples(t testing.TB) []string {
	t.Helper()
	names, err := filepath.Glob("../examples/*.toml")
	if err != nil || len(names) == 0 {
		t.Fatal("no examples", err)
	}
	return names
}

func example(t testing.TB, name string) *params.Job {
	t.Helper()
	src, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := params.Parse(name, src)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

package rise

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"wheelmold/mold"
	"wheelmold/params"
)

func exampleMold(t testing.TB, name string, change ...func(*params.Job)) *mold.Mold {
	t.Helper()
	file := filepath.Join("../../../examples", name+".toml")
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := params.Parse(file, src)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range change {
		f(j)
	}
	m, err := mold.New(j)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func openings(m *mold.Mold) (out []Opening) {
	for i, p := range m.Layout.Gates {
		out = append(out, Opening{Name: fmt.Sprintf("sprue %d", i+1), At: p, R: m.Layout.GateR, Gate: true})
	}
	for i, p := range m.Layout.Vents {
		out = append(out, Opening{Name: fmt.Sprintf("vent %d", i+1), At: p, R: m.Layout.VentR})
	}
	return out
}

func moldCavity(t testing.TB, m *mold.Mold, cell float64) *Cavity {
	t.Helper()
	return cavity(t, m.Rubber, cell, openings(m)...)
}

// The examples keep no air at rest, and their columns add up to the rubber's volume
// in closed form.
func TestExamples(t *testing.T) {
	for _, name := range []string{"wren", "kestrel", "albatross"} {
		m := exampleMold(t, name)
		c := moldCavity(t, m, 0)
		within(t, name+": volume", c.Volume(), m.RubberVolume(), 1e-3)
		if a := c.Traps(Tilt{}); len(a.Traps) > 0 {
			t.Errorf("%s: %s", name, a.summary())
		}
		a := c.Traps(Tilt{5, 20})
		t.Logf("%s, cell %.3g, %d runs: %s", name, c.Cell, len(c.runs), a.summary())
	}
}

func BenchmarkRise(b *testing.B) {
	m := exampleMold(b, "albatross")
	o := openings(m)
	b.Run("sampling", func(b *testing.B) {
		for b.Loop() {
			if _, err := New(m.Rubber, o, Settings{Cell: 1}); err != nil {
				b.Fatal(err)
			}
		}
	})
	c := moldCavity(b, m, 1)
	b.Run("traps at rest", func(b *testing.B) {
		for b.Loop() {
			c.Traps(Tilt{})
		}
	})
	b.Run("traps tilted", func(b *testing.B) {
		for b.Loop() {
			c.Traps(Tilt{5, 20})
		}
	})
}

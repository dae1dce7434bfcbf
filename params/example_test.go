package params

import (
	"math"
	"os"
	"path/filepath"
	"testing"
)

func readExample(t *testing.T, name string) *Job {
	t.Helper()
	path := filepath.Join("..", "examples", name+".toml")
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	j, warnings, err := Parse(name+".toml", src)
	if err != nil {
		t.Fatal(err)
	}
	if warnings != nil {
		t.Errorf("%s: warnings:\n%v", path, warnings)
	}
	return j
}

func TestExamplesAreSound(t *testing.T) {
	for _, name := range []string{"wren", "kestrel", "albatross"} {
		readExample(t, name)
	}
}

// The tread's mass by adding thin rings between surface and hub. One percent
// covers the rounded edges and what the ceiling adds; the header of the file
// promises "about 15 lb".
func TestAlbatrossNeedsFifteenPounds(t *testing.T) {
	j := readExample(t, "albatross")
	const steps = 12500
	dz := j.Wheel.Width / steps
	volume := 0.0
	for i := range steps {
		z := (float64(i) + 0.5) * dz
		outer := j.treadRadius(z)
		for _, g := range j.Wheel.Grooves {
			if math.Abs(z-g.Position) < g.Width/2 {
				outer -= g.Depth
			}
		}
		inner := j.hubRadius(z, z)
		for _, g := range j.Hub.Grooves {
			switch d := math.Abs(z - j.Hub.Offset - g.Position); {
			case d >= g.Width/2:
			case g.Shape == "half-round":
				inner -= math.Sqrt(g.Width*g.Width/4 - d*d)
			default:
				inner -= g.Depth
			}
		}
		volume += math.Pi * (outer*outer - inner*inner) * dz / 1000 // cm³
	}
	mass := volume * j.Pour.Density
	t.Logf("%.1f cm³, %.0f g, %.2f lb", volume, mass, mass/453.59237)
	if want := 15 * 453.59237; math.Abs(mass/want-1) > 0.02 {
		t.Errorf("the tread weighs %.0f g, not about %.0f g", mass, want)
	}
}

package handover

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh/step"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/shop/paper"
	"wheelmold/params"
)

// files are those of a job, and what they hold.
func files(t *testing.T, j *params.Job, o Options) map[string][]byte {
	t.Helper()
	m, c := moldtest.Checked(t, j)
	o.Drawings = func() ([]*paper.Page, error) { return Pages(m, c.RawFaces, nil, o.Only) }
	list, err := Files(m, c.Faces, c.RawFaces, o)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for _, f := range list {
		var b bytes.Buffer
		if err := f.Fill(&b); err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		if _, double := out[f.Name]; double {
			t.Errorf("%s is there twice", f.Name)
		}
		out[f.Name] = b.Bytes()
	}
	return out
}

func names(all map[string][]byte) string {
	var list []string
	for name := range all {
		list = append(list, name)
	}
	slices.Sort(list)
	return strings.Join(list, " ")
}

// Every piece has its solid, and what is milled or turned its drawings. What is printed
// needs none of these.
func TestFiles(t *testing.T) {
	for _, c := range []struct {
		example string
		o       Options
		want    string
	}{
		{"kestrel", Options{}, "assembly.step base.dxf base.step drawings.pdf hub.dxf hub.step lid.dxf lid.step shell-a.dxf shell-a.step shell-b.dxf shell-b.step"},
		{"kestrel", Options{Only: []string{"hub", "lid"}, Wants: func(f string) bool { return f != DXF }}, "drawings.pdf hub.step lid.step"},
		{"wren", Options{}, "assembly.step base.step hub.step lid.step shell-a.step shell-b.step"},
		{"wren", Options{Wants: func(f string) bool { return f == PDF }}, ""},
	} {
		if got := names(files(t, moldtest.Example(t, c.example), c.o)); got != c.want {
			t.Errorf("%s: %s, want %s", c.example, got, c.want)
		}
	}
}

// rises is how high the points of a STEP file reach, mm.
func rises(t *testing.T, text []byte) (z float64) {
	t.Helper()
	f, err := step.Read(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	z = math.Inf(-1)
	for _, n := range f.Order {
		if e := f.Entities[n]; e.Type() == "VERTEX_POINT" {
			at := f.Entities[int(e[0].Params[1].Number)][0].Params[1].List
			z = max(z, at[2].Number)
		}
	}
	return z
}

// A shell with stock to lap leaves the machine higher than it is in the mold; the closed
// mold has it as it is then.
func TestStockIsInThePieceAlone(t *testing.T) {
	const stock = 0.3
	j := moldtest.Example(t, "kestrel", "mold.mating.stock=0.3mm")
	all := files(t, j, Options{Wants: func(f string) bool { return f == STEP }})
	plain := files(t, moldtest.Example(t, "kestrel"), Options{Wants: func(f string) bool { return f == STEP }})
	if d := rises(t, all["shell-a.step"]) - rises(t, plain["shell-a.step"]); math.Abs(d-stock) > 1e-4 {
		t.Errorf("the shell is higher by %.4f mm, want %v", d, stock)
	}
	if d := rises(t, all["assembly.step"]) - rises(t, plain["assembly.step"]); math.Abs(d) > 1e-4 {
		t.Errorf("the closed mold is higher by %.4f mm", d)
	}
}

// Every purpose that a face of any mold has is one that the colors know, save what
// is left as it is.
func TestEveryRoleHasAColor(t *testing.T) {
	for _, sp := range moldtest.Splits {
		_, c := moldtest.Checked(t, moldtest.Wheels[2].Job(t, sp.Sets...))
		for name, b := range c.RawFaces {
			for _, f := range b.Faces {
				for _, r := range f.Roles {
					known := slices.ContainsFunc(colors, func(x colored) bool { return x.role == r })
					if !known && r != mold.RoleOuter {
						t.Errorf("%s, %s: no color for a %s", sp.Name, name, r)
					}
				}
			}
		}
	}
}

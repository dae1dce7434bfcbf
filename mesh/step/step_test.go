package step_test

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
	"wheelmold/mesh/step"
	"wheelmold/mesh/step/steptest"
)

// asCensus is what the audit counted, as a census.
func asCensus(n map[string]int) step.Census {
	return step.Census{Plane: n["plane"], Cylinder: n["cylinder"], Cone: n["cone"], Sphere: n["sphere"], Torus: n["torus"], Revolution: n["revolution"]}
}

func TestFilesHoldTheSolid(t *testing.T) {
	for _, s := range shapes() {
		t.Run(s.name, func(t *testing.T) {
			r := regions(t, s.build)
			m := audited(t, written(t, step.Part{Name: s.name, Solid: r}, step.Options{}))
			if len(m.Solids) != max(1, s.lumps) || len(m.Products) != 1 || m.Products[0] != s.name {
				t.Fatalf("%v %v", m, m.Products)
			}
			got, volume, voids, edges := step.Census{}, 0.0, 0, map[string]int{}
			for _, x := range m.Solids {
				c := asCensus(x.Faces)
				got = step.Census{
					Plane: got.Plane + c.Plane, Cylinder: got.Cylinder + c.Cylinder, Cone: got.Cone + c.Cone,
					Sphere: got.Sphere + c.Sphere, Torus: got.Torus + c.Torus, Revolution: got.Revolution + c.Revolution,
				}
				volume += x.Volume
				voids += x.Voids
				for k, n := range x.Edges {
					edges[k] += n
				}
				if !(x.Gap <= 1.2e-6 && x.Loose <= 1e-9 && x.Kink <= 1e-6) {
					t.Errorf("an edge lies %.2g mm off, a vertex %.2g mm, or a direction %.2g", x.Gap, x.Loose, x.Kink)
				}
			}
			if got != s.census || got != step.Count(r) {
				t.Errorf("faces %v, want %v; counted %v", got, s.census, step.Count(r))
			}
			if voids != s.voids || edges["ELLIPSE"] != s.ellipses || edges["B_SPLINE_CURVE_WITH_KNOTS"] != s.splines {
				t.Errorf("%d voids, edges %v", voids, edges)
			}
			exact := r.Boundary.Volume()
			if s.volume > 0 && math.Abs(exact/s.volume-1) > 1e-11 {
				t.Errorf("the boundary has %.12g mm³, want %.12g", exact, s.volume)
			}
			// Splines lie up to 1e-6 mm off.
			if tol := 1e-10 + 5e-8*float64(min(1, s.splines)); math.Abs(volume/exact-1) > tol {
				t.Errorf("the file holds %.12g mm³, want %.12g", volume, exact)
			}
		})
	}
}

// A hole is one cylinder with its diameter, said once.
func TestHoleReadsAsOneCylinder(t *testing.T) {
	i := slices.IndexFunc(shapes(), func(s shape) bool { return s.name == "plate with a hole" })
	src := string(written(t, step.Part{Name: "plate", Solid: regions(t, shapes()[i].build)}, step.Options{}))
	for text, n := range map[string]int{
		"=CYLINDRICAL_SURFACE('',#": 1, "=CIRCLE('',#": 2, "B_SPLINE": 0, "=ADVANCED_FACE('bolt hole',": 1, "=ADVANCED_FACE('block',": 6,
		"=MANIFOLD_SOLID_BREP('plate',": 1, "=CLOSED_SHELL(": 1, ",4.);\n": 3,
	} {
		if got := strings.Count(src, text); got != n {
			t.Errorf("%q stands %d times, want %d", text, got, n)
		}
	}
}

func TestSameBytes(t *testing.T) {
	once := written(t, step.Part{Name: "half-shell", Solid: regions(t, solidtest.HalfShell)}, named)
	for range 3 {
		if !bytes.Equal(once, written(t, step.Part{Name: "half-shell", Solid: regions(t, solidtest.HalfShell)}, named)) {
			t.Fatal("other bytes for the same solid")
		}
	}
	// Cutting beforehand changes nothing.
	cut, err := regions(t, solidtest.HalfShell).Cut()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(once, written(t, step.Part{Name: "half-shell", Solid: cut}, named)) {
		t.Error("other bytes for the solid with its seams")
	}
}

// named colors a face by the length of its first role.
var named = step.Options{Program: "wheelmold", Title: "a test", Colors: func(roles []string) step.RGB {
	return step.RGB{float64(len(roles[0])%5) / 4, .5, 1}
}}

func TestNamesAndColors(t *testing.T) {
	r := regions(t, solidtest.ReferenceLid)
	m := audited(t, written(t, step.Part{Name: "lid", Solid: r}, named))
	s := m.Solids[0]
	if s.Colored != len(r.Faces) {
		t.Errorf("%d of %d faces colored", s.Colored, len(r.Faces))
	}
	if n := count(s.Names, "ball pocket"); n != 4 {
		t.Errorf("%d ball pockets, want 4: %v", n, s.Names)
	}
	if n := count(s.Names, "pry slot"); n == 0 || slices.Contains(s.Names, "") {
		t.Errorf("names %v", s.Names)
	}
	o := named
	o.Colors, o.FaceName = nil, func(f *region.Face) string { return f.Carrier.Kind.String() }
	s = audited(t, written(t, step.Part{Name: "lid", Solid: r}, o)).Solids[0]
	if s.Colored != 0 || count(s.Names, "sphere") != 4 || count(s.Names, "cone") != 2 {
		t.Errorf("%d colored, names %v", s.Colored, s.Names)
	}
}

func count(of []string, what string) (n int) {
	for _, s := range of {
		if s == what {
			n++
		}
	}
	return n
}

// Names come from the job, where anything may be written.
func TestNamesOfAllKinds(t *testing.T) {
	r := regions(t, shapes()[0].build)
	for name, want := range map[string]string{
		"O'Brien's (lid), 100 % \\ end": "", "'": "", "''": "", `\X2\0041\X0\`: "", `\`: "", "Räder 車輪 🛞": "",
		"#1=FOO();": "", "*/ /* ');": "", "ENDSEC;": "", "a\nb\tc": "a b c", "\xff": "\ufffd", "null\x00byte": "null byte",
	} {
		if want == "" {
			want = name
		}
		o := step.Options{Program: name, Title: name, FaceName: func(*region.Face) string { return name }}
		src := written(t, step.Part{Name: name, Solid: r}, o)
		m := audited(t, src)
		if m.Products[0] != want || m.Solids[0].Name != want || count(m.Solids[0].Names, want) != 6 {
			t.Errorf("%q reads as %q, %q, %q", name, m.Products[0], m.Solids[0].Name, m.Solids[0].Names)
		}
		for i, c := range src {
			if c > '~' || c < ' ' && c != '\n' {
				t.Fatalf("%q: byte %d is %#x", name, i, c)
			}
		}
		f, err := step.Read(bytes.NewReader(src))
		if err != nil {
			t.Fatal(err)
		}
		if d := f.Header[0].Params[0].List[0].Text; d != want {
			t.Errorf("%q reads as the title %q", name, d)
		}
	}
}

func TestHeader(t *testing.T) {
	src := written(t, step.Part{Name: "block", Solid: regions(t, shapes()[0].build)}, named)
	f, err := step.Read(bytes.NewReader(src))
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Header) != 3 || f.Header[0].Type != "FILE_DESCRIPTION" || f.Header[1].Type != "FILE_NAME" || f.Header[2].Type != "FILE_SCHEMA" {
		t.Fatalf("header %v", f.Header)
	}
	p := f.Header[1].Params
	if len(p) != 7 || p[0].Text != "block" || p[1].Text != "1970-01-01T00:00:00" || p[5].Text != "wheelmold" {
		t.Errorf("file name %v", p)
	}
	if s := f.Header[2].Params[0].List[0].Text; !strings.HasPrefix(s, "AUTOMOTIVE_DESIGN {") {
		t.Errorf("schema %s", s)
	}
}

func TestAssembly(t *testing.T) {
	// Both in one model, as the pieces of a mold are.
	parts := []step.Part{
		{Name: "lid", Solid: regions(t, solidtest.ReferenceLid)},
		{Name: "shell A", Solid: regions(t, solidtest.HalfShell)},
		{Name: "block", Solid: regions(t, shapes()[0].build)},
	}
	var b bytes.Buffer
	if err := step.WriteAssembly(&b, "mold", parts, named); err != nil {
		t.Fatal(err)
	}
	m := audited(t, b.Bytes())
	if !slices.Equal(m.Placed, []string{"lid", "shell A", "block"}) || len(m.Solids) != 3 || !slices.Contains(m.Products, "mold") || len(m.Products) != 4 {
		t.Fatalf("%v, placed %v", m.Products, m.Placed)
	}
	for i, s := range m.Solids {
		alone := audited(t, written(t, parts[i], named)).Solids[0]
		if s.Name != parts[i].Name || s.Volume != alone.Volume || s.Colored != len(parts[i].Solid.Faces) || !slices.Equal(s.Names, alone.Names) {
			t.Errorf("%s holds %g mm³ with %d colored faces; alone %g", s.Name, s.Volume, s.Colored, alone.Volume)
		}
	}
	if _, err := steptest.Audit(steptest.MovedPart(b.Bytes())); err == nil || !strings.Contains(err.Error(), "moved") {
		t.Errorf("a moved part: %v", err)
	}
}

func TestRefused(t *testing.T) {
	block := regions(t, shapes()[0].build)
	var b bytes.Buffer
	for what, err := range map[string]error{
		"no parts":      step.WriteAssembly(&b, "mold", nil, named),
		"two of a name": step.WriteAssembly(&b, "mold", []step.Part{{"lid", block}, {"lid", block}}, named),
		"like the mold": step.WriteAssembly(&b, "mold", []step.Part{{"mold", block}}, named),
		"no solid":      step.Write(&b, step.Part{Name: "lid"}, named),
		"no name":       step.Write(&b, step.Part{Solid: block}, named),
	} {
		if err == nil || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", what, err, b.Len())
		}
	}
	full := errors.New("full")
	if err := step.Write(writerFunc(func([]byte) (int, error) { return 0, full }), step.Part{Name: "lid", Solid: block}, named); !errors.Is(err, full) {
		t.Errorf("a full disk: %v", err)
	}
	// A corner that is nowhere.
	bad := *block
	bad.Vertices = slices.Clone(block.Vertices)
	bad.Vertices[3][1] = math.NaN()
	if err := step.Write(&b, step.Part{Name: "lid", Solid: &bad}, named); err == nil {
		t.Error("a corner without a place is written")
	}
}

type writerFunc func([]byte) (int, error)

func (f writerFunc) Write(p []byte) (int, error) { return f(p) }

// The audit sees whatever is done to a file.
func TestAuditSeesDamage(t *testing.T) {
	for _, s := range shapes() {
		if s.name != "plate with a hole" && s.name != "lid" {
			continue
		}
		src := written(t, step.Part{Name: s.name, Solid: regions(t, s.build)}, named)
		for _, d := range steptest.Damages() {
			if m, err := steptest.Audit(d.Do(src)); err == nil && max(m.Solids[0].Gap, m.Solids[0].Loose) < 1e-4 {
				t.Errorf("%s: %s goes unseen", s.name, d.Name)
			}
		}
	}
}

// Corners are written to the last bit.
func TestFullPrecision(t *testing.T) {
	r := regions(t, func(m *solid.Model) *solid.Node {
		return m.Box("block", "block", Vec{solid.Lattice, -1. / 3, 1e-7 / 3}, Vec{1, 1e3 / 7, 1234.5678901234567})
	})
	f, err := step.Read(bytes.NewReader(written(t, step.Part{Name: "block", Solid: r}, named)))
	if err != nil {
		t.Fatal(err)
	}
	corners := map[Vec]bool{}
	for _, e := range f.Entities {
		if e.Type() != "VERTEX_POINT" {
			continue
		}
		at := f.Entities[int(e[0].Params[1].Number)][0].Params[1].List
		corners[Vec{at[0].Number, at[1].Number, at[2].Number}] = true
	}
	for _, v := range r.Vertices {
		if !corners[v] {
			t.Errorf("no corner at %v", v)
		}
	}
	if len(corners) != 8 {
		t.Errorf("%d corners", len(corners))
	}
}

// A curve through points of a pin's cross hole, measured where the fit was not: at many
// points, by how far they lie from both cylinders.
func TestSplinesKeepToBothSurfaces(t *testing.T) {
	for _, ratio := range []float64{.05, .3, .7, .95, .99} {
		r := regions(t, func(m *solid.Model) *solid.Node {
			return solid.Minus(m.Cylinder("pin", "pin", Vec{}, zAxis, 50, -200, 200),
				m.Cylinder("hole", "hole", Vec{0, 3e-2, 2}, xAxis, 50*ratio, -100, 100))
		})
		s := audited(t, written(t, step.Part{Name: "pin", Solid: r}, named)).Solids[0]
		if s.Gap > 1.2e-6 || s.Gap == 0 {
			t.Errorf("ratio %g: %.2g mm off", ratio, s.Gap)
		}
		if n := s.Edges["B_SPLINE_CURVE_WITH_KNOTS"]; n != 2 {
			t.Errorf("ratio %g: %d splines, want 2", ratio, n)
		}
	}
}

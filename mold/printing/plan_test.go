package printing

import (
	"fmt"
	"math"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/cure"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// planned plans an example with settings on top.
func planned(t *testing.T, name string, sets ...string) (*Plan, *mold.Mold, *mold.Checked) {
	t.Helper()
	m, c := moldtest.Checked(t, moldtest.Example(t, name, sets...))
	p, err := Analyze(m, c.RawFaces, DefaultOptions)
	if err != nil {
		t.Fatal(err)
	}
	return p, m, c
}

// A milled mold around a turned hub prints nothing; with a printed hub, just that, on
// a filament printer.
func TestWhatIsPrinted(t *testing.T) {
	if p, _, _ := planned(t, "kestrel"); len(p.Pieces)+len(p.Loads)+len(p.Warnings) != 0 || p.Mass != 0 {
		t.Errorf("milled: %+v", p)
	}
	p, _, _ := planned(t, "kestrel", "hub.material=printed")
	if len(p.Pieces) != 1 || p.Pieces[0].Kind != mold.Hub || len(p.Loads) != 1 || p.Resin || len(p.Warnings) != 0 {
		t.Errorf("printed hub: %+v", p)
	}
	p, m, _ := planned(t, "wren", "hub.material=nylon")
	if len(p.Pieces) != len(m.Pieces)-1 || !p.Resin {
		t.Errorf("printed mold: %+v", p)
	}
}

// Solid pieces weigh their exact volume by their material's density. A resin load takes
// as many layers as its tallest piece; by hand: 36 mm in layers of 0.05 mm are 720.
func TestResin(t *testing.T) {
	p, m, c := planned(t, "wren", "printing.layer_time=10s", "printing.setup=5min")
	mass := 0.0
	for i, x := range p.Pieces {
		density := 1.15
		if x.Kind == mold.Hub {
			density = m.Job.Hub.Density
		}
		near(t, x.Name, x.Mass, c.RawVolumes[x.Name]/1000*density, 1e-9)
		if want := math.Ceil(x.Size[2]/.05 - 1e-6); x.Layers != int(want) || x.Time != 10*want {
			t.Errorf("%s: %d layers, %v s for %v mm", x.Name, x.Layers, x.Time, x.Size[2])
		}
		if !x.Fits || p.Pieces[i].Name != m.Pieces[i].Name {
			t.Errorf("%+v", x)
		}
		mass += x.Mass
	}
	near(t, "mass", p.Mass, mass, 1e-9)
	near(t, "height", p.Pieces[1].Size[2], 36, 0)
	first := p.Loads[0]
	if first.Layers != 720 || first.Time != 720*10+300 || first.Height != 36 {
		t.Errorf("first load %+v", first)
	}
	total, items := 0.0, 0
	for _, l := range p.Loads {
		total += l.Time
		items += len(l.Places)
	}
	near(t, "time", p.Time, total, 1e-9)
	if items != len(p.Pieces) {
		t.Errorf("%d pieces lie on beds, of %d", items, len(p.Pieces))
	}
}

// Filament goes by volume: 20 cm³ an hour, and a quarter of an hour for each load.
func TestFilament(t *testing.T) {
	p, _, c := planned(t, "kestrel", "process.name=filament", "printing.rate=20ml", "printing.setup=15min")
	volume := 0.0
	for _, x := range p.Pieces {
		near(t, x.Name, x.Mass, c.RawVolumes[x.Name]/1000*1.24, 1e-9)
		near(t, x.Name+" hours", x.Time/3600, c.RawVolumes[x.Name]/1000/20, 1e-12)
		volume += c.RawVolumes[x.Name] / 1000
	}
	near(t, "plastic", p.Plastic, volume, 1e-9)
	near(t, "hours", p.Time/3600, volume/20+.25*float64(len(p.Loads)), 1e-9)

	walled, _, _ := planned(t, "kestrel", "process.name=filament", "printing.fill=walled", "printing.wall=2mm", "printing.infill=100%")
	near(t, "all infill", walled.Plastic, volume, 1e-6)
	walled, _, _ = planned(t, "kestrel", "process.name=filament", "printing.fill=walled", "printing.wall=2mm", "printing.infill=0%")
	skin := 0.0
	for _, x := range walled.Pieces {
		skin += 2 * x.Surface / 1000
	}
	if walled.Plastic > skin || walled.Plastic < .8*skin {
		t.Errorf("walls of %v cm³, area by thickness %v", walled.Plastic, skin)
	}
}

// A hub is printed solid, whatever the mold's pieces are.
func TestHubIsSolid(t *testing.T) {
	p, _, c := planned(t, "wren", "printing.fill=walled", "hub.density=1.3g/cm3")
	for _, x := range p.Pieces {
		if solid := x.Plastic == x.Volume; solid != (x.Kind == mold.Hub) {
			t.Errorf("%s: %v of %v mm³", x.Name, x.Plastic, x.Volume)
		}
		if x.Kind == mold.Hub {
			near(t, "hub", x.Mass, c.RawVolumes[x.Name]/1000*1.3, 1e-9)
		}
	}
}

// Supports lie below what faces down: nothing of a piece's mating and cavity faces
// lies on the bed, in any split.
func TestNothingMatingOnTheBed(t *testing.T) {
	for _, split := range params.Splits {
		p, _, _ := planned(t, "wren", "mold.split="+split)
		for _, x := range p.Pieces {
			for _, r := range x.OnBed {
				if x.Kind != mold.Hub && (ofMating(r.Role) || ofCavity(r.Role)) {
					t.Errorf("%s of %s lies on the bed", r.Role, x.Name)
				}
			}
			if len(x.OnBed) == 0 {
				t.Errorf("%s: %s stands on nothing", split, x.Name)
			}
		}
	}
}

// A bed exactly as wide as the widest piece holds it, upright or turned; a hundredth
// less does not. What fits is named, and does when it is tried.
func TestBedFits(t *testing.T) {
	p, _, _ := planned(t, "kestrel", "process.name=filament")
	size := p.Pieces[0].Size // the base
	set := func(key string, v float64) string { return fmt.Sprintf("printing.%s=%.4fmm", key, v) }
	bed := []string{"process.name=filament", set("bed_x", size[0]), set("bed_y", size[1]), set("bed_z", 81.5)}
	if p, _, _ = planned(t, "kestrel", bed...); len(p.Misfits) != 0 {
		t.Errorf("at the limit: %+v", p.Misfits)
	}
	for _, less := range []string{set("bed_x", size[0]-.01), set("bed_y", size[1]-.01), set("bed_z", 81.49)} {
		if p, _, _ = planned(t, "kestrel", append(bed, less)...); len(p.Misfits) == 0 {
			t.Errorf("%s holds all", less)
		}
	}

	small := []string{"process.name=filament", "printing.bed_x=140mm", "printing.bed_y=140mm"}
	p, _, _ = planned(t, "kestrel", small...)
	if len(p.Misfits) != 4 || p.Misfits[0].Piece != "base" || p.Misfits[3].Piece != "lid" || p.Pieces[0].Fits || len(p.Loads) != 0 {
		t.Fatalf("misfits %+v", p.Misfits)
	}
	fits := p.Misfits[0].Fits
	if len(fits) == 0 || !strings.Contains(p.Warnings.Error(), fits[0].String()) {
		t.Fatalf("proposed %v, warnings %v", fits, p.Warnings)
	}
	for _, a := range fits {
		sets := slices.Clone(small)
		for _, s := range a.Settings() {
			sets = append(sets, s.String())
		}
		q, m, _ := planned(t, "kestrel", sets...)
		if len(q.Misfits) != 0 || len(m.Pieces) != a.Pieces+1 {
			t.Errorf("%s: misfits %+v, %d pieces", a, q.Misfits, len(m.Pieces))
		}
	}
}

// A mold that the rubber does not let go of is no remedy. Only a cup fits this bed, out
// of which the wheel is drawn past a ridge as deep as the groove: up to 20 % of the
// rubber, 11.5 mm thick, give way, 2.3 mm. Without a search nothing is said to fit, nor
// that nothing does.
func TestRemediesOpen(t *testing.T) {
	const job = `[wheel]
diameter = "75 mm"
width = "25 mm"
[[wheel.groove]]
width = "4 mm"
depth = "%g mm"
[hub]
body_diameter = "52 mm"
bore = "8 mm"
[process]
name = "filament"
[printing]
bed_x = "100 mm"
bed_y = "100 mm"
`
	cup := []Alternative{{Way: params.Way{Split: params.SplitCup, Segments: 1}, Pieces: 2}}
	for _, c := range []struct {
		depth float64
		tries bool
		want  []Alternative
		says  string
	}{{2, true, cup, "what fits: cup and lid (mold.split"}, {3, true, nil, "no other split"}, {2, false, nil, "or another mold.split"}} {
		j, _, err := params.Parse("", fmt.Appendf(nil, job, c.depth))
		if err != nil {
			t.Fatal(err)
		}
		m, exact := moldtest.Checked(t, j)
		p, err := Analyze(m, exact.RawFaces, Options{Tries: c.tries})
		if err != nil || len(p.Misfits) == 0 {
			t.Fatalf("misfits %+v, %v", p.Misfits, err)
		}
		f := &p.Misfits[0]
		if len(f.Fits) != len(c.want) || len(c.want) > 0 && !slices.Equal(f.Fits, c.want) || !strings.Contains(f.Remedy(), c.says) {
			t.Errorf("a groove of %v mm: %v, %q", c.depth, f.Fits, f.Remedy())
		}
	}
}

// Mass and time are those of the same pieces: what does not fit is printed elsewhere,
// each piece by itself.
func TestMisfitsCount(t *testing.T) {
	sets := []string{"process.name=filament", "hub.material=printed", "printing.rate=20ml", "printing.setup=15min"}
	whole, _, _ := planned(t, "kestrel", sets...)
	for bed, misfits := range map[string]int{"printing.bed_z=300mm": 0, "printing.bed_z=50mm": 2, "printing.bed_x=30mm": 5} {
		p, _, _ := planned(t, "kestrel", append(sets, bed)...)
		if len(p.Misfits) != misfits {
			t.Fatalf("%s: misfits %+v", bed, p.Misfits)
		}
		near(t, bed+": mass", p.Mass, whole.Mass, 1e-9)
		near(t, bed+": hours", p.Time/3600, p.Plastic/20+.25*float64(len(p.Loads)+misfits), 1e-9)
		if said := strings.Contains(strings.Join(p.Assumed, "; "), "a load of its own"); said != (misfits > 0) {
			t.Errorf("%s: assumed %v", bed, p.Assumed)
		}
	}
}

// A plan of some pieces is of those alone: each as in the plan of all, sorted anew.
func TestPlanOfSomePieces(t *testing.T) {
	all, m, c := planned(t, "wren")
	p, err := Analyze(m, c.RawFaces, Options{Only: []string{"hub", "lid"}})
	if err != nil {
		t.Fatal(err)
	}
	var want []Piece
	mass := 0.0
	for _, x := range all.Pieces {
		if x.Name == "lid" || x.Name == "hub" {
			want = append(want, x)
			mass += x.Mass
		}
	}
	if !reflect.DeepEqual(p.Pieces, want) || len(want) != 2 {
		t.Errorf("pieces %+v", p.Pieces)
	}
	near(t, "mass", p.Mass, mass, 1e-9)
	s := p.Sorting()
	if len(s.Loads) != 1 || len(s.Loads[0]) != 2 || s.Loads[0][0].Piece != "lid" || s.Loads[0][1].Piece != "hub" || len(s.Misfits) != 0 {
		t.Errorf("sorted %+v", s)
	}
}

// A clam's sprue and vents lie on its parting plane: each half has an open groove of
// them, which no printer closes. Beside the plane they are holes.
func TestGroovesDoNotPrintShut(t *testing.T) {
	w := moldtest.Wheel{Diameter: 70, Width: 25, Bore: 8, Process: "filament"}
	for _, c := range []struct {
		sets []string
		told bool
	}{{nil, true}, {[]string{"mold.split=clam"}, false}, {[]string{"mold.split=clam", "mold.vents.count=2"}, true}} {
		m, exact := moldtest.Checked(t, w.Job(t, append(c.sets, "mold.vents.diameter=1.1mm")...))
		p, err := Analyze(m, exact.RawFaces, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if told := strings.Contains(p.Warnings.Error(), "print shut"); told != c.told {
			t.Errorf("%v: %v, vents %v", c.sets, p.Warnings, m.Layout.Vents)
		}
	}
}

// Each thing that may fail is told, and not told once it is put right.
func TestWarnings(t *testing.T) {
	for _, c := range []struct {
		example string
		sets    []string
		path    string
		cause   string
		right   string
	}{
		{"kestrel", []string{"process.name=filament", "mold.vents.diameter=1.1mm"}, "mold.vents.diameter", "print shut", "mold.vents.diameter=1.2mm"},
		{"kestrel", []string{"process.name=filament", "process.min_hole=9mm", "mold.sprue.gate=8.9mm"}, "mold.sprue.gate", "drill it through", "process.min_hole=8.9mm"},
		{"kestrel", []string{"process.name=filament", "mold.pry_slots.height=1mm", "process.min_feature=1.1mm"}, "mold.pry_slots.height", "narrower than anything", "process.min_feature=1mm"},
		{"kestrel", []string{"process.name=filament", "printing.layer=0.3mm", "mold.engraving.depth=0.5mm"}, "mold.engraving.depth", "two layers", "printing.layer=0.25mm"},
		{"kestrel", []string{"process.name=filament", "mold.balls.clearance=0.24mm"}, "mold.balls.clearance", "so tight", "mold.balls.clearance=0.25mm"},
		{"kestrel", []string{"process.name=filament", "printing.fill=walled", "printing.wall=1.1mm"}, "printing.wall", "into the infill", "printing.wall=1.2mm"},
		{"kestrel", []string{"process.name=filament", "printing.fill=walled", "printing.wall=1.5mm", "mold.mating.stock=0.4mm"}, "printing.wall", "lapping leaves 1.1 mm", "printing.wall=1.6mm"},
		{"wren", []string{"printing.fill=walled"}, "printing.fill", "liquid resin", "printing.fill=solid"},
		{"wren", nil, "mold.coats.count", "inhibits the urethane's cure", "mold.coats.count=2"},
		{"kestrel", []string{"process.name=filament"}, "mold.coats.count", "layer lines", "mold.coats.count=2"},
		{"wren", []string{"printing.bed_x=30mm", "printing.bed_y=20mm", "mold.coats.count=2"}, "printing.bed_x", "no other split", "printing.bed_x=200mm"},
	} {
		told := func(sets ...string) bool {
			p, _, _ := planned(t, c.example, append(c.sets, sets...)...)
			for _, w := range p.Warnings {
				if w.Path == c.path && strings.Contains(w.Error(), c.cause) {
					return true
				}
			}
			return false
		}
		if !told() {
			t.Errorf("%s %v: no word of %s", c.example, c.sets, c.path)
		}
		if c.right == "printing.bed_x=200mm" {
			c.sets = []string{"printing.bed_y=200mm"}
		}
		if told(c.right) {
			t.Errorf("%s %v: still told with %s", c.example, c.sets, c.right)
		}
	}
}

// The plan judges heat as package cure does.
func TestHeat(t *testing.T) {
	p, m, _ := planned(t, "wren")
	if want := cure.NewHeat(m.Job); !reflect.DeepEqual(p.Heat, want) || len(want.Parts) != 2 {
		t.Errorf("%+v, want %+v", p.Heat, want)
	}
}

// The same mold gives the same plan on any number of cores, and whether the
// boundaries are handed over or not.
func TestSamePlan(t *testing.T) {
	p, m, _ := planned(t, "wren", "printing.fill=walled")
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	q, err := Analyze(m, nil, DefaultOptions)
	if err != nil || !reflect.DeepEqual(p, q) {
		t.Errorf("another plan: %v", err)
	}
}

// Overhangs that matter are told once for all pieces, with their areas; a limit that
// nothing passes silences it.
func TestOverhangsAreTold(t *testing.T) {
	p, _, _ := planned(t, "wren", "printing.bridge=0mm")
	x := p.Pieces[1]
	if x.Overhang.Cavity < 10 || x.Overhang.Bridged != 0 {
		t.Fatalf("%+v", x.Overhang)
	}
	want := fmt.Sprintf("shell A by %.0f and %.0f mm²", x.Overhang.Cavity, x.Overhang.Mating)
	if n := strings.Count(p.Warnings.Error(), "printing.overhang = 45 deg"); n != 1 || !strings.Contains(p.Warnings.Error(), want) {
		t.Errorf("%d times, %v", n, p.Warnings)
	}
	if p, _, _ = planned(t, "wren", "printing.overhang=89deg", "printing.bridge=200mm"); strings.Contains(p.Warnings.Error(), "printing.overhang") {
		t.Errorf("%v", p.Warnings)
	}
}

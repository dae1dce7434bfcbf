package threemf

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"math"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"github.com/hpinc/go3mf"

	"wheelmold/mesh"
	"wheelmold/mesh/check"
	"wheelmold/mesh/meshtest"
)

// plate is a package with everything that can differ: a shared mesh under its
// own name and another, poses, text that XML must escape.
func plate() Package {
	lid, shell := meshtest.Tetra(3), meshtest.Ring(20, 9)
	turn := Pose{X: mesh.Vec{0, 1, 0}, Y: mesh.Vec{-1, 0, 0}, Z: mesh.Vec{0, 0, 1}, Origin: mesh.Vec{100.0625, -1. / 3, 20}}
	return Package{
		Title: `mold "A" <90 × 25>`, Application: "wheelmold & test",
		Items: []Item{
			{Name: "lid", Mesh: lid},
			{Name: "shell A", Mesh: shell, Pose: turn},
			{Name: "shell B", Mesh: shell},
			{Name: "lid", Mesh: lid, Pose: turn},
			{Mesh: meshtest.Tetra(0x1p-14)},
		},
	}
}

func write(t testing.TB, p Package) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func part(t testing.TB, file []byte, name string) string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	r, err := z.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestNothingIsLostOnTheWay(t *testing.T) {
	p := plate()
	b := write(t, p)
	got, err := Read(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, p) {
		t.Errorf("read %+v,\nwrote %+v", got, p)
	}
	if got.Items[1].Mesh != got.Items[2].Mesh || got.Items[0].Mesh != got.Items[3].Mesh {
		t.Error("items that shared a mesh no longer do")
	}
}

// go3mf decodes coordinates to 32 bits, which hold the lattice exactly.
func TestAnOutsideReaderAgrees(t *testing.T) {
	p := plate()
	b := write(t, p)
	var m go3mf.Model
	if err := go3mf.NewDecoder(bytes.NewReader(b), int64(len(b))).Decode(&m); err != nil {
		t.Fatal(err)
	}
	if err := m.Validate(); err != nil {
		t.Errorf("validation: %v", err)
	}
	if m.Units != go3mf.UnitMillimeter {
		t.Errorf("unit %v", m.Units)
	}
	if len(m.Build.Items) != len(p.Items) {
		t.Fatalf("%d items, want %d", len(m.Build.Items), len(p.Items))
	}
	for i, it := range m.Build.Items {
		o, ok := m.FindObject(it.ObjectPath(), it.ObjectID)
		if !ok {
			t.Fatalf("item %d: no object %d", i, it.ObjectID)
		}
		if o.Name != p.Items[i].Name {
			t.Errorf("item %d: name %q, want %q", i, o.Name, p.Items[i].Name)
		}
		if o.Components != nil {
			if o, ok = m.FindObject("", o.Components.Component[0].ObjectID); !ok {
				t.Fatalf("item %d: no component", i)
			}
		}
		sameMesh(t, o.Mesh, p.Items[i].Mesh)
		want := [16]float32{1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1}
		if i == 1 || i == 3 {
			want = [16]float32{0, 1, 0, 0, -1, 0, 0, 0, 0, 0, 1, 0, 100.0625, -1. / 3, 20, 1}
		}
		if got := [16]float32(it.Transform); it.HasTransform() && got != want || it.HasTransform() != (i == 1 || i == 3) {
			t.Errorf("item %d: transform %v, want %v", i, got, want)
		}
	}
}

func sameMesh(t *testing.T, got *go3mf.Mesh, want *mesh.Mesh) {
	t.Helper()
	if len(got.Vertices.Vertex) != len(want.V) || len(got.Triangles.Triangle) != len(want.T) {
		t.Fatalf("%d vertices, %d facets; want %d, %d", len(got.Vertices.Vertex), len(got.Triangles.Triangle), len(want.V), len(want.T))
	}
	for i, v := range got.Vertices.Vertex {
		for k := range 3 {
			if float64(v[k]) != want.V[i][k] {
				t.Fatalf("vertex %d: %v, want %v", i, v, want.V[i])
			}
		}
	}
	for i, f := range got.Triangles.Triangle {
		if ([3]int32{int32(f.V1), int32(f.V2), int32(f.V3)}) != want.T[i] {
			t.Fatalf("facet %d: %v, want %v", i, f, want.T[i])
		}
	}
}

func TestSharedMeshIsStoredOnce(t *testing.T) {
	text := part(t, write(t, plate()), modelPart)
	for word, want := range map[string]int{"<mesh>": 3, "<object ": 4, "<component ": 1, "<item ": 5, "<vertex ": 4 + 180 + 4} {
		if n := strings.Count(text, word); n != want {
			t.Errorf("%d times %s, want %d", n, word, want)
		}
	}
}

// The digits are the shortest that come back: 1/16384 has no shorter ones.
func TestShortestDigits(t *testing.T) {
	for x, want := range map[float64]string{0: "0", math.Copysign(0, -1): "0", 90: "90", -12.5: "-12.5",
		0x1p-14: "0.00006103515625", 1024 - 0x1p-14: "1023.9999389648438"} {
		if got := string(number(nil, x)); got != want {
			t.Errorf("%v: %s, want %s", x, got, want)
		}
	}
}

func TestSameBytesOnAnyNumberOfProcessors(t *testing.T) {
	p := Package{Items: []Item{{Name: "ring", Mesh: meshtest.Ring(300, 100)}}}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	want := write(t, p)
	for _, n := range []int{2, 5} {
		runtime.GOMAXPROCS(n)
		if !bytes.Equal(write(t, p), want) {
			t.Errorf("%d processors: other bytes", n)
		}
	}
}

// The parts come in a fixed order, with one fixed time, and with their sizes in
// front of the data.
func TestArchive(t *testing.T) {
	b := write(t, plate())
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range z.File {
		names = append(names, f.Name)
		if y, m, d := f.Modified.Date(); y != 1980 || m != 1 || d != 1 || f.Modified.Hour() != 0 {
			t.Errorf("%s: time %v", f.Name, f.Modified)
		}
		if f.Flags&8 != 0 || len(f.Extra) > 0 {
			t.Errorf("%s: flags %#x, %d bytes extra", f.Name, f.Flags, len(f.Extra))
		}
	}
	if want := []string{"[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"}; !reflect.DeepEqual(names, want) {
		t.Errorf("parts %q, want %q", names, want)
	}
	if text := part(t, b, modelPart); !strings.Contains(text, `unit="millimeter"`) || strings.Contains(text, "Date") {
		t.Errorf("model part: %.300s", text)
	}
}

// A pose places points as the specification says: a row vector times the
// matrix (§3.3).
func TestPose(t *testing.T) {
	p := plate().Items[1].Pose
	m := []float64{0, 1, 0, -1, 0, 0, 0, 0, 1, 100.0625, -1. / 3, 20}
	v := mesh.Vec{3, 5, 7}
	var want mesh.Vec
	for k := range 3 {
		want[k] = v[0]*m[k] + v[1]*m[3+k] + v[2]*m[6+k] + m[9+k]
	}
	if got := p.Apply(v); got.Dist(want) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
	if got := (Pose{}).Apply(v); got != v {
		t.Errorf("zero pose moved %v to %v", v, got)
	}
}

func TestReadMeshIsSound(t *testing.T) {
	b := write(t, plate())
	p, err := Read(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	for i, it := range p.Items {
		if r := check.Audit(it.Mesh, check.Options{}); !r.OK() {
			t.Errorf("item %d: %q", i, r.Faults())
		}
	}
}

func TestWriteRefuses(t *testing.T) {
	one := func(f func(it *Item)) Package {
		it := Item{Name: "lid", Mesh: meshtest.Tetra(3)}
		f(&it)
		return Package{Items: []Item{it}}
	}
	for _, c := range []struct {
		name, word string
		p          Package
	}{
		{"nothing", "nothing to write", Package{}},
		{"no mesh", "four facets", one(func(it *Item) { it.Mesh = nil })},
		{"three facets", "four facets", one(func(it *Item) { it.Mesh.T = it.Mesh.T[:3] })},
		{"NaN", "vertex 2", one(func(it *Item) { it.Mesh.V[2][1] = math.NaN() })},
		{"no such vertex", "facet 3", one(func(it *Item) { it.Mesh.T[3][0] = 4 })},
		{"vertex twice", "twice", one(func(it *Item) { it.Mesh.T[3][0] = it.Mesh.T[3][1] })},
		{"mirror", "mirrors", one(func(it *Item) { it.Pose = Pose{mesh.Vec{-1}, mesh.Vec{0, 1}, mesh.Vec{0, 0, 1}, mesh.Vec{}} })},
		{"shift without axes", "flattens", one(func(it *Item) { it.Pose = Pose{Origin: mesh.Vec{1, 2, 3}} })},
	} {
		var b bytes.Buffer
		if err := Write(&b, c.p); err == nil || !strings.Contains(err.Error(), c.word) || b.Len() > 0 {
			t.Errorf("%s: error %v does not say %q, or %d bytes written", c.name, err, c.word, b.Len())
		}
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestWriteReportsTheWritersError(t *testing.T) {
	if err := Write(broken{}, plate()); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("error %v", err)
	}
}

// foreign makes a package, without compression, around a model part of another
// maker.
func foreign(t testing.TB, model string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range map[string]string{relsPart: rels, modelPart: model} {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name})
		if err == nil {
			_, err = io.WriteString(w, text)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestReadRefuses(t *testing.T) {
	good := write(t, plate())
	text := part(t, good, modelPart)
	edit := func(old, new string) []byte {
		if !strings.Contains(text, old) {
			t.Fatalf("no %q to replace", old)
		}
		return foreign(t, strings.Replace(text, old, new, 1))
	}
	damaged := bytes.Clone(good)
	damaged[len(damaged)/2] ^= 0x10
	for _, c := range []struct {
		name, word string
		file       []byte
	}{
		{"empty", "zip", nil},
		{"cut off", "zip", good[:len(good)-30]},
		{"damaged", "3mf", damaged},
		{"inches", "millimeter", edit("millimeter", "inch")},
		{"extension", "extensions", edit("<model ", `<model requiredextensions="p" `)},
		{"support", "only models", edit(`type="model"`, `type="support"`)},
		{"id twice", "two objects", edit(`id="2"`, `id="1"`)},
		{"item of nothing", "no object", edit(`<item objectid="1"`, `<item objectid="77"`)},
		{"component of a later object", "earlier", edit(`<component objectid="2"`, `<component objectid="4"`)},
		{"transform cut", "12", edit(`transform="0 `, `transform="`)},
		{"no such vertex", "facet", edit(`v1="0"`, `v1="99999"`)},
		{"vertex beyond 32 bits", "range", edit(`v1="0"`, `v1="9999999999"`)},
		{"no number", "parsing", edit(`x="0"`, `x="zero"`)},
		{"NaN", "NaN", edit(`x="0"`, `x="NaN"`)},
		{"another namespace", "model", edit(namespace, "urn:x")},
		{"not XML", "EOF", foreign(t, "<model")},
	} {
		_, err := Read(bytes.NewReader(c.file), int64(len(c.file)))
		if err == nil || !strings.Contains(err.Error(), c.word) {
			t.Errorf("%s: error %v does not say %q", c.name, err, c.word)
		}
	}
}

// FuzzModel: what can be read can be written, and reads the same again.
func FuzzModel(f *testing.F) {
	f.Add(part(f, write(f, few()), modelPart))
	f.Fuzz(func(t *testing.T, model string) { readsAgain(t, foreign(t, model)) })
}

// FuzzRead: so it is for a whole file, of any archive.
func FuzzRead(f *testing.F) {
	f.Add(write(f, few()))
	f.Add(foreign(f, part(f, write(f, few()), modelPart)))
	f.Fuzz(readsAgain)
}

// few is a small package.
func few() Package {
	p := plate()
	p.Items = []Item{p.Items[0], p.Items[3], p.Items[4], {Name: "again", Mesh: p.Items[0].Mesh}}
	return p
}

// readsAgain: a file that can be read can be written, and reads the same again.
func readsAgain(t *testing.T, file []byte) {
	p, err := Read(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		return
	}
	again := write(t, p)
	got, err := Read(bytes.NewReader(again), int64(len(again)))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, p) {
		t.Errorf("%+v became %+v", p, got)
	}
}

func BenchmarkWrite(b *testing.B) {
	p := Package{Items: []Item{{Name: "ring", Mesh: meshtest.Ring(500, 200)}}}
	for b.Loop() {
		if err := Write(io.Discard, p); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(write(b, p))), "bytes")
}

package main

import (
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/check"
	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/machining"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/pour"
	"wheelmold/mold/printing"
	"wheelmold/mold/report"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// chainTolerance keeps meshes small.
const chainTolerance = 0.2 // mm

// mostLeaves is of how many shapes a mold may consist to be made while fuzzing; one of
// more is laid out alone, for the engine takes ten seconds for a hang.
const mostLeaves = 250

// FuzzChain changes values of sound jobs, each change by four bytes: key, how, how much.
// Whatever comes: a refusal that names a value, or a mold that is made and audited, and
// figures that JSON can hold.
func FuzzChain(f *testing.F) {
	bases := chainBases(f)
	f.Add(byte(0), []byte{}) // the largest example; the corpus has every split
	keys := byHash()
	f.Fuzz(func(t *testing.T, base byte, changes []byte) {
		slow(t)
		job := bases[int(base)%len(bases)]
		plain := valuesOf(t, job)
		var sets []params.Setting
		for ; len(changes) >= 4 && len(sets) < 8; changes = changes[4:] {
			k := keyOf(keys, changes[0], changes[1])
			if s, ok := plain.change(k, changes[2], changes[3]); ok {
				sets = append(sets, s)
			}
		}
		chain(t, job, sets)
	})
}

// FuzzJob takes any text for a job; what can be read is made, as in [FuzzChain].
func FuzzJob(f *testing.F) {
	f.Add(chainBases(f)[0].Bytes)
	f.Fuzz(func(t *testing.T, text []byte) {
		slow(t)
		if len(text) <= maxJob {
			chain(t, &study.File{Name: "job.toml", Bytes: text}, nil)
		}
	})
}

// chainBases are the examples, and a small wheel in every split.
func chainBases(t testing.TB) (jobs []*study.File) {
	t.Helper()
	examples, err := filepath.Glob(filepath.Join("..", "..", "examples", "*.toml"))
	if err != nil || len(examples) == 0 {
		t.Fatal("no examples", err)
	}
	for _, path := range examples {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		jobs = append(jobs, &study.File{Name: "job.toml", Bytes: text})
	}
	for i, s := range moldtest.Splits {
		w := moldtest.Wheels[i%2]
		text := fmt.Sprintf("wheel.diameter = \"%g mm\"\nwheel.width = \"%g mm\"\nhub.bore = \"%g mm\"\nprocess.name = %q\n", w.Diameter, w.Width, w.Bore, w.Process)
		for _, set := range s.Sets {
			key, value, _ := strings.Cut(set, "=")
			if _, err := strconv.Atoi(value); err != nil {
				value = strconv.Quote(value)
			}
			text += key + " = " + value + "\n"
		}
		jobs = append(jobs, &study.File{Name: "job.toml", Bytes: []byte(text + "[[wheel.groove]]\n[[hub.groove]]\n")})
	}
	return jobs
}

// hashed is a key with a number of its own, which stays when others come and go: so
// does what an input of the corpus means.
type hashed struct {
	params.Key
	hash uint32
}

func byHash() (keys []hashed) {
	for _, k := range params.Keys() {
		h := fnv.New32a()
		io.WriteString(h, k.Path)
		keys = append(keys, hashed{k, h.Sum32() >> 16})
	}
	slices.SortFunc(keys, func(a, b hashed) int { return int(a.hash) - int(b.hash) })
	return keys
}

// keyOf is the key whose number is the next.
func keyOf(keys []hashed, hi, lo byte) params.Key {
	want := uint32(hi)<<8 | uint32(lo)
	i := slices.IndexFunc(keys, func(k hashed) bool { return k.hash >= want })
	return keys[max(i, 0)].Key
}

// keyed is a job as it stands, and its values as they are written in its file.
type keyed struct {
	job    *params.Job
	values map[string]string // by path; of an array, those of its first table
}

func valuesOf(t *testing.T, f *study.File) keyed {
	t.Helper()
	j, _, err := f.Job()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := params.Write(&b, j); err != nil {
		t.Fatal(err)
	}
	p := keyed{j, map[string]string{}}
	section := ""
	for line := range strings.Lines(b.String()) {
		line = strings.TrimPrefix(strings.TrimSpace(line), "#")
		if name, ok := strings.CutPrefix(line, "["); ok {
			section = strings.Trim(name, "[]") + "."
			continue
		}
		name, value, ok := strings.Cut(line, " = ")
		if _, known := p.values[section+name]; ok && !known && !strings.HasPrefix(line, " ") {
			value, _, _ = strings.Cut(value, " # ")
			p.values[section+name] = strings.Trim(value, `"`)
		}
	}
	return p
}

// change sets a key to another value: a word or a text of several, or a number near the
// one that it has, anywhere in its range, at its ends, or beyond.
func (p keyed) change(k params.Key, how, much byte) (params.Setting, bool) {
	path := k.Path
	for _, array := range []string{"wheel.groove", "hub.groove", "machining.cutter"} {
		if rest, ok := strings.CutPrefix(path, array+"."); ok {
			path = array + "[1]." + rest
		}
	}
	switch k.Kind {
	case params.Tables:
		return params.Setting{Key: path, Value: "none"}, true
	case params.Word:
		return params.Setting{Key: path, Value: k.Options[int(much)%len(k.Options)]}, true
	case params.Text:
		texts := []string{"", "A", "wheel 1", "@&%$#", "0123456789 abcdefghijklmnop", "\u00e4\u20ac"}
		return params.Setting{Key: path, Value: texts[int(much)%len(texts)]}, true
	}
	if path != k.Path && p.values[k.Path] == "" {
		return params.Setting{}, false // the array has no table
	}
	v := p.number(k, how, much)
	if k.Kind == params.Count {
		return params.Setting{Key: path, Value: strconv.Itoa(int(v))}, true
	}
	return params.Setting{Key: path, Value: params.Format(k.Kind, v)}, true
}

func (p keyed) number(k params.Key, how, much byte) float64 {
	x := float64(much) / 255
	now, err := strconv.ParseFloat(p.values[k.Path], 64)
	if err != nil && p.values[k.Path] != "" {
		if q, err := params.ParseQuantity(k.Kind, p.values[k.Path]); err == nil {
			now = q.Base()
		}
	}
	lo, hi := k.Range(p.job)
	if k.Kind == params.Count {
		return math.Round(lo + x*min(hi-lo, 8))
	}
	switch how % 8 {
	case 0, 1, 2:
		return math.Round(100*now*(0.8+0.4*x)) / 100
	case 3:
		return now * (0.5 + 1.5*x)
	case 4:
		return math.Round(lo + x*(hi-lo))
	case 5:
		return lo + x*x*x*(hi-lo)
	case 6:
		return []float64{lo, hi, 0, now, (lo + hi) / 2}[int(much)%5]
	}
	return []float64{-1, -now, hi * 1.01, lo / 2, 1e9, 1e-9, 25.4 * now, now / 25.4}[int(much)%8]
}

// chain takes a job through all that the commands do.
func chain(t *testing.T, f *study.File, sets []params.Setting) {
	t.Helper()
	x, made, err := throughChain(f, sets, chainOptions(t))
	if err != nil {
		refusedChain(t, sets, err)
		return
	}
	if made == nil {
		return
	}
	r := report.OfBuild(x.Mold, made, x.Flash, x.Pour)
	r.SetStudy(x)
	if err := report.WriteJSON(io.Discard, r); err != nil {
		t.Errorf("%v: %v", sets, err)
	}
	if err := r.WriteText(io.Discard); err != nil {
		t.Errorf("%v: %v", sets, err)
	}
	soundChain(t, sets, made)
}

// chainOptions study all there is, and hold warnings to names.
func chainOptions(t *testing.T) study.Options {
	return study.Options{
		Pour: pour.Options{Wheels: 2, Molds: 1}, Flash: flash.Options{Draws: 50, Seed: 1}, Machining: &machining.Options{},
		Printing: printing.Options{}, Warn: func(fs params.Faults) { named(t, fs) },
	}
}

// throughChain makes a mold and studies it; made is nil for one of too many shapes.
func throughChain(f *study.File, sets []params.Setting, o study.Options) (x *study.Result, made *mold.Made, err error) {
	j, err := o.Read(f, sets)
	if err != nil {
		return nil, nil, err
	}
	if x, err = study.Lay(j, o); err != nil || len(x.Mold.Model.Leaves) > mostLeaves {
		return x, nil, err
	}
	if made, err = x.Mold.Make(mold.MakeOptions{Tolerance: chainTolerance}); err != nil {
		return nil, nil, err
	}
	return x, made, x.Complete(study.Exact(made), o)
}

// refusedChain holds a refusal to what a builder can do with it.
func refusedChain(t *testing.T, sets []params.Setting, err error) {
	t.Helper()
	var refused *study.Refused
	var touch *brep.Refusal
	switch {
	case errors.As(err, &refused):
		if len(refused.Faults) == 0 {
			t.Errorf("%v: refused for nothing", sets)
		}
		named(t, refused.Faults)
	case errors.As(err, &touch):
		if len(touch.Names) == 0 {
			t.Errorf("%v: features without names: %v", sets, err)
		}
	default:
		code, _ := explain(err)
		t.Errorf("%v: exit code %d: %v", sets, code, err)
	}
}

// named holds faults to the names of their values.
func named(t *testing.T, fs params.Faults) {
	t.Helper()
	for _, f := range fs {
		unnamed := strings.HasPrefix(f.Cause, "not TOML") || strings.HasSuffix(f.Cause, "mend those above first")
		if f.Path == "" && !unnamed || f.Cause == "" && f.Allowed == "" || strings.Contains(f.Error(), "NaN mm") {
			t.Errorf("tells nothing: %+v", f)
		}
	}
}

// soundChain audits the pieces again, and holds their volumes to the exact ones.
func soundChain(t *testing.T, sets []params.Setting, made *mold.Made) {
	t.Helper()
	if len(made.Parts) != len(made.Mold.Pieces) {
		t.Errorf("%v: %d of %d pieces made", sets, len(made.Parts), len(made.Mold.Pieces))
	}
	a := &made.Audit
	if r := math.Abs(a.Sum/a.Block - 1); !(r <= 1e-9) || !(math.Abs(a.MeshResidue) <= a.MeshBound) {
		t.Errorf("%v: the parts miss the block by %g, by meshes %g of %g", sets, r, a.MeshResidue, a.MeshBound)
	}
	if d := math.Abs(a.Rubber.ClosedForm/a.Rubber.Boundary - 1); !(d <= 1e-9) {
		t.Errorf("%v: rubber differs by %g", sets, d)
	}
	for i := range made.Parts {
		p := &made.Parts[i]
		for _, m := range []struct {
			report check.Report
			bounds *brep.Boundary
			mesh   *mesh.Mesh
			volume float64
		}{
			{check.Audit(p.Mesh, check.Options{}), p.Boundary, p.Mesh, p.Volume},
			{check.Audit(p.Posed, check.Options{}), p.RawBoundary, p.RawMesh, p.RawVolume},
		} {
			missed, most := volumeMissed(m.bounds, m.mesh, m.volume)
			if !m.report.OK() || !(math.Abs(missed) <= most) {
				t.Errorf("%v: %s: %v, volume off by %g mm³ of %g", sets, p.Piece.Name, m.report.Faults(), missed, most)
			}
		}
		if d := p.Posed.Volume() - p.RawMesh.Volume(); !(math.Abs(d) <= 1e-9*p.RawVolume) {
			t.Errorf("%v: %s: posing changes the volume by %g mm³", sets, p.Piece.Name, d)
		}
	}
}

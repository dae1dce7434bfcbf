package params

import (
	"fmt"
	"math"
	"slices"
)

// Parse reads a job file; name is what faults call it. Settings override it in
// their order. An error is of type [Faults] and lists everything that is wrong,
// in the order of the file. Warnings are legal but worth a second look; they do
// not stop a job, so they come beside it and are never part of the error.
func Parse(name string, src []byte, sets ...Setting) (j *Job, warnings Faults, err error) {
	return read(name, src).job(sets)
}

// job resolves and judges what was read, with settings on top.
func (d *document) job(sets []Setting) (j *Job, warnings Faults, err error) {
	if d.broken {
		return nil, nil, d.faults.sorted()
	}
	for _, s := range sets {
		d.override(s)
	}
	j, faults, strained := resolve(d.stated)
	d.place(faults)
	d.missing()
	d.unreached(j)
	if sound(j) {
		d.faults = d.faults.withRoots(d.located(j.clashes()))
		warnings = d.located(j.Warnings())
	}
	if d.faults == nil {
		d.place(strained)
	}
	if d.faults != nil {
		return nil, warnings.sorted(), d.faults.sorted().asError()
	}
	return j, warnings.sorted(), nil
}

// sound reports whether the job has all that the rest is derived from.
func sound(j *Job) bool {
	return !slices.ContainsFunc(table, func(k Key) bool {
		if !k.Required() {
			return false
		}
		v, number := k.get(j, 0).(float64)
		return number && math.IsNaN(v)
	})
}

// place records faults of resolved values with their places in the file. A
// fault that involves a value already at fault says nothing new.
func (d *document) place(faults Faults) {
	known := d.faults
	for _, f := range d.located(faults) {
		involved := append([]string{f.Path}, f.With...)
		if !slices.ContainsFunc(involved, known.names) {
			d.faults = append(d.faults, f)
		}
	}
}

// located finds where the value of each fault was stated, and as what; for a
// default, where the first value that takes part in the clash was.
func (d *document) located(faults Faults) Faults {
	var out Faults
	for _, f := range faults {
		for _, path := range append([]string{f.Path}, f.With...) {
			if at, ok := d.spots[path]; ok {
				f.File, f.Line, f.Column = at.file, at.line, at.column
				break
			}
		}
		if f.File == "" {
			f.File, f.Line, f.Column = d.home.file, d.home.line, d.home.column
		}
		if as, ok := d.asWritten(f.Path); ok {
			f.Value = as
		}
		out = append(out, f)
	}
	return out
}

// asWritten is the stated quantity at a path in the builder's own unit. Where it
// was refused, its default was judged in its place.
func (d *document) asWritten(path string) (string, bool) {
	plain, i, _ := splitIndex(path)
	q, ok := d.stated[ref{plain, i}].(Quantity)
	return q.String(), ok && !d.faults.names(path)
}

// missing reports required values that were not stated, unless a misspelled key
// most likely meant them.
func (d *document) missing() {
	for _, k := range table {
		if _, ok := d.spots[k.Path]; ok || !k.Required() || slices.Contains(d.guess, k.Path) {
			continue
		}
		name, section := k.name(), k.section()
		if d.below != "" {
			name, section = k.Path, d.below
		}
		d.fault(d.home, Fault{Path: k.Path, Cause: "missing", Hint: fmt.Sprintf("write %s = %q under [%s]", name, k.sample, section)})
	}
}

// unreached reports values of grooves that do not exist.
func (d *document) unreached(j *Job) {
	for _, k := range table {
		if k.slot.count == nil {
			continue
		}
		var beyond []int
		for r := range d.stated {
			if r.path == k.Path && r.index >= k.len(j) {
				beyond = append(beyond, r.index)
			}
		}
		slices.Sort(beyond)
		for _, i := range beyond {
			d.place(Faults{{Path: k.label(i), Cause: fmt.Sprintf("there are only %d of %s", k.len(j), k.section())}})
		}
	}
}

// Package export writes a made mold as a folder of files: one STL per piece in
// its printing pose, each load of the printer's bed and the assembly as 3MF, the
// resolved job, what else the maker hands over, and a manifest.
//
// The folder appears whole or not at all (mold/export/outdir). Every STL file is
// read back as bytes and audited again before the folder appears. The same job
// gives the same bytes on every run and for any number of processors: there is
// no clock and no path of the machine in them.
package export

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"path/filepath"

	"wheelmold/mesh"
	"wheelmold/mold/export/outdir"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/printing/bed"
	"wheelmold/params"
)

// Formats are the mesh formats that can be asked for.
var Formats = []string{"stl", "3mf"}

// Part is one piece to write. Its coordinates lie on the lattice of mesh/solid,
// so that they survive single precision unchanged.
type Part struct {
	Name    string
	InPlace *mesh.Mesh // in the mold
	Posed   *mesh.Mesh // as it is printed: on z = 0, its corner at the origin
}

// Contents are what is put into a folder.
type Contents struct {
	Parts []Part
	Files []File // beside the meshes
	// Beds are the printer's. Parts that they do not name are milled or turned.
	Beds bed.Sorting
}

// File is another file of the folder, such as a picture or a report. Fill may run
// at the same time as others' do, and is called once.
type File struct {
	Name string
	Fill func(io.Writer) error
}

// Options say what is written beside the meshes, and where.
type Options struct {
	Dir       string
	Replace   bool              // a folder of an earlier run
	Wants     func(string) bool // by format
	Program   string            // name and version
	Job       *params.Job       // resolved
	JobFile   string            // its name; the folder is left out
	JobBytes  []byte            // as read
	Settings  []string          // that override the file
	Tolerance float64           // mm
	Only      []string          // pieces, if not all
}

// Write makes the contents, by calling make once the place is known to be writable,
// and writes the folder. It returns the files, by name. Files that are being written
// when ctx is canceled are left behind: a picture or a page can take long.
func Write(ctx context.Context, o Options, make func() (*Contents, error)) ([]outdir.Entry, error) {
	dir, err := outdir.Create(ctx, o.Dir, o.Replace)
	if err != nil {
		return nil, err
	}
	defer dir.Discard()
	c, err := make()
	if err != nil {
		return nil, err
	}
	if _, err := inparallel.Until(ctx, func() (struct{}, error) { return struct{}{}, fill(dir, o, c) }); err != nil {
		return nil, err
	}
	return dir.Entries(), dir.Commit()
}

// fill writes all files of the folder.
func fill(dir *outdir.Folder, o Options, c *Contents) error {
	work, err := tasks(dir, o, c)
	if err != nil {
		return err
	}
	if err := together(work); err != nil {
		return err
	}
	return dir.Write(outdir.Manifest, manifest(o, c.Parts, dir.Entries()))
}

// tasks are the files to write, the slow ones first.
func tasks(dir *outdir.Folder, o Options, c *Contents) ([]func() error, error) {
	var out []func() error
	add := func(name string, fill func(io.Writer) error) {
		out = append(out, func() error { return dir.Write(name, fill) })
	}
	for _, f := range c.Files {
		add(f.Name, f.Fill)
	}
	if o.Wants("3mf") {
		all, err := plates(c)
		if err != nil {
			return nil, err
		}
		for _, p := range all {
			add(p.name, func(w io.Writer) error { return p.write(w, o) })
		}
		add("assembly.3mf", func(w io.Writer) error { return writeAssembly(w, o, c.Parts) })
	}
	for _, p := range c.Parts {
		if o.Wants("stl") {
			out = append(out, func() error { return writeSTL(dir, p) })
		}
	}
	add("job.toml", func(w io.Writer) error { return params.Write(w, o.Job) })
	return out, nil
}

// together runs the tasks on all cores and returns the first error in their order,
// whatever the order in which they end.
func together(tasks []func() error) error {
	errs := make([]error, len(tasks))
	inparallel.Wide(len(tasks), func(i int) { errs[i] = tasks[i]() })
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// manifest writes what is in the folder and what it came from.
func manifest(o Options, parts []Part, files []outdir.Entry) func(io.Writer) error {
	sum := sha256.Sum256(o.JobBytes)
	m := Manifest{
		Version:   ManifestVersion,
		Program:   o.Program,
		Job:       JobSource{o.Job.Name, filepath.Base(o.JobFile), hex.EncodeToString(sum[:])},
		Settings:  append([]string{}, o.Settings...),
		Tolerance: o.Tolerance,
		Files:     files,
	}
	for _, p := range parts {
		m.Pieces = append(m.Pieces, p.Name)
	}
	return m.write
}

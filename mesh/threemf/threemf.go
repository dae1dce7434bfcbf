// Package threemf writes meshes as 3MF packages (3MF Core Specification 1.4.0),
// and reads such packages back.
//
// A file that Write made holds every coordinate and pose in the shortest
// decimals that read back exactly, in millimeters; a mesh that several items
// use is stored once. The same package gives the same bytes on every run and
// for any number of processors: it carries no date. Write refuses what the
// format forbids facet by facet; whether a mesh is closed is for mesh/check.
//
// Read takes what Write makes and the like from others: core meshes in
// millimeters and objects that stand for another one. It passes over colors,
// properties and every extension, and refuses packages that require one.
package threemf

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math"
	"strconv"

	"wheelmold/mesh"
)

// Package is what one 3MF file holds.
type Package struct {
	Title       string // what the file is; left out where empty
	Application string // the program and its version; left out where empty
	Items       []Item
}

// Item is one thing to make.
type Item struct {
	Name string
	// Mesh is the item's shape; items may share one.
	Mesh *mesh.Mesh
	Pose Pose
}

// Pose places a mesh on the build plate: it gives the images of the three axes
// (directions) and of the origin (mm). The zero value leaves the mesh where it
// is.
type Pose struct{ X, Y, Z, Origin mesh.Vec }

// Apply returns the image of p.
func (p Pose) Apply(v mesh.Vec) mesh.Vec {
	if p == (Pose{}) {
		return v
	}
	return p.Origin.AddScaled(v[0], p.X).AddScaled(v[1], p.Y).AddScaled(v[2], p.Z)
}

// Names that the specification fixes.
const (
	modelPart    = "3D/3dmodel.model"
	relsPart     = "_rels/.rels"
	typesPart    = "[Content_Types].xml"
	namespace    = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
	relationship = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"

	types = xml.Header + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>`
	rels = xml.Header + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
		`<Relationship Id="model" Type="` + relationship + `" Target="/` + modelPart + `"/></Relationships>`
)

// Write writes p to w.
func Write(w io.Writer, p Package) error {
	if err := p.validate(); err != nil {
		return err
	}
	z := zip.NewWriter(w)
	for _, part := range []struct {
		name string
		text []segment
	}{
		{typesPart, []segment{literal(types)}},
		{relsPart, []segment{literal(rels)}},
		{modelPart, p.model()},
	} {
		if err := writePart(z, part.name, part.text); err != nil {
			return fmt.Errorf("3mf: %s: %w", part.name, err)
		}
	}
	if err := z.Close(); err != nil {
		return fmt.Errorf("3mf: %w", err)
	}
	return nil
}

// writePart stores one part. Its size is known beforehand, so that readers
// which expect it in front of the data find it there.
func writePart(z *zip.Writer, name string, text []segment) error {
	packed := pack(text)
	h := &zip.FileHeader{
		Name: name, Method: zip.Deflate,
		// 1980-01-01, the format's first day: bytes must not depend on the clock.
		//lint:ignore SA1019 Modified would add an extra field of its own to every part.
		ModifiedDate: 1<<5 | 1,
	}
	for _, s := range packed {
		h.CRC32 = crc32.Update(h.CRC32, crc32.IEEETable, s.raw)
		h.UncompressedSize64 += uint64(len(s.raw))
		h.CompressedSize64 += uint64(len(s.deflated))
	}
	w, err := z.CreateRaw(h)
	if err != nil {
		return err
	}
	for _, s := range packed {
		if _, err := w.Write(s.deflated); err != nil {
			return err
		}
	}
	return nil
}

// validate reports everything in p that the format forbids.
func (p Package) validate() error {
	var errs []error
	if len(p.Items) == 0 {
		errs = append(errs, errors.New("3mf: nothing to write"))
	}
	for i, it := range p.Items {
		if err := it.validate(); err != nil {
			errs = append(errs, fmt.Errorf("3mf: item %d (%q): %w", i, it.Name, err))
		}
	}
	return errors.Join(errs...)
}

func (it Item) validate() error {
	if it.Mesh == nil || len(it.Mesh.T) < 4 {
		return errors.New("a solid needs at least four facets")
	}
	for i, v := range it.Mesh.V {
		if !finite(v) {
			return fmt.Errorf("vertex %d is at %v", i, v)
		}
	}
	n := int32(len(it.Mesh.V))
	for i, t := range it.Mesh.T {
		if min(t[0], t[1], t[2]) < 0 || max(t[0], t[1], t[2]) >= n {
			return fmt.Errorf("facet %d names vertices %v of %d", i, t, n)
		}
		if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			return fmt.Errorf("facet %d names a vertex twice: %v", i, t)
		}
	}
	if ps := it.Pose; ps != (Pose{}) {
		// Printers do not agree on mirrored items, and a flat one has no inside.
		if det := ps.X.Dot(ps.Y.Cross(ps.Z)); !(det > 0) || math.IsInf(det, 0) || !finite(ps.Origin) {
			return fmt.Errorf("pose %v mirrors or flattens the item", ps)
		}
	}
	return nil
}

func finite(v mesh.Vec) bool {
	return !math.IsNaN(v[0]-v[0]) && !math.IsNaN(v[1]-v[1]) && !math.IsNaN(v[2]-v[2])
}

// object is one resource of the file: a mesh, or another name for one.
type object struct {
	name string
	mesh *mesh.Mesh
	of   int // id of the object that holds the mesh, 0 where this one does
}

// objects returns the file's resources, whose ids count from 1, and the id of
// every item's object.
func (p Package) objects() (objs []object, ids []int) {
	holder := map[*mesh.Mesh]int{}
	known := map[object]int{}
	for _, it := range p.Items {
		key := object{name: it.Name, mesh: it.Mesh}
		if known[key] == 0 {
			objs = append(objs, object{it.Name, it.Mesh, holder[it.Mesh]})
			known[key] = len(objs)
		}
		if holder[it.Mesh] == 0 {
			holder[it.Mesh] = len(objs)
		}
		ids = append(ids, known[key])
	}
	return objs, ids
}

// model returns the text of the model part.
func (p Package) model() []segment {
	var head bytes.Buffer
	head.WriteString(xml.Header + `<model unit="millimeter" xml:lang="en-US" xmlns="` + namespace + `">` + "\n")
	for _, m := range [][2]string{{"Title", p.Title}, {"Application", p.Application}} {
		if m[1] != "" {
			head.WriteString(`<metadata name="` + m[0] + `">` + escaped(m[1]) + "</metadata>\n")
		}
	}
	head.WriteString("<resources>\n")
	out := []segment{literal(head.String())}
	objs, ids := p.objects()
	for i, o := range objs {
		out = append(out, o.segments(i+1)...)
	}
	tail := []byte("</resources>\n<build>\n")
	for i, it := range p.Items {
		tail = append(tail, `<item objectid="`...)
		tail = strconv.AppendInt(tail, int64(ids[i]), 10)
		if it.Pose != (Pose{}) {
			tail = append(tail, `" transform="`...)
			tail = it.Pose.append(tail)
		}
		tail = append(tail, "\"/>\n"...)
	}
	tail = append(tail, "</build>\n</model>\n"...)
	return append(out, literal(tail))
}

// segments returns the text of one resource.
func (o object) segments(id int) []segment {
	head := fmt.Sprintf(`<object id="%d" type="model"`, id)
	if o.name != "" {
		head += ` name="` + escaped(o.name) + `"`
	}
	if o.of != 0 {
		return []segment{literal(head + fmt.Sprintf(`><components><component objectid="%d"/></components></object>`+"\n", o.of))}
	}
	out := []segment{literal(head + "><mesh><vertices>\n")}
	for v := o.mesh.V; len(v) > 0; {
		n := min(len(v), perSegment)
		out = append(out, vertices(v[:n]))
		v = v[n:]
	}
	out = append(out, literal("</vertices><triangles>\n"))
	for t := o.mesh.T; len(t) > 0; {
		n := min(len(t), perSegment)
		out = append(out, triangles(t[:n]))
		t = t[n:]
	}
	return append(out, literal("</triangles></mesh></object>\n"))
}

// escaped returns s as text of an element or attribute; what XML cannot hold
// becomes U+FFFD.
func escaped(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a bytes.Buffer takes everything
	return b.String()
}

// append appends the twelve numbers of the format's matrix, whose rows are the
// images of the axes and of the origin.
func (p Pose) append(b []byte) []byte {
	for i, row := range []mesh.Vec{p.X, p.Y, p.Z, p.Origin} {
		for k, x := range row {
			if i+k > 0 {
				b = append(b, ' ')
			}
			b = number(b, x)
		}
	}
	return b
}

// number appends x in the shortest decimals that read back as x.
func number(b []byte, x float64) []byte {
	return strconv.AppendFloat(b, x+0, 'f', -1, 64) // x+0: no -0
}

package threemf

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"wheelmold/mesh"
)

// maxText bounds the unpacked size of a part in bytes, about seven million
// facets: a small file can unpack to anything.
const maxText = 1 << 29

// document is the model part, as far as it is read.
type document struct {
	XMLName  xml.Name      `xml:"http://schemas.microsoft.com/3dmanufacturing/core/2015/02 model"`
	Unit     string        `xml:"unit,attr"`
	Required string        `xml:"requiredextensions,attr"`
	Metadata []metadata    `xml:"metadata"`
	Objects  []objectEntry `xml:"resources>object"`
	Items    []itemEntry   `xml:"build>item"`
}

type metadata struct {
	Name string `xml:"name,attr"`
	Text string `xml:",chardata"`
}

type objectEntry struct {
	ID   string `xml:"id,attr"`
	Type string `xml:"type,attr"`
	Name string `xml:"name,attr"`
	Mesh *struct {
		Vertices []struct {
			X float64 `xml:"x,attr"`
			Y float64 `xml:"y,attr"`
			Z float64 `xml:"z,attr"`
		} `xml:"vertices>vertex"`
		Triangles []struct {
			V1 int32 `xml:"v1,attr"`
			V2 int32 `xml:"v2,attr"`
			V3 int32 `xml:"v3,attr"`
		} `xml:"triangles>triangle"`
	} `xml:"mesh"`
	Components []itemEntry `xml:"components>component"`
}

type itemEntry struct {
	Object    string `xml:"objectid,attr"`
	Transform string `xml:"transform,attr"`
}

// Read reads a package of size bytes from r. Items that use the same object
// share its mesh.
func Read(r io.ReaderAt, size int64) (Package, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return Package{}, fmt.Errorf("3mf: %w", err)
	}
	name, err := modelName(z)
	if err != nil {
		return Package{}, fmt.Errorf("3mf: %w", err)
	}
	var d document
	if err := readPart(z, name, &d); err != nil {
		return Package{}, fmt.Errorf("3mf: %w", err)
	}
	p, err := d.pack()
	if err == nil {
		err = p.validate()
	}
	if err != nil {
		return Package{}, err
	}
	return p, nil
}

// modelName returns the name of the part that the package names as its model.
func modelName(z *zip.Reader) (string, error) {
	var rels struct {
		Relationship []struct {
			Type   string `xml:"Type,attr"`
			Target string `xml:"Target,attr"`
		}
	}
	if err := readPart(z, relsPart, &rels); err != nil {
		return "", err
	}
	for _, r := range rels.Relationship {
		if r.Type == relationship {
			return strings.TrimPrefix(r.Target, "/"), nil
		}
	}
	return "", errors.New("the package names no model")
}

// readPart decodes one part of the package as XML.
func readPart(z *zip.Reader, name string, into any) error {
	for _, f := range z.File {
		if f.Name != name {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		defer r.Close()
		limited := &io.LimitedReader{R: r, N: maxText}
		err = xml.NewDecoder(limited).Decode(into)
		if limited.N <= 0 {
			return fmt.Errorf("%s: unpacks to more than %d bytes", name, maxText)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		// To the end, where the checksum is compared.
		if _, err := io.Copy(io.Discard, limited); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		return nil
	}
	return fmt.Errorf("no part %s", name)
}

// pack turns the document into a package.
func (d *document) pack() (Package, error) {
	if d.Unit != "" && d.Unit != "millimeter" {
		return Package{}, fmt.Errorf("3mf: unit %q, only millimeter is read", d.Unit)
	}
	if d.Required != "" {
		return Package{}, fmt.Errorf("3mf: requires the extensions %q, none is read", d.Required)
	}
	var p Package
	for _, m := range d.Metadata {
		switch m.Name {
		case "Title":
			p.Title = m.Text
		case "Application":
			p.Application = m.Text
		}
	}
	objs, err := d.objects()
	if err != nil {
		return Package{}, err
	}
	for i, e := range d.Items {
		o, ok := objs[e.Object]
		if !ok {
			return Package{}, fmt.Errorf("3mf: item %d: no object %q", i, e.Object)
		}
		pose, err := parsePose(e.Transform)
		if err != nil {
			return Package{}, fmt.Errorf("3mf: item %d: %w", i, err)
		}
		p.Items = append(p.Items, Item{Name: o.name, Mesh: o.mesh, Pose: pose})
	}
	return p, nil
}

// objects returns the resources by id. An object may refer to earlier ones
// only (§4.2), so that no chain of references is endless.
func (d *document) objects() (map[string]object, error) {
	objs := map[string]object{}
	for _, e := range d.Objects {
		if _, ok := objs[e.ID]; ok {
			return nil, fmt.Errorf("3mf: two objects with id %q", e.ID)
		}
		if e.Type != "" && e.Type != "model" {
			return nil, fmt.Errorf("3mf: object %q is a %q, only models are read", e.ID, e.Type)
		}
		m, err := e.mesh(objs)
		if err != nil {
			return nil, fmt.Errorf("3mf: object %q: %w", e.ID, err)
		}
		objs[e.ID] = object{name: e.Name, mesh: m}
	}
	return objs, nil
}

// mesh returns the mesh of an object, or of the one that it stands for.
func (e *objectEntry) mesh(objs map[string]object) (*mesh.Mesh, error) {
	if e.Mesh == nil {
		if len(e.Components) != 1 || e.Components[0].Transform != "" {
			return nil, errors.New("an assembly, only single meshes are read")
		}
		o, ok := objs[e.Components[0].Object]
		if !ok {
			return nil, fmt.Errorf("no earlier object %q", e.Components[0].Object)
		}
		return o.mesh, nil
	}
	m := &mesh.Mesh{}
	for _, v := range e.Mesh.Vertices {
		m.V = append(m.V, mesh.Vec{v.X, v.Y, v.Z})
	}
	for _, t := range e.Mesh.Triangles {
		m.T = append(m.T, [3]int32{t.V1, t.V2, t.V3})
	}
	return m, nil
}

// parsePose reads the format's matrix; an empty one leaves everything in place.
func parsePose(s string) (Pose, error) {
	if s == "" {
		return Pose{}, nil
	}
	f := strings.Fields(s)
	if len(f) != 12 {
		return Pose{}, fmt.Errorf("a transform of %d numbers, 12 are needed", len(f))
	}
	var rows [4]mesh.Vec
	for i, w := range f {
		x, err := strconv.ParseFloat(w, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return Pose{}, fmt.Errorf("transform: %q is no number", w)
		}
		rows[i/3][i%3] = x
	}
	return Pose{rows[0], rows[1], rows[2], rows[3]}, nil
}

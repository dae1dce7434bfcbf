package export

import (
	"fmt"
	"io"

	"wheelmold/mesh"
	"wheelmold/mesh/threemf"
	"wheelmold/mold/printing/bed"
	"wheelmold/params"
)

// plate is a 3MF file with pieces as they lie on a bed.
type plate struct {
	name  string
	title string // after the job's name
	items []threemf.Item
}

// plates are the files in which the pieces lie side by side. Those that are printed
// are the loads of the printer's bed, to be sliced as they are. A piece that does not
// fit on the bed has a file of its own that is not called a plate, so that nobody
// sends it to that printer, and it can still be taken to a larger one. Pieces to be
// milled or turned are in one file.
func plates(j *params.Job, parts []Part) []plate {
	var printing, cutting []Part
	for _, p := range parts {
		if printed(j, p) {
			printing = append(printing, p)
		} else {
			cutting = append(cutting, p)
		}
	}
	out := onBed(j, printing)
	if len(cutting) > 0 {
		out = append(out, beside(cutting))
	}
	return out
}

// printed reports whether a piece is: a hub goes by its own material.
func printed(j *params.Job, p Part) bool {
	if p.Name == "hub" {
		return j.Hub.Material == "printed"
	}
	return j.Printed()
}

// onBed sorts parts onto the printer's bed.
func onBed(j *params.Job, parts []Part) []plate {
	r := &j.Printing
	loads, misfits := bed.Pack(sizes(parts), bed.Bed{X: r.BedX, Y: r.BedY, Z: r.BedZ, Gap: r.Gap})
	var out []plate
	for n, l := range loads {
		p := plate{name: fmt.Sprintf("plate-%d.3mf", n+1), title: fmt.Sprintf(", plate %d of %d", n+1, len(loads))}
		for _, at := range l.Places {
			p.lay(parts[at.Item], at)
		}
		out = append(out, p)
	}
	for _, i := range misfits {
		p := plate{name: "too-large-" + parts[i].Name + ".3mf", title: ", " + parts[i].Name + ", too large for the bed"}
		p.lay(parts[i], bed.Place{})
		out = append(out, p)
	}
	return out
}

// beside lays parts side by side on no machine's bed.
func beside(parts []Part) plate {
	p := plate{name: "pieces.3mf"}
	for i, at := range arrange(sizes(parts)) {
		p.lay(parts[i], bed.Place{At: at})
	}
	return p
}

func sizes(parts []Part) []mesh.Vec {
	out := make([]mesh.Vec, len(parts))
	for i, p := range parts {
		out[i] = p.Posed.Bounds().Hi
	}
	return out
}

// lay lays a piece down. Places and sizes lie on the lattice, so that what is read
// back lies there to the bit.
func (p *plate) lay(part Part, at bed.Place) {
	pose := threemf.Pose{X: mesh.Vec{1, 0, 0}, Y: mesh.Vec{0, 1, 0}, Z: mesh.Vec{0, 0, 1}, Origin: at.At}
	if at.Turned { // counterclockwise, about the corner at the origin; what was deep is then left of it
		pose.X, pose.Y = mesh.Vec{0, 1, 0}, mesh.Vec{-1, 0, 0}
		pose.Origin[0] += part.Posed.Bounds().Hi[1]
	}
	p.items = append(p.items, threemf.Item{Name: part.Name, Mesh: part.Posed, Pose: pose})
}

func (p plate) write(w io.Writer, o Options) error {
	return threemf.Write(w, threemf.Package{Title: o.Job.Name + p.title, Application: o.Program, Items: p.items})
}

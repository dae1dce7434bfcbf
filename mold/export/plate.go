package export

import (
	"fmt"
	"io"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/threemf"
	"wheelmold/mold/printing/bed"
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
// milled or turned are in one file. A part that beds name twice, or a name that is
// no part's, is an error.
func plates(c *Contents) ([]plate, error) {
	left := map[string]Part{}
	for _, p := range c.Parts {
		left[p.Name] = p
	}
	out, spots := onBeds(&c.Beds)
	for i := range out {
		p := &out[i]
		for _, s := range spots[i] {
			part, ok := left[s.Piece]
			if !ok {
				return nil, fmt.Errorf("%s: %q is no part, or lies elsewhere, too", p.name, s.Piece)
			}
			delete(left, s.Piece)
			p.lay(part, s)
		}
	}
	cut := slices.DeleteFunc(slices.Clone(c.Parts), func(p Part) bool { _, ok := left[p.Name]; return !ok })
	if len(cut) > 0 {
		out = append(out, beside(cut))
	}
	return out, nil
}

// onBeds are the files of what is printed, still empty, and what lies where in each.
func onBeds(b *bed.Sorting) (out []plate, spots [][]bed.Spot) {
	for n, l := range b.Loads {
		out = append(out, plate{name: fmt.Sprintf("plate-%d.3mf", n+1), title: fmt.Sprintf(", plate %d of %d", n+1, len(b.Loads))})
		spots = append(spots, l)
	}
	for _, name := range b.Misfits {
		out = append(out, plate{name: "too-large-" + name + ".3mf", title: ", " + name + ", too large for the bed"})
		spots = append(spots, []bed.Spot{{Piece: name}})
	}
	return out, spots
}

// beside lays parts side by side on no machine's bed.
func beside(parts []Part) plate {
	sizes := make([]mesh.Vec, len(parts))
	for i, p := range parts {
		sizes[i] = p.Posed.Bounds().Hi
	}
	p := plate{name: "pieces.3mf"}
	for i, at := range arrange(sizes) {
		p.lay(parts[i], bed.Spot{At: at})
	}
	return p
}

// lay lays a piece down. Places and sizes lie on the lattice, so that what is read
// back lies there to the bit.
func (p *plate) lay(part Part, at bed.Spot) {
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

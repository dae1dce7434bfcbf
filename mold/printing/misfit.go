package printing

import (
	"bytes"
	"cmp"
	"slices"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/printing/bed"
	"wheelmold/mold/release"
	"wheelmold/params"
)

// Misfit is a piece that the bed does not hold.
type Misfit struct {
	Piece string
	Kind  mold.Kind
	Size  mesh.Vec
	// Fits are the other ways to split the mold that open and all of whose pieces the
	// bed holds, the fewest pieces first; a hub is the same in all.
	Fits  []Alternative
	Tried bool // they were looked for
}

// Alternative is another way to split the mold.
type Alternative struct {
	params.Way
	Pieces int // without the hub
}

// alternatives tries the other splits if a piece of the mold does not fit.
func (p *Plan) alternatives(j *params.Job) {
	var fits []Alternative
	tried := false
	for i := range p.Misfits {
		f := &p.Misfits[i]
		if f.Kind == mold.Hub {
			continue
		}
		if !tried {
			fits, tried = waysWithin(j, p.Bed), true
		}
		f.Fits, f.Tried = fits, true
	}
}

// waysWithin lays the mold out in each other way that the job allows, and keeps those
// that open and whose pieces all fit. What the job states beside the split stays; what
// follows from the split is derived anew.
func waysWithin(j *params.Job, b bed.Bed) []Alternative {
	var src bytes.Buffer
	if params.Write(&src, j) != nil {
		return nil // laid out by a test, from values that no file may state
	}
	ways := params.Ways()
	all := make([]Alternative, len(ways))
	inparallel.Do(len(ways), func(i int) {
		all[i].Way = ways[i]
		if ways[i] != j.Way() {
			all[i].Pieces = piecesWithin(src.Bytes(), ways[i], b)
		}
	})
	fits := slices.DeleteFunc(all, func(a Alternative) bool { return a.Pieces == 0 })
	slices.SortStableFunc(fits, func(a, b Alternative) int { return cmp.Compare(a.Pieces, b.Pieces) })
	return fits
}

// piecesWithin is how many pieces a mold has that is split in a way, if the bed holds
// them all; 0 if it does not, or if the mold cannot be split so or does not open.
func piecesWithin(job []byte, w params.Way, b bed.Bed) (n int) {
	j, _, err := params.Parse("", job, w.Settings()...)
	if err != nil {
		return 0
	}
	m, err := mold.New(j)
	if err != nil {
		return 0
	}
	if opens, err := release.Of(m); err != nil || len(opens.Faults()) > 0 {
		return 0
	}
	for i := range m.Pieces {
		x := &m.Pieces[i]
		if x.Kind == mold.Hub {
			continue
		}
		box := x.Raw.Bounds()
		posed := mesh.EmptyBox().Include(x.Pose.Apply(box.Lo)).Include(x.Pose.Apply(box.Hi))
		if !b.Holds(posed.Hi.Sub(posed.Lo)) {
			return 0
		}
		n++
	}
	return n
}

// Remedy says what to do about a piece that does not fit.
func (f *Misfit) Remedy() string {
	switch {
	case f.Kind == mold.Hub:
		return "print it on a larger printer, or turn it of nylon or acetal (hub.material)"
	case !f.Tried:
		return "use a larger printer, or another mold.split or more mold.segments"
	case len(f.Fits) == 0:
		return "no other split of this mold fits either: use a larger printer, or mill it"
	}
	names := make([]string, len(f.Fits))
	for i, a := range f.Fits {
		names[i] = a.String()
	}
	return "what fits: " + strings.Join(names, "; ") + " (mold.split, mold.segments)"
}

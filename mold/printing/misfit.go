package printing

import (
	"bytes"
	"fmt"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/printing/bed"
	"wheelmold/params"
)

// Misfit is a piece that the bed does not hold.
type Misfit struct {
	Piece string
	Kind  mold.Kind
	Size  mesh.Vec
	// Fits are splits of the same wheel all of whose pieces the bed holds, the fewest
	// pieces first; a hub is the same in all.
	Fits []Alternative
}

// Alternative is another way to split the mold.
type Alternative struct {
	Split    string // as mold.split
	Segments int    // as mold.segments
	Pieces   int    // without the hub
}

// String names the split in words.
func (a Alternative) String() string {
	if a.Segments < 2 {
		return a.Split
	}
	return fmt.Sprintf("%s with mold.segments = %d", a.Split, a.Segments)
}

// Settings are what asks for the split, for --set.
func (a Alternative) Settings() []string {
	return []string{"mold.split=" + a.Split, fmt.Sprintf("mold.segments=%d", a.Segments)}
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
			fits, tried = splitsWithin(j, p.Bed), true
		}
		f.Fits = fits
	}
}

// splitsWithin lays the mold out in each other way that the job allows, and keeps
// those whose pieces all fit. What the job states beside the split stays; what follows
// from the split is derived anew.
func splitsWithin(j *params.Job, b bed.Bed) (fits []Alternative) {
	var src bytes.Buffer
	if params.Write(&src, j) != nil {
		return nil // laid out by a test, from values that no file may state
	}
	for segments := 1; segments <= 4; segments++ {
		for _, split := range params.Splits {
			a := Alternative{Split: split, Segments: segments}
			if split == j.Mold.Split && segments == j.Mold.Segments || (segments == 1) != (split == params.SplitCup) {
				continue
			}
			if a.Pieces = piecesWithin(src.Bytes(), a, b); a.Pieces > 0 {
				fits = append(fits, a)
			}
		}
	}
	return fits
}

// piecesWithin is how many pieces a split makes of a mold if the bed holds them all;
// 0 if it does not, or if the mold cannot be split so.
func piecesWithin(job []byte, a Alternative, b bed.Bed) (n int) {
	j, _, err := params.Parse("", job, params.Setting{Key: "mold.split", Value: a.Split}, params.Setting{Key: "mold.segments", Value: fmt.Sprint(a.Segments)})
	if err != nil {
		return 0
	}
	m, err := mold.New(j)
	if err != nil {
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

// remedy says what to do about a piece that does not fit.
func (f *Misfit) remedy() string {
	switch {
	case f.Kind == mold.Hub:
		return "print it on a larger printer, or turn it of nylon or acetal (hub.material)"
	case len(f.Fits) == 0:
		return "no other split of this mold fits either: use a larger printer, or mill it"
	}
	names := make([]string, len(f.Fits))
	for i, a := range f.Fits {
		names[i] = a.String()
	}
	return "what fits: mold.split = " + strings.Join(names, ", or ")
}

package report

import "io"

// Sets is what was made of several jobs in one go.
type Sets struct {
	Version int    `json:"version"`
	Program string `json:"program"`
	Sets    []Set  `json:"sets"`
}

// Set is what was made of one of them.
type Set struct {
	Class  string `json:"class"`
	Folder string `json:"folder"`
	Build  *Build `json:"build"` // null if it could not be made
}

// NewSets is a list of no sets yet, made by the named program.
func NewSets(program string) *Sets {
	return &Sets{Version: Version, Program: program, Sets: []Set{}}
}

// Add adds a set; without a build it is one that could not be made.
func (s *Sets) Add(class, folder string, b *Build) {
	s.Sets = append(s.Sets, Set{class, folder, b})
}

// WriteText prints a line per set.
func (s *Sets) WriteText(w io.Writer) error {
	p := newPage(w)
	p.row("class", "folder", "pieces", "wheel mm", "mold mm", "mix", "worst line")
	for _, x := range s.Sets {
		b := x.Build
		if b == nil {
			p.row(x.Class, "not made")
			continue
		}
		p.row(x.Class, x.Folder, number(float64(len(b.Pieces)), 0), number(b.Wheel.Diameter, 1)+" x "+number(b.Wheel.Width, 1),
			size(b.Outline.Size, 1, 0), grams(b.Pour.Mixed), b.Flash.Grade)
	}
	return p.close()
}

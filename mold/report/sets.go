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

// Made lists the folders of those that could be made.
func (s *Sets) Made() (folders []string) {
	for _, x := range s.Sets {
		if x.Build != nil {
			folders = append(folders, x.Folder)
		}
	}
	return folders
}

// WriteText prints a line per set, and what they take together.
func (s *Sets) WriteText(w io.Writer) error {
	p := newPage(w)
	// As many cells in each row, so that the columns go through.
	p.row("class", "folder", "pieces", "wheel mm", "mix", "flash", "loads", "plastic", "printing")
	var all Printing
	loads, made := 0, 0
	for _, x := range s.Sets {
		if x.Build == nil {
			p.row(x.Class, "not made", "", "", "", "", "", "", "")
			continue
		}
		p.row(append([]string{x.Class, x.Folder}, x.Build.set()...)...)
		made++
		if r := x.Build.Printing; r != nil {
			loads, all.Mass, all.Time = loads+len(r.Loads), all.Mass+r.Mass, all.Time+r.Time
		}
	}
	if made > 1 && loads > 0 {
		p.row("in all", "", "", "", "", "", number(float64(loads), 0), grams(all.Mass), printTime(all.Time))
	}
	return p.close()
}

// set is what a line tells of a build.
func (b *Build) set() []string {
	cells := []string{
		number(float64(len(b.Pieces)), 0), number(b.Wheel.Diameter, 1) + " x " + number(b.Wheel.Width, 1),
		grams(b.Pour.Mixed), b.Flash.Grade,
	}
	if r := b.Printing; r != nil {
		return append(cells, number(float64(len(r.Loads)), 0), grams(r.Mass), printTime(r.Time))
	}
	return append(cells, "none", "", "")
}

package report

import (
	"io"

	"wheelmold/mold"
	"wheelmold/mold/machining"
	"wheelmold/mold/machining/effort"
)

// Shop is what is handed to a machine shop, and what it will find.
type Shop struct {
	Version   int        `json:"version"`
	Program   string     `json:"program"`
	File      string     `json:"job_file"`
	Job       string     `json:"job"`
	Warnings  []string   `json:"warnings"`
	Process   string     `json:"process"`
	Machining *Machining `json:"machining"` // null where everything is printed
	Effort    *Effort    `json:"effort"`    // likewise
	Folder    string     `json:"folder"`    // "" where nothing was written
	Files     []File     `json:"files"`
}

// OfShop reports what a shop finds when it looks at a mold's pieces.
func OfShop(m *mold.Mold, p *machining.Plan, e *effort.Effort) *Shop {
	var c Check
	c.SetMachining(m, p)
	return &Shop{Version: Version, Job: m.Job.Name, Warnings: []string{}, Process: m.Job.Process.Name, Machining: c.Machining, Effort: effortOf(e), Files: []File{}}
}

// Wrote adds the files of a folder.
func (s *Shop) Wrote(folder string, files []File) {
	s.Folder, s.Files = folder, append(s.Files, files...)
}

// WriteText prints it for the bench.
func (s *Shop) WriteText(w io.Writer) error {
	p := newPage(w)
	p.row(s.Job)
	p.row()
	if s.Machining == nil {
		p.row("All of it is printed: there is nothing to mill or turn, and so nothing to draw as DXF or PDF.")
		p.row()
	} else {
		s.Machining.text(p)
		p.row()
	}
	if s.Effort != nil {
		s.Effort.text(p)
		p.row()
	}
	for _, f := range s.Files {
		p.row("wrote", s.Folder+"/"+f.Name, bytes(f.Bytes))
	}
	return p.close()
}

package report

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"wheelmold/mold"
	"wheelmold/mold/castlog"
	"wheelmold/mold/drawing"
	"wheelmold/mold/drawing/svg"
	"wheelmold/mold/report/web"
	"wheelmold/mold/shop/paper"
	"wheelmold/params"
)

// Page is a build as one HTML file that needs nothing else: text, drawings, and the
// mold in 3D.
type Page struct {
	Build    *Build
	Sheet    *Sheet
	Scene    *Scene
	Still    []byte            // PNG that stands in for the 3D view
	Sections []drawing.Drawing // through the mold
	Partings []drawing.Drawing // its mating faces
	Maps     []drawing.Drawing // flash, one for each line of Build.Flash, in its order
	Traps    []drawing.Drawing // trapped air
	Shop     []*paper.Page     // drawings for a machine shop
	Settings []string          // key=value that override the job file
}

// WriteHTML writes the page. Text of the job stays text, whatever it holds.
func (p *Page) WriteHTML(w io.Writer) error {
	v, err := p.view()
	if err != nil {
		return err
	}
	return pageTemplate.Execute(w, v)
}

var pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{
	"boxes": boxes,
	"valid": valid,
	"raw":   func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) },
}).Parse(web.Page))

// valid makes text of the bytes that a file may be called.
func valid(s string) string { return strings.ToValidUTF8(s, "�") }

// placeless is a text of messages with the job's file, or the log beside it, named without
// its folder: the page goes to others, and must not depend on where it was made. A name
// begins the text, a word or a parenthesis, and a colon follows; what only looks like the
// folder stays.
func (b *Build) placeless(text string) string {
	text = " " + text
	for _, path := range []string{b.File, castlog.PathFor(b.File)} {
		name := filepath.Base(path)
		for _, told := range [][2]string{{path, name}, {params.Printable(path), params.Printable(name)}} {
			for _, before := range []string{" ", "("} {
				text = strings.ReplaceAll(text, before+told[0]+":", before+told[1]+":")
			}
		}
	}
	return valid(text[1:])
}

// boxes shows a sheet's boxes as such.
func boxes(s string) string {
	return strings.NewReplacer("[ ]", "☐", "[]", "☐").Replace(s)
}

// view is what the template shows.
type view struct {
	Build           *Build
	Sheet           *Sheet
	Policy          string
	Style           template.CSS
	Script          template.JS
	Wheel           string
	File            string
	Warnings        []string
	Calibrated      string
	Settings        []string
	Tolerance, Step string
	Contents        []entry
	Outcomes        []outcome
	Still           template.URL
	Parts           []part
	Marks           []string
	Scene           *Scene
	Drawings, Traps []drawn
	Flash           *flashView
	Charts          []chart
	Pour            []named
	Use             []named
	Worth           *worthView
	Printing        *printingView
	Shop            *shopView
	Pieces          table
	Needs           table
	Masses          table
	Closure         string
	CutAlong        string // the cut that is offered first goes through the axis and this
	Places          string // from what places count, and which side is which
}

// entry is a line of the table of contents.
type entry struct{ ID, Title string }

// part is a piece of the scene, and what it is called to a reader.
type part struct{ Name, Title string }

// named is a table under a heading.
type named struct {
	Name   string
	Tables []table
}

// printingView is the section on printing.
type printingView struct {
	Lead         string
	Table, Loads table
}

// worthView is the section on what casting costs.
type worthView struct {
	Lead   string
	Chart  chart
	Tables []table
}

// drawn is a drawing as SVG.
type drawn struct {
	ID, Title, Note string
	SVG             template.HTML
}

func (p *Page) view() (*view, error) {
	b := p.Build
	v := &view{
		Build: b, Sheet: p.Sheet, Policy: policy(), Style: template.CSS(web.Style), Script: template.JS(web.Viewer),
		Wheel: size2(b.Wheel.Diameter, b.Wheel.Width, 1, 2) + " mm (" + size2(b.Wheel.Diameter, b.Wheel.Width, 25.4, 3) + " in)",
		File:  valid(filepath.Base(b.File)), Calibrated: b.placeless(b.Calibrated), Settings: p.Settings,
		Tolerance: number(p.Scene.Tolerance, 6), Step: number(p.Scene.Step, 5),
		Contents: contents(b),
		Outcomes: b.outcomes(),
		Still:    template.URL("data:image/png;base64," + base64.StdEncoding.EncodeToString(p.Still)),
		Scene:    p.Scene, Charts: p.charts(), Pour: append(b.Pour.tables(), b.opening()...),
		Pieces: b.pieces(), Needs: toldRows(b.needs), Masses: toldRows(b.masses), Closure: b.Closure.text(),
		CutAlong: "sprue", Places: b.places(),
	}
	for _, w := range b.Warnings {
		v.Warnings = append(v.Warnings, b.placeless(w))
	}
	if b.Split == params.SplitOpen {
		v.CutAlong = "strap"
	}
	if s := b.Service; s != nil {
		v.Use = s.tables()
	}
	if w := b.Worth; w != nil {
		v.Worth = &worthView{upper(w.lead()), worthChart(w), []table{
			toldRows(w.table).headed().called("cost of a wheel"), toldRows(w.items).topped().called("what a wheel is made up of"), toldRows(w.sum), toldRows(w.inputs).topped().called("what it rests on"),
		}}
	}
	if r := b.Printing; r != nil {
		v.Printing = &printingView{upper(r.lead()), toldRows(r.table).headed().called("printed pieces"), toldRows(r.loads)}
	}
	var err error
	if v.Shop, err = p.shop(); err != nil {
		return nil, err
	}
	for i := range p.Scene.Parts {
		name := p.Scene.Parts[i].Name
		v.Parts = append(v.Parts, part{name, mold.Title(name)})
	}
	for _, m := range p.Scene.Marks {
		v.Marks = append(v.Marks, m.Label+", "+m.Text)
	}
	if v.Drawings, err = drawAll(p.Sections, p.Partings); err != nil {
		return nil, err
	}
	if v.Traps, err = drawAll(p.Traps); err != nil {
		return nil, err
	}
	v.Flash, err = p.flash()
	return v, err
}

// places tells from what places count in the plan and upward, and which piece lies where.
func (b *Build) places() string {
	switch {
	case b.Split == params.SplitCup:
		return "the cup's floor"
	case b.Split == params.SplitClam:
		return "the cavity's floor: half A lies toward +y, half B toward -y"
	case b.Segments == 3:
		return "the base's mating face: shell A lies toward +y, shells B and C follow counterclockwise"
	case b.Segments == 4:
		return "the base's mating face: shell A lies between +x and +y, shells B, C and D follow counterclockwise"
	}
	return "the base's mating face: shell A lies toward +y, shell B toward -y"
}

// policy lets the page run its own script and style and nothing else: it loads
// nothing, and what a job is called can never run.
func policy() string {
	hash := func(s string) string {
		sum := sha256.Sum256([]byte(s))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	return fmt.Sprintf("default-src 'none'; script-src %s; style-src %s; img-src data:; base-uri 'none'; form-action 'none'", hash(web.Viewer), hash(web.Style))
}

func contents(b *Build) []entry {
	out := []entry{{"what-happens", "What will happen"}, {"mold-3d", "The mold in 3D"}, {"drawings", "Drawings"}}
	if b.Flash != nil {
		out = append(out, entry{"parting-lines", "Parting lines"})
	}
	out = append(out, entry{"pour", "Pour"}, entry{"bench-sheet", "Bench sheet"})
	if b.Service != nil {
		out = append(out, entry{"use", "In use"})
	}
	if b.Worth != nil {
		out = append(out, entry{"worth", "Worth it?"})
	}
	if b.Printing != nil {
		out = append(out, entry{"printing", "Printing"})
	}
	if b.Machining != nil {
		out = append(out, entry{"shop", "For the shop"})
	}
	return append(out, entry{"pieces", "Pieces and hardware"}, entry{"notes", "Notes"})
}

// drawAll turns drawings into SVG.
func drawAll(sets ...[]drawing.Drawing) (out []drawn, err error) {
	for _, set := range sets {
		for i := range set {
			d, err := draw(&set[i])
			if err != nil {
				return nil, err
			}
			out = append(out, *d)
		}
	}
	return out, nil
}

func draw(d *drawing.Drawing) (*drawn, error) {
	var b strings.Builder
	if err := svg.Write(&b, d); err != nil {
		return nil, err
	}
	return &drawn{d.ID, d.Title, d.Note, template.HTML(b.String())}, nil
}

// charts are those of the pour.
func (p *Page) charts() []chart {
	return []chart{fillChart(&p.Build.Pour), thickChart(&p.Build.Pour)}
}

// tables tell the pour under headings.
func (r *Pour) tables() []named {
	return []named{
		{"What is mixed", parted(func(t teller) { r.balance(t); r.batches(t); r.money(t) })},
		{"Time and flow", parted(func(t teller) { r.assumptions(t); r.times(t); r.flow(t) })},
		{"Air and bubbles", parted(func(t teller) { r.Air.text(t); r.rise(t) })},
		{"Cure, and the wheel", parted(r.cured)},
	}
}

// opening tells how the mold opens, where that was judged.
func (b *Build) opening() []named {
	if b.Release == nil {
		return nil
	}
	out := []named{{"How the mold opens", parted(b.Release.text)}}
	if b.Opening != nil {
		out = append(out, named{"What it takes to open it", parted(b.Opening.text)})
	}
	return out
}

// pieces lists the pieces as they lie on the bed.
func (b *Build) pieces() table {
	t := table{Name: "pieces", Head: []string{"piece", "size mm", "size in", "volume, exact", "mesh agrees", "triangles"}}
	for _, x := range b.Pieces {
		t.Rows = append(t.Rows, []string{mold.Title(x.Name), size(x.Size, 1, 2), size(x.Size, 25.4, 3), cm3(x.Volume, 3), within(x.Mesh/x.Volume - 1), strconv.Itoa(x.Triangles)})
	}
	return t
}

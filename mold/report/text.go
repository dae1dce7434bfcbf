package report

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"wheelmold/mold/report/tabular"
	"wheelmold/params"
)

// WriteJSON prints a report as indented JSON.
func WriteJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// teller is told a report row by row: as text, or as tables of a page.
type teller interface {
	// row tells a row of cells; without any it parts what is before from what follows.
	row(cells ...string)
	// note tells a row whose last cell is a text of any length.
	note(label, value, text string)
}

// page collects text and the first error of writing it.
type page struct {
	*tabwriter.Writer
	err error
}

func newPage(w io.Writer) *page {
	return &page{Writer: tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)}
}

// row prints one row of cells, whatever characters files are named with. Cells align with
// those of the rows next to it.
func (p *page) row(cells ...string) {
	if p.err != nil {
		return
	}
	shown := make([]string, len(cells))
	for i, c := range cells {
		shown[i] = params.Printable(c)
	}
	_, p.err = io.WriteString(p, strings.Join(shown, "\t")+"\n")
}

// noteWidth is how wide a note gets before it goes on below itself.
const noteWidth = 88

// note prints a row whose last cell is a text of any length.
func (p *page) note(label, value, text string) {
	for _, line := range tabular.Fold(text, noteWidth) {
		p.row(label, value, line)
		label, value = "", ""
	}
}

func (p *page) close() error {
	if p.err != nil {
		return p.err
	}
	return p.Flush()
}

// writeLines writes a text that is laid out already, with escapes as page has them.
func writeLines(w io.Writer, text string) error {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = params.Printable(lines[i])
	}
	_, err := io.WriteString(w, strings.Join(lines, "\n"))
	return err
}

// WriteText prints the check for the bench.
func (c *Check) WriteText(w io.Writer) error {
	p := newPage(w)
	c.head(p)
	p.row("piece", "size mm", "size in", "volume")
	for _, x := range c.Pieces {
		p.row(x.Name, size(x.Size, 1, 2), size(x.Size, 25.4, 3), cm3(x.Volume, 3))
	}
	p.row()
	p.row("Sizes as the pieces lie on the bed; volumes by line integrals over the exact boundary.")
	p.row()
	c.masses(p)
	p.row()
	if c.Printing != nil {
		c.Printing.text(p)
		p.row()
	}
	if c.Machining != nil {
		c.Machining.brief(p, c.Effort)
		p.row()
	}
	c.Pour.text(p)
	if c.Flash != nil {
		p.row()
		c.Flash.text(p)
	}
	if c.Release != nil {
		p.row()
		c.Release.text(p)
	}
	if c.Opening != nil {
		p.row()
		c.Opening.text(p)
	}
	if c.Service != nil {
		p.row()
		c.Service.text(p)
	}
	if c.Worth != nil {
		p.row()
		c.Worth.brief(p)
	}
	return p.close()
}

// head prints what is asked for.
func (c *Check) head(p teller) {
	p.row(c.Job)
	p.row()
	d, b := c.Wheel.Diameter, c.Wheel.Width
	p.row("wheel", size2(d, b, 1, 3)+" mm", size2(d, b, 25.4, 4)+" in", "diameter x width, "+c.Wheel.FaceUp+" face up in the mold")
	p.row("mold", size(c.Outline.Size, 1, 3)+" mm", size(c.Outline.Size, 25.4, 4)+" in", c.Outline.Shape+", "+c.Process+c.splitWords())
	p.row()
	c.needs(p)
	p.row()
	if c.Calibrated != "" {
		p.note("calibrated", "", c.Calibrated)
		p.row()
	}
}

// splitWords tells how the mold is split, unless it is base, two shells and lid.
func (c *Check) splitWords() string {
	words := ""
	if c.Split != params.SplitFour {
		words = ", " + c.Split
	}
	if c.Segments > 2 {
		words += fmt.Sprintf(", %d %s", c.Segments, c.around)
	}
	return words
}

// needs prints what to buy, and what work the mold asks for.
func (c *Check) needs(p teller) {
	p.row("cavity", number(c.Wheel.Cavity, 3)+" mm across, with the allowance for shrinkage (mold.shrinkage)")
	p.row("to buy", c.Hardware.text(c.around))
	if t := c.Hardware.torques(c.around); t != "" {
		p.row("torque", t)
	}
	if c.Mating.Stock > 0 {
		p.row("to lap", c.Mating.text(c.around))
	}
	if c.Coats.Count > 0 {
		p.row("to coat", c.Coats.text())
	}
	p.row("to cut", c.Scars.text())
}

// text lists the hardware in words; around is what the pieces around the axis are called.
func (h *Hardware) text(around string) string {
	var parts []string
	add := func(n int, size, what string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s %s", n, size, what))
		}
	}
	long := func(mm float64) string { return fmt.Sprintf(" of %s mm or more with nuts", number(math.Ceil(mm), 0)) }
	for i, b := range h.Lengths {
		where := " along the axis"
		if len(h.Lengths) > 1 { // under an open top
			where = map[bool]string{true: " through the strap's corners", false: " through the " + around + " alone"}[i == 0]
		}
		add(b.Count, h.BoltSize, "bolts"+where+long(b.Length))
	}
	deep := ""
	if h.well > deepWell {
		deep = fmt.Sprintf(" (heads %s mm deep: long hex key)", number(h.well, 0))
	}
	add(h.Side, h.SideSize, "bolts across the "+around+long(h.SideMM)+deep)
	if h.SideClamp == "strap" {
		parts = append(parts, "1 band around the "+around)
	}
	for _, k := range h.JackLengths {
		add(k.Count, h.JackSize, fmt.Sprintf("jack screws of %s mm or more, threaded up to the head", number(math.Ceil(k.Length), 0)))
	}
	for _, b := range h.Balls {
		add(b.Count, "balls of", number(b.Diameter, 4)+" mm")
	}
	if h.SealMM > 0 {
		parts = append(parts, fmt.Sprintf("%s for a gap of %s mm at the hub's end", h.Seal, number(h.SealMM, 3)))
	}
	return strings.Join(parts, ", ")
}

// handTight is the tension in N of a band that is tightened by hand, as by the screw of a
// hose clamp. Assumed, as the default of mold.side_clamp.strap_force is.
const handTight = 300

// torques tells how tight what clamps is to be.
func (h *Hardware) torques(around string) string {
	var parts []string
	if h.Bolts > 0 {
		parts = append(parts, number(h.BoltNM, 2)+" N·m along the axis")
	}
	if h.Side > 0 {
		parts = append(parts, number(h.SideNM, 2)+" N·m across the "+around)
	}
	if len(parts) > 0 {
		parts = append(parts, "dry screws (K 0.2)")
	}
	if h.StrapN > 0 {
		parts = append(parts, fmt.Sprintf("band pulled with %s N by a spring scale or a clamp of known pull; hand-tight is about %d N (assumed)", number(h.StrapN, 0), handTight))
	}
	return strings.Join(parts, ", ")
}

// text tells how many stubs show.
func (s *Scars) text() string {
	n, cover := s.Hidden+s.Visible, number(s.Cover, 2)
	what, all := fmt.Sprintf("%d stubs of gates and vents, ", n), "all "
	if n == 1 {
		what, all = "1 stub of a gate, ", ""
	}
	switch {
	case n == 0 && s.Trim > 0:
		return fmt.Sprintf("%s mm off the top face, all around; no gate or vent", number(s.Trim, 2))
	case n == 0:
		return "no gate or vent"
	case s.Cover == 0:
		return what + all + "visible: no hub.cover_diameter stated"
	case s.Visible == 0:
		return what + all + "under the cover of " + cover + " mm"
	case n == 1:
		return what + "visible beside the cover of " + cover + " mm"
	}
	return fmt.Sprintf("%s%d of them visible beside the cover of %s mm", what, s.Visible, cover)
}

// masses prints the rubber's volume by each method.
func (c *Check) masses(p teller) {
	v := &c.Rubber
	agrees := func(x float64) string { return "agrees " + within(x/v.ClosedForm-1) }
	p.row("rubber", cm3(v.ClosedForm, 4), "closed form (Pappus-Guldin)")
	p.row("", cm3(v.Boundary, 4), "line integrals over the exact boundary, "+agrees(v.Boundary))
	if v.Mesh > 0 {
		p.row("", cm3(v.Mesh, 4), fmt.Sprintf("mesh, %s; its tolerance allows %s", agrees(v.Mesh), power(v.MeshBias/v.ClosedForm)))
	}
}

// WriteText prints the build for the bench.
func (b *Build) WriteText(w io.Writer) error {
	p := newPage(w)
	b.head(p)
	p.row("piece", "size mm", "size in", "volume exact", "mesh", "agree", "triangles")
	triangles := 0
	for _, x := range b.Pieces {
		p.row(x.Name, size(x.Size, 1, 2), size(x.Size, 25.4, 3), cm3(x.Volume, 3), cm3(x.Mesh, 3), within(x.Mesh/x.Volume-1), strconv.Itoa(x.Triangles))
		triangles += x.Triangles
	}
	p.row("all", "", "", "", "", "", strconv.Itoa(triangles))
	p.row()
	p.row(fmt.Sprintf("Every mesh is closed and free of crossings%s; tolerance %s mm.", b.readBack(), number(b.Tolerance, 6)))
	p.row(b.Closure.text())
	p.row()
	b.masses(p)
	p.row()
	if b.Printing != nil {
		b.Printing.text(p)
		p.row()
	}
	if b.Machining != nil {
		b.Machining.brief(p, b.Effort)
		p.row()
	}
	b.Pour.text(p)
	p.row()
	if b.Flash != nil {
		b.Flash.text(p)
		p.row()
	}
	if b.Release != nil {
		b.Release.text(p)
		p.row()
	}
	for _, f := range b.Files {
		p.row("wrote", b.Folder+"/"+f.Name, bytes(f.Bytes))
	}
	return p.close()
}

// readBack tells which files were read back before the folder appeared.
func (b *Build) readBack() string {
	if slices.ContainsFunc(b.Files, func(f File) bool { return strings.HasSuffix(f.Name, ".stl") }) {
		return ", and the STL files hold it to the bit"
	}
	return ""
}

func (c *Closure) text() string {
	coats := ""
	if c.Coats > 0 {
		coats = fmt.Sprintf(", coats (%s)", cm3(c.Coats, 3))
	}
	s := fmt.Sprintf("Pieces, hub, rubber, channels%s and clearances add up to the block of %s: by exact volumes %s", coats, cm3(c.Block, 3), within(c.Exact))
	if c.Meshes != nil {
		s += ", by meshes " + within(*c.Meshes)
	}
	return s + " of it."
}

// count prints how many there are of something.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// number prints v with up to so many decimals.
func number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func size(mm [3]float64, unit float64, decimals int) string {
	return size2(mm[0], mm[1], unit, decimals) + " x " + number(mm[2]/unit, decimals)
}

func size2(a, b, unit float64, decimals int) string {
	return number(a/unit, decimals) + " x " + number(b/unit, decimals)
}

func cm3(mm3 float64, decimals int) string {
	return strconv.FormatFloat(mm3/1000, 'f', decimals, 64) + " cm³"
}

// grams prints a mass to what a shop scale shows: finer for small casts.
func grams(g float64) string {
	decimals := 1
	if math.Abs(g) < 100 {
		decimals = 2
	}
	return strconv.FormatFloat(g, 'f', decimals, 64) + " g"
}

// rounding is below what volumes are trusted to, relative: a thousand times the
// rounding of a float64, of which a volume sums thousands. Printing less would
// tell one processor from another and nothing of the mold.
const rounding = 1e-12

// within tells how closely two numbers agree, given their relative difference.
func within(v float64) string {
	if math.Abs(v) < rounding {
		return "within 1e-12"
	}
	return "within " + power(math.Abs(v))
}

func power(v float64) string { return strconv.FormatFloat(v, 'e', 1, 64) }

func bytes(n int64) string {
	if n < 1e6 {
		return fmt.Sprintf("%.1f kB", float64(n)/1e3)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}

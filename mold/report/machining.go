package report

import (
	"fmt"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/machining"
	"wheelmold/params"
)

// Machining is what a shop finds when it looks at the pieces that are milled or turned.
// Its findings are advice: a shop may have tools and ways that the job does not name.
type Machining struct {
	Mill    string     `json:"mill"` // "plain" or "indexing"
	Pieces  []Machined `json:"pieces"`
	Simpler *Advice    `json:"fewer_set_ups"` // an outline that takes fewer; null: none was found
	Assumed []string   `json:"assumed"`
}

// Machined is one milled or turned piece.
type Machined struct {
	Name    string        `json:"name"`
	By      string        `json:"by"` // "milled" or "turned"
	Surface float64       `json:"surface_mm2"`
	SetUps  []Clamping    `json:"set_ups"`
	Plain   int           `json:"set_ups_on_plain_mill"`
	Indexed int           `json:"set_ups_on_indexing_mill"`
	Hidden  []HiddenFace  `json:"hidden"`
	Least   *InnerRadius  `json:"least_inner_radius"` // null where there is none
	Tight   []InnerRadius `json:"tight"`              // radii that no cutter makes
	Deep    []DeepPlace   `json:"deep"`
	Thin    []ThinWall    `json:"thin"`
	Corners []InnerCorner `json:"inner_corners"`
}

// Clamping is one set-up, and the directions from which the piece is cut in it.
type Clamping struct {
	Name string      `json:"name"`
	From []FromWhere `json:"from"`
}

// FromWhere is a direction toward the tool.
type FromWhere struct {
	Name string     `json:"name"`
	Dir  [3]float64 `json:"direction"`
}

// Advice is what may be changed so that a finding goes away.
type Advice struct {
	Key     string `json:"key"` // "" where no single value does it
	Value   string `json:"value"`
	Allowed string `json:"would_do"`
	Hint    string `json:"hint"`
}

// HiddenFace is what no tool reaches of faces of the same roles and change.
type HiddenFace struct {
	Roles   []string   `json:"roles"`
	Faces   int        `json:"faces"`
	Shapes  []string   `json:"shapes"`
	Area    float64    `json:"area_mm2"`
	Error   float64    `json:"area_error_mm2"` // standard error
	Of      float64    `json:"of_mm2"`
	At      [3]float64 `json:"at_mm"`
	Reaches []string   `json:"reached_from"` // empty: an undercut
	Change  *Advice    `json:"change"`       // null: nothing to change
}

// InnerRadius is a concave radius and the cutter that makes it.
type InnerRadius struct {
	Roles  []string   `json:"roles"`
	Faces  int        `json:"faces"`
	Shape  string     `json:"shape"`
	Radius float64    `json:"radius_mm"`
	Along  bool       `json:"along_the_tool"`
	Depth  float64    `json:"depth_mm"` // beside a wall
	At     [3]float64 `json:"at_mm"`
	Cutter float64    `json:"cutter_mm"` // 0: none makes it
	Left   float64    `json:"left_mm"`   // by the smallest that gets there
	Change *Advice    `json:"change"`
}

// DeepPlace is a hole, wall or slot deeper than the tools reach.
type DeepPlace struct {
	Sort     string     `json:"sort"`
	Name     string     `json:"name"`
	Roles    []string   `json:"roles"`
	Count    int        `json:"count"`
	Depth    float64    `json:"depth_mm"`
	Diameter float64    `json:"diameter_mm"`
	Reach    float64    `json:"reach_mm"`
	At       [3]float64 `json:"at_mm"`
	Change   *Advice    `json:"change"`
}

// ThinWall is a wall that may give way to the tool.
type ThinWall struct {
	Roles     []string   `json:"roles"`
	Thickness float64    `json:"thickness_mm"`
	Height    float64    `json:"height_mm"` // 0: it does not stand free
	Angle     float64    `json:"angle_deg"` // of an edge like a blade, which has no thickness
	Length    float64    `json:"length_mm"` // of such edges; 0: a wall
	At        [3]float64 `json:"at_mm"`
	Change    *Advice    `json:"change"`
}

// InnerCorner is sharp inner edges of one sort.
type InnerCorner struct {
	Sort   string     `json:"sort"`
	Roles  []string   `json:"roles"`
	Around bool       `json:"around_the_axis"`
	Count  int        `json:"edges"`
	Length float64    `json:"length_mm"`
	Radius float64    `json:"left_radius_mm"` // that the tool leaves; 0: none
	At     [3]float64 `json:"at_mm"`
	Change *Advice    `json:"change"`
}

// SetMachining reports how the pieces are cut; a plan without pieces is left out.
func (c *Check) SetMachining(m *mold.Mold, p *machining.Plan) {
	if p == nil || len(p.Pieces) == 0 {
		return
	}
	r := &Machining{Mill: m.Job.Machining.Mill, Assumed: append([]string{}, p.Assumed...)}
	for i := range p.Pieces {
		r.Pieces = append(r.Pieces, machinedOf(&p.Pieces[i]))
	}
	if p.Simpler != nil {
		r.Simpler = adviceOf(p.Simpler)
	}
	c.Machining = r
}

func machinedOf(p *machining.Piece) Machined {
	out := Machined{
		Name: p.Name, By: string(p.By), Surface: p.Surface, Plain: p.Plain, Indexed: p.Indexed,
		SetUps: []Clamping{}, Hidden: []HiddenFace{}, Tight: []InnerRadius{}, Deep: []DeepPlace{}, Thin: []ThinWall{}, Corners: []InnerCorner{},
	}
	for _, s := range p.SetUps {
		var from []FromWhere
		for _, d := range s.From {
			from = append(from, FromWhere{d.Name, d.Dir})
		}
		out.SetUps = append(out.SetUps, Clamping{s.Name, from})
	}
	for _, h := range p.Hidden {
		out.Hidden = append(out.Hidden, HiddenFace{h.Roles, h.Count, h.Shapes, h.Area, h.Error, h.Of, h.At, namesOf(h.Reaches), adviceOf(&h.Change)})
	}
	if p.Concave != nil {
		least := radiusOf(p.Concave)
		out.Least = &least
	}
	for i := range p.Tight {
		out.Tight = append(out.Tight, radiusOf(&p.Tight[i]))
	}
	for _, d := range p.Deep {
		out.Deep = append(out.Deep, DeepPlace{string(d.Sort), d.Name, d.Roles, d.Count, d.Depth, d.Diameter, d.Reach, d.At, adviceOf(&d.Change)})
	}
	for _, t := range p.Thin {
		out.Thin = append(out.Thin, ThinWall{t.Roles, t.Thickness, t.Height, t.Angle, t.Length, t.At, adviceOf(&t.Change)})
	}
	for _, x := range p.Corners {
		out.Corners = append(out.Corners, InnerCorner{string(x.Sort), x.Roles, x.Around, x.Count, x.Length, x.Radius, x.At, adviceOf(&x.Change)})
	}
	return out
}

func namesOf(list []machining.Direction) []string {
	out := []string{}
	for _, d := range list {
		out = append(out, d.Name)
	}
	return out
}

func adviceOf(c *machining.Change) *Advice {
	if c.Key == "" && c.Hint == "" {
		return nil
	}
	return &Advice{c.Key, c.Value, c.Allowed, c.Hint}
}

func radiusOf(c *machining.Concave) InnerRadius {
	out := InnerRadius{Roles: c.Roles, Faces: c.Count, Shape: c.Shape, Radius: c.Radius, Along: c.Along, Depth: c.Depth, At: c.At, Left: c.Left, Change: adviceOf(&c.Change)}
	if c.Cutter != nil {
		out.Cutter = c.Cutter.Diameter
	}
	return out
}

// text tells how the pieces are cut.
func (r *Machining) text(p teller) {
	p.row(r.lead())
	p.row()
	r.table(p)
	p.row()
	r.findings(p)
}

// brief tells how the pieces are cut and what that takes, in a table and two lines: the
// command shop tells all.
func (r *Machining) brief(p teller, e *Effort) {
	p.row("cutting, on " + r.mill() + "; found and estimated as the command shop tells in full.")
	p.row()
	r.table(p)
	p.row()
	o := r.outcome()
	p.note("verdict", "", o.Says)
	if e != nil {
		e.total(p)
	}
}

func (r *Machining) mill() string {
	return map[string]string{params.MillPlain: "a plain mill", params.MillIndexing: "an indexing mill"}[r.Mill]
}

// lead says by whom the pieces are made.
func (r *Machining) lead() string {
	return "cutting, on " + r.mill() + " (machining.mill): what a shop finds when it looks at the pieces; advice, for it may have other tools and ways."
}

// table prints the pieces by themselves.
func (r *Machining) table(p teller) {
	p.row("piece", "made", "set-ups", "on a plain mill", "hidden", "least inner radius", "to relieve", "deep", "thin")
	p.row("", "", "", "", "mm²", "mm", "edges", "places", "walls")
	for i := range r.Pieces {
		x := &r.Pieces[i]
		plain, least := "", "none"
		if x.By == string(machining.Milled) {
			plain = fmt.Sprint(x.Plain)
		}
		if x.Least != nil {
			least = number(x.Least.Radius, 2)
		}
		p.row(mold.Title(x.Name), x.By, fmt.Sprint(len(x.SetUps)), plain, number(x.hidden(), 1), least, fmt.Sprint(x.upright()), fmt.Sprint(len(x.Deep)), fmt.Sprint(len(x.Thin)))
	}
}

// hidden is the area that no tool reaches, mm².
func (x *Machined) hidden() (area float64) {
	for _, h := range x.Hidden {
		area += h.Area
	}
	return area
}

// upright counts the inner edges that no tool makes.
func (x *Machined) upright() (n int) {
	for _, c := range x.Corners {
		if c.Sort == string(machining.Upright) {
			n += c.Count
		}
	}
	return n
}

// findings tells set-ups and everything that a shop would ask about, piece by piece.
func (r *Machining) findings(p teller) {
	for i := range r.Pieces {
		x := &r.Pieces[i]
		label := mold.Title(x.Name)
		tell := func(what, text string) {
			p.note(label, what, text)
			label = ""
		}
		tell("set-ups", x.setUps())
		for _, h := range x.Hidden {
			tell("hidden", h.text())
		}
		for i := range x.Tight {
			tell("tight", x.Tight[i].text())
		}
		for _, d := range x.Deep {
			tell("deep", d.text())
		}
		for _, t := range x.Thin {
			tell("thin", t.text())
		}
		for _, c := range x.Corners {
			if c.asks() {
				tell("corner", c.text())
			}
		}
	}
	if r.Simpler != nil {
		p.note("fewer", "set-ups", strings.TrimPrefix(r.Simpler.text(), "; "))
	}
	p.note("rests on", "", strings.Join(r.Assumed, "; "))
}

// setUps tells from where each clamping is cut.
func (x *Machined) setUps() string {
	var parts []string
	for i, s := range x.SetUps {
		parts = append(parts, fmt.Sprintf("%d: %s", i+1, s.Name))
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, "; ")
}

func (h *HiddenFace) text() string {
	reach := "nothing that was tried reaches it: an undercut"
	if len(h.Reaches) > 0 {
		reach = "reached from " + strings.Join(h.Reaches, " and ")
	}
	area := number(h.Area, 1) + " mm²"
	if h.Area < h.Of*(1-1e-9) || h.Error > 0 {
		area = fmt.Sprintf("%s ± %s of %s mm²", number(h.Area, 1), number(h.Error, 1), number(h.Of, 1))
	}
	where := count(h.Faces, "face", "faces")
	if h.Faces == 1 {
		where = "a " + h.Shapes[0]
	}
	return fmt.Sprintf("%s of the %s (%s, at %s): %s%s", area, rolesText(h.Roles), where, placeText(h.At), reach, h.Change.text())
}

func (c *InnerRadius) text() string {
	how := "across the tool"
	if c.Along {
		how = fmt.Sprintf("along the tool, %s mm deep", number(c.Depth, 1))
	}
	left := "none of the cutters makes it"
	if c.Left > 0 {
		left = fmt.Sprintf("the smallest cutter that gets there leaves %s mm standing", number(c.Left, 2))
	}
	on := "on the " + rolesText(c.Roles)
	if c.Faces > 1 {
		on = fmt.Sprintf("on %d faces of the %s", c.Faces, rolesText(c.Roles))
	}
	return fmt.Sprintf("inner radius of %s mm %s, %s, at %s: %s%s", number(c.Radius, 2), on, how, placeText(c.At), left, c.Change.text())
}

func (d *DeepPlace) text() string {
	name := d.Name
	if name == "" {
		name = d.Sort + " of the " + rolesText(d.Roles)
	}
	if d.Count > 1 {
		name = fmt.Sprintf("%s and %s", name, count(d.Count-1, "other like it", "others like it"))
	}
	wide := ""
	if d.Diameter > 0 {
		wide = fmt.Sprintf(", %s mm wide, %s times as deep", number(d.Diameter, 2), number(d.Depth/d.Diameter, 1))
	}
	tool := "a twist drill goes " + number(d.Reach, 1) + " mm"
	switch {
	case d.Sort == string(machining.Counterbore):
		name += ", counterbore"
		tool = "its floor is flat, the tool that fits reaches " + number(d.Reach, 1) + " mm"
	case d.Sort != string(machining.Hole) && d.Reach > 0:
		tool = "the cutter that fits reaches " + number(d.Reach, 1) + " mm"
	case d.Sort != string(machining.Hole):
		tool = "none of the tools fits"
	}
	return fmt.Sprintf("%s: %s mm deep%s; %s%s", name, number(d.Depth, 1), wide, tool, d.Change.text())
}

func (t *ThinWall) text() string {
	stands := ""
	if t.Height > 0 {
		stands = fmt.Sprintf(", %s mm high", number(t.Height, 1))
	}
	between := rolesText(t.Roles)
	if len(t.Roles) == 1 { // both sides are alike
		between = "faces of the " + between
	}
	if t.Length > 0 {
		return fmt.Sprintf("an edge like a blade, %s° between %s, %s mm long in all, at %s%s", number(t.Angle, 0), between, number(t.Length, 1), placeText(t.At), t.Change.text())
	}
	return fmt.Sprintf("a wall of %s mm between %s%s, at %s%s", number(t.Thickness, 2), between, stands, placeText(t.At), t.Change.text())
}

// asks reports whether anything is to be done about a corner: a flat end, a drill or a
// lathe makes the others as they are drawn.
func (c *InnerCorner) asks() bool {
	return c.Sort == string(machining.Upright) || c.Sort == string(machining.Sloped)
}

func (c *InnerCorner) text() string {
	left := "none of the cutters gets there"
	if c.Radius > 0 {
		left = fmt.Sprintf("a cutter leaves a radius of %s mm", number(c.Radius, 2))
	}
	between := "between " + rolesText(c.Roles)
	if len(c.Roles) == 1 {
		between = "in the " + c.Roles[0]
	}
	return fmt.Sprintf("%s %s, %s, %s mm in all, at %s: %s%s", count(c.Count, "sharp inner edge", "sharp inner edges"), between,
		c.Sort, number(c.Length, 1), placeText(c.At), left, c.Change.text())
}

// text tells what to change, as the end of a sentence.
func (a *Advice) text() string {
	if a == nil {
		return ""
	}
	s := ""
	if a.Key != "" {
		s = "; " + a.Key
		if a.Value != "" {
			s += " = " + a.Value
		}
		if a.Allowed != "" {
			s += ": " + a.Allowed + " would do"
		}
	}
	if a.Hint != "" {
		s += "; " + a.Hint
	}
	return s
}

func rolesText(roles []string) string {
	if len(roles) == 0 {
		return "piece"
	}
	return strings.Join(roles, " and ")
}

func placeText(at mesh.Vec) string {
	return fmt.Sprintf("(%s, %s, %s) mm", number(at[0], 1), number(at[1], 1), number(at[2], 1))
}

// count of what a shop would ask about.
func (x *Machined) asked() int {
	n := len(x.Hidden) + len(x.Tight) + len(x.Deep) + len(x.Thin)
	for i := range x.Corners {
		if x.Corners[i].asks() {
			n++
		}
	}
	return n
}

// outcome is the summary's card.
func (r *Machining) outcome() outcome {
	o := outcome{Name: "Cutting", State: fine}
	setUps, asked, hidden := 0, 0, 0.0
	for i := range r.Pieces {
		x := &r.Pieces[i]
		setUps, asked, hidden = setUps+len(x.SetUps), asked+x.asked(), hidden+x.hidden()
	}
	o.Says = count(len(r.Pieces), "piece", "pieces") + " in " + count(setUps, "set-up", "set-ups") + "; the tool reaches every face"
	if hidden > 0 {
		o.State, o.Says = mind, number(hidden, 0)+" mm² that no tool reaches from the declared faces: see Cutting"
	} else if asked > 0 {
		o.Says += "; " + count(asked, "thing", "things") + " for the shop to look at"
	}
	return o
}

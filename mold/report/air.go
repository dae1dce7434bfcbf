package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mold/pour"
	"wheelmold/mold/pour/rise"
)

// Air is where air stays in the cavity.
type Air struct {
	Cell    float64   `json:"cell_mm"` // of the columns that the cavity was cut into
	Angle   float64   `json:"tilt_deg"`
	Toward  float64   `json:"tilt_toward_deg"`
	Unmet   []string  `json:"channels_that_open_nowhere"`
	NoVents bool      `json:"no_vents"`           // air leaves by the sprues alone
	OpenTop bool      `json:"open_top,omitempty"` // nothing roofs the rubber
	Traps   []Trap    `json:"traps"`
	Volume  float64   `json:"trapped_mm3"`
	Doubt   float64   `json:"trapped_doubt_mm3"`    // change with columns twice as wide
	Tilt    *Tilt     `json:"least_tilt,omitempty"` // that frees all, or leaves least
	Spills  bool      `json:"least_tilt_spills"`    // the sprue runs over before the mold is full
	Tries   []Try     `json:"tried"`
	Vents   []Closing `json:"vents"`
	Roof    Roof      `json:"roof"`
	Inner   float64   `json:"inner_level_mm2"` // of roofs within the cavity
	InnerTo float64   `json:"inner_level_farthest_mm"`
}

// Trap is one pocket of air that stays.
type Trap struct {
	Volume float64    `json:"volume_mm3"`
	Top    [3]float64 `json:"top_mm"`
	Tops   int        `json:"tops"`
	Depth  float64    `json:"depth_mm"`
	Cause  string     `json:"cause"`
	Gates  []string   `json:"sprues"` // by which it can leave against the stream
	Vents  []Bore     `json:"vents_that_help"`
	Left   float64    `json:"left_with_them_mm3"`
}

// Bore is a place for a new vent.
type Bore struct {
	At       [3]float64 `json:"at_mm"`
	Diameter float64    `json:"diameter_mm"`
}

// Tilt is a mold that leans: the side at the azimuth is raised.
type Tilt struct {
	Angle  float64 `json:"angle_deg"`
	Toward float64 `json:"toward_deg"`
	Left   float64 `json:"left_mm3"`
}

// Try is another mold, and the air that it traps.
type Try struct {
	What   string   `json:"what"`
	Sets   []string `json:"sets"`
	Volume float64  `json:"trapped_mm3"`
	Error  string   `json:"error,omitempty"`
}

// Closing is when a vent gets wet.
type Closing struct {
	Name  string  `json:"name"`
	Level float64 `json:"closes_at_mm"`
	Air   float64 `json:"air_left_mm3"`
}

// Roof is the cavity's level upper face.
type Roof struct {
	Face     string     `json:"face"` // of the wheel
	Area     float64    `json:"area_mm2"`
	Slope    float64    `json:"slope_deg"`
	Level    bool       `json:"level"`
	Bands    [4]float64 `json:"by_distance_to_vent_mm2"` // to 10, 20, 40 mm, and beyond
	Farthest float64    `json:"farthest_mm"`
	Where    [3]float64 `json:"farthest_at_mm"`
	Covered  float64    `json:"covered_mm2"`
	Tilt     *Tilt      `json:"tilt,omitempty"`
	Vent     string     `json:"tilt_toward_vent,omitempty"`
	Coned    *Try       `json:"coned,omitempty"`
	Layer    float64    `json:"allowance_of_2_mm_g"`
}

func airOf(a *pour.Air) Air {
	r := Air{
		Cell: a.Cell, Angle: a.Tilt.Angle, Toward: a.Tilt.Toward, Unmet: append([]string{}, a.Unmet...), NoVents: a.NoVents, OpenTop: a.OpenTop, Traps: []Trap{}, Volume: a.Volume, Doubt: a.Doubt, Tries: []Try{}, Vents: []Closing{},
		Roof: roofOf(&a.Roof), Inner: a.Inner, InnerTo: a.InnerTo,
	}
	for i := range a.Traps {
		t := &a.Traps[i]
		x := Trap{t.Volume, t.Top, len(t.Tops), t.Depth, t.Cause, append([]string{}, t.Gates...), []Bore{}, t.Drill.Left}
		for _, v := range t.Drill.Vents {
			x.Vents = append(x.Vents, Bore{v.At, 2 * v.R})
		}
		r.Traps = append(r.Traps, x)
	}
	if len(a.Traps) > 0 && !a.OpenTop {
		r.Tilt, r.Spills = tiltOf(a.Lean.Tilt, a.Lean.Left), a.Spills
	}
	for _, t := range a.Tries {
		r.Tries = append(r.Tries, Try(t))
	}
	for _, v := range a.Vents {
		r.Vents = append(r.Vents, Closing{v.Name, v.Shut, v.AirLeft})
	}
	return r
}

func tiltOf(t rise.Tilt, left float64) *Tilt { return &Tilt{t.Angle, t.Toward, left} }

func roofOf(r *pour.Roof) Roof {
	out := Roof{Face: r.Face, Area: r.Area, Slope: r.Slope, Level: r.Level, Bands: r.Bands, Farthest: r.Farthest, Where: r.Where, Covered: r.Covered, Vent: r.Vent, Layer: r.Layer}
	if r.Vent != "" {
		out.Tilt = tiltOf(r.Lean, r.Tilted)
	}
	if r.Coned != nil {
		t := Try(*r.Coned)
		out.Coned = &t
	}
	return out
}

// text tells where air stays and what to do about it.
func (a *Air) text(p teller) {
	switch {
	case a.OpenTop && len(a.Traps) == 0:
		p.note("air", "no trap", fmt.Sprintf("all of it leaves over the open top as the urethane rises (columns of %s mm)", number(a.Cell, 2)))
	case a.NoVents:
		p.note("air", "no vent", "all air leaves through the sprue, against the stream: it spits and traps bubbles (mold.vents.count)")
	case len(a.Traps) == 0:
		p.note("air", "no trap", fmt.Sprintf("all of it finds a vent as the urethane rises, %s (columns of %s mm)", a.stance(), number(a.Cell, 2)))
	default:
		p.note("air", pocket(a.Volume), fmt.Sprintf("stays in %s, %s, ± %s (columns of %s mm)", count(len(a.Traps), "trap", "traps"), a.stance(), pocket(a.Doubt), number(a.Cell, 2)))
		for i := range a.Traps {
			a.Traps[i].text(p)
			if i == 3 && len(a.Traps) > 5 {
				p.note("", "", fmt.Sprintf("and %d smaller ones, see --json", len(a.Traps)-4))
				break
			}
		}
		p.note("", "do", a.cure())
	}
	a.closing(p)
	if a.OpenTop {
		p.note("top face", "free", "open top: bubbles leave over the whole surface; what pits stay are trimmed off with the allowance (mold.top_allowance)")
	} else {
		a.Roof.text(p)
	}
	if a.Inner > 0 {
		p.note("", cm2(a.Inner), fmt.Sprintf("of level roofs inside, in grooves and under flanges or ribs: bubbles move up to %s mm sideways there, then rise on", number(a.InnerTo, 1)))
	}
}

// closing tells which vent the urethane reaches first and last, where they differ.
func (a *Air) closing(p teller) {
	if len(a.Vents) == 0 {
		return
	}
	byAir := func(x, y Closing) int { return cmp.Compare(x.Air, y.Air) }
	first, last := slices.MaxFunc(a.Vents, byAir), slices.MinFunc(a.Vents, byAir)
	if first.Air-last.Air > 1 {
		p.note("", pocket(first.Air), fmt.Sprintf("are still to fill when %s closes, %s when %s does, the last: that air leaves by the others", first.Name, pocket(last.Air), last.Name))
	}
}

// stance tells how the mold stands.
func (a *Air) stance() string { return stance(a.Angle, a.Toward) }

func stance(angle, toward float64) string {
	if angle == 0 {
		return "the mold level"
	}
	return fmt.Sprintf("the mold tilted %s degrees, its side at %s degrees from +x up", number(angle, 1), number(toward, 0))
}

func (t *Trap) text(p teller) {
	text := fmt.Sprintf("%s, top at %s", t.Cause, place(t.Top))
	switch n := len(t.Vents); {
	case n == 0:
		text += "; no bore from above reaches it"
	case t.Left == 0:
		text += fmt.Sprintf("; %s frees it, tried: drill at %s", bores(n), places(t.Vents))
	default:
		text += fmt.Sprintf("; %s at %s leaves %s", bores(n), places(t.Vents), pocket(t.Left))
	}
	if len(t.Gates) > 0 {
		text += "; or it bubbles out of " + strings.Join(t.Gates, ", ")
	}
	p.note("", pocket(t.Volume), text)
}

func bores(n int) string {
	if n == 1 {
		return "a vent"
	}
	return fmt.Sprintf("%d vents", n)
}

func place(v mesh.Vec) string {
	return fmt.Sprintf("x %s, y %s, z %s mm", number(v[0], 1), number(v[1], 1), number(v[2], 1))
}

func places(b []Bore) string {
	var parts []string
	for i, x := range b {
		if i == 3 {
			parts = append(parts, "…")
			break
		}
		parts = append(parts, fmt.Sprintf("x %s, y %s", number(x.At[0], 1), number(x.At[1], 1)))
	}
	return strings.Join(parts, "; ")
}

// cure tells what frees all traps at once.
func (a *Air) cure() string {
	if a.OpenTop {
		return "stir it out with a rod before the rubber thickens: under an undercut neither a vent nor a tilt frees it"
	}
	var parts []string
	switch t := a.Tilt; {
	case t == nil:
	case t.Angle == 0:
		parts = append(parts, "stand the mold level: frees all, tried, but its top face pits then")
	default:
		how := fmt.Sprintf("tilt the mold %s degrees, the side at %s degrees from +x up: ", number(t.Angle, 1), number(t.Toward, 1))
		if a.Spills {
			how += "the sprue runs over first, unless pour.funnel is higher; "
		}
		if t.Left == 0 {
			parts = append(parts, how+"frees all, the least that does, tried")
		} else {
			parts = append(parts, how+fmt.Sprintf("leaves %s, the least of what was tried up to 20 degrees", pocket(t.Left)))
		}
	}
	for _, t := range a.Tries {
		if t.Error == "" && t.Volume < a.Volume {
			parts = append(parts, fmt.Sprintf("%s: leaves %s, tried (--set %s)", t.What, pocket(t.Volume), strings.Join(t.Sets, " --set ")))
		}
	}
	return strings.Join(parts, "; or ")
}

// text tells of the pits that a level roof collects.
func (r *Roof) text(p teller) {
	if r.Area == 0 {
		p.note("top face", "slopes", "no part of it is level: bubbles move on along it")
		return
	}
	far := r.Bands[2] + r.Bands[3]
	if !r.Level {
		p.note("top face", cm2(r.Area), fmt.Sprintf("rises by %s degrees to the vents: bubbles find them; %s of it is farther than 20 mm from one", number(r.Slope, 1), percent(far/r.Area)))
		return
	}
	text := fmt.Sprintf("is level: bubbles that reach it stay as pits in the wheel's %s, the other face comes clean (mold.face_up)", r.Face)
	if r.Bands[0]+r.Bands[1]+far > 0 { // 0: no vent
		text += fmt.Sprintf("; %s of it lies within 10 mm of a vent, %s farther than 20 mm, the farthest %s mm, at x %s, y %s",
			percent(r.Bands[0]/r.Area), percent(far/r.Area), number(r.Farthest, 0), number(r.Where[0], 0), number(r.Where[1], 0))
	}
	if r.Covered > 0 {
		text += fmt.Sprintf("; the cover hides %s of it", percent(r.Covered/r.Area))
	}
	p.note("top face", cm2(r.Area), text)
	p.note("", "do", strings.Join(r.cures(), "; or "))
}

func (r *Roof) cures() []string {
	var parts []string
	if t := r.Tilt; t != nil {
		parts = append(parts, fmt.Sprintf("tilt the mold %s degrees, %s up (numbered from the first sprue, counterclockwise from above): bubbles drift there, and %s of air stays at the rim (--set pour.tilt=%sdeg --set pour.tilt_toward=%sdeg)",
			number(t.Angle, 0), r.Vent, pocket(t.Left), number(t.Angle, 1), number(t.Toward, 1)))
	}
	if c := r.Coned; c != nil && c.Error == "" {
		after := "traps nothing, tried"
		if c.Volume > 0 {
			after = "but traps " + pocket(c.Volume) + ", tried"
		}
		parts = append(parts, fmt.Sprintf("%s: %s (--set %s)", c.What, after, strings.Join(c.Sets, " --set ")))
	}
	return append(parts,
		fmt.Sprintf("a top allowance of %s mm to trim: %s more (mold.top_allowance)", number(pour.AllowanceTried, 0), grams(r.Layer)),
		"keep urethane standing high in funnel and sprue until it gels, as a riser (pour.funnel)")
}

func cm2(mm2 float64) string { return number(mm2/100, 1) + " cm²" }

// pocket prints a volume of air, in what it is seen as.
func pocket(mm3 float64) string {
	if mm3 < 1000 {
		return number(mm3, 0) + " mm³"
	}
	return number(mm3/1000, 1) + " cm³"
}

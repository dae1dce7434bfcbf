package svg

import (
	"strconv"

	"wheelmold/mold"
	"wheelmold/mold/drawing"
	"wheelmold/mold/drawing/svg/element"
)

// hatch is how an area is filled: parallel lines, or two sets of them.
type hatch struct {
	angle   float64 // degrees, counterclockwise from the horizontal
	spacing float64 // mm of paper
	crossed bool    // a second set at right angles
	dash    float64 // length of a line's dashes; 0: solid
	gap     float64 // between them
	bold    bool    // dots, which thin lines would not show
}

// hatches are those of what is known by name. Neighbors differ in angle or spacing
// (ISO 128-50), no two are alike, and rubber is crossed, as elastomers are.
var hatches = map[string]hatch{
	"base":    {angle: 45, spacing: 2.4},
	"shell-a": {angle: 135, spacing: 2.0},
	"shell-b": {angle: 135, spacing: 3.0},
	"shell-c": {angle: 120, spacing: 2.4},
	"shell-d": {angle: 150, spacing: 2.6},
	"half-a":  {angle: 135, spacing: 2.2},
	"half-b":  {angle: 45, spacing: 2.8},
	"cup":     {angle: 135, spacing: 2.6},
	"strap":   {angle: 45, spacing: 1.7},
	"lid":     {angle: 45, spacing: 1.5},
	"hub":     {angle: 30, spacing: 3.4},
	"rubber":  {angle: 45, spacing: 1.8, crossed: true},
	"seal":    {angle: 90, spacing: 0.6},
}

// others are for cut things of other names, in the order in which they come.
var others = []hatch{{angle: 60, spacing: 2.2}, {angle: 120, spacing: 2.6}, {angle: 150, spacing: 1.8}, {angle: 15, spacing: 2.8}}

// byLook are the hatches of what is not cut.
var byLook = map[drawing.Look]hatch{
	drawing.Liquid: {angle: 0, spacing: 1.6, dash: 2, gap: 1},
	drawing.Air:    {angle: 90, spacing: 1.2, dash: 0.4, gap: 0.8, bold: true},
	drawing.Wet10:  {angle: 45, spacing: 1.5, dash: 0.4, gap: 1.1, bold: true},
	drawing.Wet50:  {angle: 45, spacing: 1.6},
	drawing.Wet90:  {angle: 45, spacing: 1.2, crossed: true},
}

// opacities are how thick colors are laid on: thinly, so that they sit on white and on
// black.
var opacities = map[drawing.Look]string{drawing.Wet10: "0.15", drawing.Wet50: "0.35", drawing.Wet90: "0.6", drawing.Liquid: "0.3"}

// tintOf is the color of an area, that of the mold's pictures, and how thick it is laid
// on.
func tintOf(a *drawing.Area) (color, opacity string) {
	if a.Look == drawing.Air {
		return "none", "1"
	}
	opacity, ok := opacities[a.Look]
	if !ok {
		opacity = "0.4"
	}
	return mold.Hex(a.Of), opacity
}

// hatching hands out one pattern for each way in which areas are filled.
type hatching struct {
	ids   map[string]string
	list  []hatch
	names []string
	extra int
}

// of returns the ID of an area's pattern; "" if it has none.
func (h *hatching) of(prefix string, a *drawing.Area) string {
	key, p, ok := string(a.Look), hatch{}, false
	switch a.Look {
	case drawing.Face, drawing.Whole:
		return ""
	case drawing.Cut:
		key = "cut " + a.Of
		if p, ok = hatches[a.Of]; !ok && h.ids[key] == "" {
			p, ok = others[h.extra%len(others)], true
			p.spacing += 0.4 * float64(h.extra/len(others))
			h.extra++
		}
	default:
		p, ok = byLook[a.Look]
	}
	if id := h.ids[key]; id != "" || !ok {
		return id
	}
	id := prefix + "-h" + strconv.Itoa(len(h.list)+1)
	h.ids[key] = id
	h.list, h.names = append(h.list, p), append(h.names, id)
	return id
}

// write writes the patterns: a tile of the lines' spacing, turned.
func (h *hatching) write(w *element.Writer) {
	for i, p := range h.list {
		s := element.Number(p.spacing)
		// The tile is as long as the lines' dashes, so that they join.
		long := p.spacing
		if p.dash > 0 {
			long = p.dash + p.gap
		}
		w.Open("pattern", "id", h.names[i], "patternUnits", "userSpaceOnUse", "width", element.Number(long), "height", s,
			"patternTransform", "rotate("+element.Number(-p.angle)+")")
		thick := hatchWidth
		if p.bold {
			thick = "0.4"
		}
		line := []string{"x1", "0", "x2", element.Number(long), "y1", element.Number(p.spacing / 2), "y2", element.Number(p.spacing / 2), "stroke", "currentColor", "stroke-width", thick, "class", "d-hatch"}
		if p.dash > 0 {
			line = append(line, "stroke-dasharray", element.Number(p.dash)+" "+element.Number(p.gap))
		}
		w.Empty("line", line...)
		if p.crossed {
			m := element.Number(long / 2)
			w.Empty("line", "x1", m, "x2", m, "y1", "0", "y2", s, "stroke", "currentColor", "stroke-width", hatchWidth, "class", "d-hatch")
		}
		w.Close("pattern")
	}
}

const hatchWidth = "0.18"

// Hatch is the angle in degrees and the spacing in mm of paper of the lines across
// what is cut, by its name, for other pictures of the same.
func Hatch(of string) (angle, spacing float64) {
	h, ok := hatches[of]
	if !ok {
		h = others[0]
	}
	return h.angle, h.spacing
}

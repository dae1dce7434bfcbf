package paper

import (
	"fmt"
	"math"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// rounded is a rectangle with rounded corners about the origin.
func rounded(w, h, r float64) outline.Path {
	u, v := w/2, h/2
	arc := func(to, c Point) outline.Segment {
		return outline.Segment{To: to, Center: c, Radius: r, CCW: true}
	}
	return outline.Path{Start: Point{-u + r, -v}, Closed: true, Segments: []outline.Segment{
		{To: Point{u - r, -v}}, arc(Point{u, -v + r}, Point{u - r, -v + r}),
		{To: Point{u, v - r}}, arc(Point{u - r, v}, Point{u - r, v - r}),
		{To: Point{-u + r, v}}, arc(Point{-u, v - r}, Point{-u + r, v - r}),
		{To: Point{-u, -v + r}}, arc(Point{-u + r, -v}, Point{-u + r, -v + r}),
	}}
}

// plate is a plate with a bore, four counterbored holes and pins: plan and section.
func plate() Sheet {
	plan := View{Caption: "seen from inside", Row: 0, Column: 0}
	visible := func(p ...outline.Path) {
		plan.Lines = append(plan.Lines, drawing.Line{Look: drawing.Visible, Paths: p})
	}
	axis := func(a, b Point) {
		plan.Lines = append(plan.Lines, drawing.Line{Look: drawing.Axis, Paths: []outline.Path{through(a, b)}})
	}
	visible(rounded(160, 160, 12), circle(Point{}, 52.5), circle(Point{}, 14.4875))
	axis(Point{-84, 0}, Point{84, 0})
	axis(Point{0, -84}, Point{0, 84})
	table := Table{Title: "Holes, from the origin on the axis, mm", Head: []string{"mark", "X", "Y", "hole", "depth"}, Note: "Depths from the face shown. ⊔ counterbore, ↓ depth."}
	n := 0
	for _, a := range []float64{45, 135, 225, 315} {
		n++
		sn, cs := math.Sincos(a * math.Pi / 180)
		c := Point{90 * cs, 90 * sn}
		visible(circle(c, 2.75), circle(c, 4.6))
		axis(plus(c, Point{-7, 0}), plus(c, Point{7, 0}))
		axis(plus(c, Point{0, -7}), plus(c, Point{0, 7}))
		plan.Marks = append(plan.Marks, Mark{fmt.Sprint("A", n), c, 4.6})
		table.Rows = append(table.Rows, []string{fmt.Sprint("A", n), decimal(c[0], 3), decimal(c[1], 3), "Ø5.5 ⊔ Ø9.2 ↓5.2", "through"})
		b := Point{70 * sn, 30 * cs}
		visible(circle(b, 3))
		plan.Marks = append(plan.Marks, Mark{fmt.Sprint("B", n), b, 3})
		table.Rows = append(table.Rows, []string{fmt.Sprint("B", n), decimal(b[0], 3), decimal(b[1], 3), "Ø6 H7 (+0.012 / 0)", "12"})
	}
	plan.Dims = []Dim{
		{Kind: drawing.Across, From: Point{-80, -68}, To: Point{80, -68}, Value: 160, Tolerance: "±0.3", Name: "length"},
		{Kind: drawing.Plumb, From: Point{-68, -80}, To: Point{-68, 80}, Value: 160, Tolerance: "±0.3", Name: "width"},
		{Kind: drawing.Across, From: Point{-63.64, 63.64}, To: Point{63.64, 63.64}, Side: Above, Value: 127.279, Reference: true, Name: "holes apart"},
		{Kind: drawing.Diameter, From: Point{-14.4875, 0}, To: Point{14.4875, 0}, Value: 28.975, Fit: "h7", Tolerance: "(0 / -0.021)", Name: "spigot"},
		{Kind: drawing.Diameter, From: Point{-52.5, 0}, To: Point{52.5, 0}, Value: 105, Name: "cavity"},
		{Kind: drawing.Radius, From: Point{68, 68}, To: Point{76.49, 76.49}, Value: 12, Times: 4, Name: "corners"},
	}
	plan.Callouts = []Callout{
		{Tip: plus(Point{-63.64, -63.64}, Point{-3.25, -3.25}), Text: "4× Ø5.5 through\n⊔ Ø9.2 ↓5.2"},
		{Tip: Point{60, -20}, OnFace: true, Finish: "Ra 0.8", Control: &Control{Symbol: Flatness, Value: "0.02"}},
	}
	plan.Cuts = []Cutting{{Point{-80, 0}, Point{80, 0}, "A", Point{0, 1}}}
	plan.Origins = []Origin{{U: "X", V: "Y"}}

	half := outline.Region{through(Point{-80, 0}, Point{-52.5, 0}, Point{-48, -18}, Point{-14.4875, -18}, Point{-14.4875, -6}, Point{14.4875, -6}, Point{14.4875, -18}, Point{48, -18}, Point{52.5, 0}, Point{80, 0}, Point{80, -30}, Point{-80, -30}, Point{-80, 0})}
	section := View{Caption: "section A-A", Row: 1, Column: 0, Areas: []drawing.Area{{Look: drawing.Cut, Of: "base", Region: half}}}
	section.Lines = []drawing.Line{{Look: drawing.Axis, Paths: []outline.Path{through(Point{0, 3}, Point{0, -33})}}}
	section.Dims = []Dim{
		{Kind: drawing.Plumb, From: Point{-80, -30}, To: Point{-80, 0}, Value: 30, Tolerance: "±0.2", Name: "height"},
		{Kind: drawing.Plumb, From: Point{80, -30}, To: Point{48, -18}, Side: Right, Value: 12, Name: "floor"},
		{Kind: drawing.Plumb, From: Point{14.4875, -18}, To: Point{14.4875, -6}, Side: Right, Value: 12, Name: "spigot's height"},
		{Kind: drawing.Across, From: Point{-52.5, 0}, To: Point{52.5, 0}, Side: Above, Value: 105, Turned: true, Name: "cavity at the parting plane"},
		{Kind: drawing.Across, From: Point{-48, -18}, To: Point{48, -18}, Side: Above, Value: 96, Turned: true, Name: "cavity at its floor"},
		{Kind: drawing.Across, From: Point{-14.4875, -6}, To: Point{14.4875, -6}, Side: Above, Value: 28.975, Turned: true, Fit: "h7", Name: "spigot"},
	}
	section.Callouts = []Callout{
		{Tip: Point{60, 0}, Datum: "A", Control: &Control{Symbol: Flatness, Value: "0.02"}},
		{Tip: Point{40, -30}, Finish: "Ra 3.2", Control: &Control{Symbol: Parallelism, Value: "0.05", Datums: []string{"A"}}},
	}
	return Sheet{
		ID: "base", Title: "Base", Views: []View{plan, section}, Tables: []Table{table},
		Notes: []string{
			"Dimensions in mm. Dimensions without a tolerance: ISO 2768-m.",
			"Break sharp edges 0.2 to 0.4 mm, except edges of the cavity and of mating faces: these stay sharp, without burrs.",
			"Drill the holes A through base and shells clamped together, so that they line up.",
			"Faces of the cavity: polish along the pull, no undercuts. The mark of the finish holds for all faces that the liquid wets.",
		},
		Fields: []Field{{"piece", "base"}, {"quantity", "1"}, {"material", "aluminum EN AW-6082 T6, plate"}, {"stock", "165 × 165 × 35"}, {"general tolerance", "ISO 2768-mK"}, {"unit", "mm"}, {"job", "kestrel"}, {"program", "wheelmold 0.9.0"}},
	}
}

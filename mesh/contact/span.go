package contact

// Span is a run of a straight grid line inside a flat region, mm along the line.
type Span struct{ Lo, Hi End }

// End is where a grid line enters or leaves a region.
type End struct {
	At    float64 // coordinate along the line, mm
	Label int     // of the edge that is crossed there
	// Across is the component of the edge's unit normal along the line, in [0, 1]:
	// lines at a spacing d stand for d/Across of the edge's length each.
	Across float64
}

// Section is a flat region that is known by the grid lines through it.
type Section interface {
	Bounds() (lo, hi [2]float64) // of the region in its chart, mm
	Row(v float64) []Span        // along u at height v, in order
	Col(u float64) []Span        // along v at u, in order
}

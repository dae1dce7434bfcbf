// Package views says how a piece is looked at: from where, which way up, from which
// origin, and by what names. Sheets and flat files take their views from here, so that a
// hole stands in the same place and has the same coordinates in both.
//
// A piece is seen on the face that meets the others first; the other views stand around
// that one as the first-angle method has them (ISO 5456-2). No view is mirrored. All
// directions are those of the closed mold, in which STEP files are: its z is the wheel's
// axis, its z = 0 the tread's lower face.
package views

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// View is one way to look at a piece.
type View struct {
	Name   string
	Plane  outline.View // through the mold's origin, in the closed mold's frame
	Origin mesh.Vec     // what coordinates in the view count from, in the closed mold's frame
	// Axes are what tables of places call the view's directions to the right and up: "X",
	// "Y" or "Z", after "-" where they count the other way.
	Axes [2]string
}

// Set is all views of a piece. Plates have no ends, the hub has ends only.
type Set struct{ Inside, Outside, Lower, Upper View }

var axisZ = mesh.Vec{0, 0, 1}

// Of returns the views of a piece.
func Of(m *mold.Mold, p *mold.Piece) Set {
	switch p.Kind {
	case mold.Hub:
		return ofHub(m)
	case mold.Shell:
		return ofShell(m, p)
	}
	return ofPlate(m, p)
}

// ofPlate are those of a plate: y of the closed mold is up, or a strap's bar.
func ofPlate(m *mold.Mold, p *mold.Piece) Set {
	v := mesh.Vec{0, 1, 0}
	if m.Layout.OpenTop() && p.Pull[2] > 0 {
		v = mesh.Vec{math.Sqrt2 / 2, math.Sqrt2 / 2, 0}
	}
	in := facing(p.Pull.Scale(-1), v)
	return Set{
		Inside:  View{Name: "seen from inside", Plane: in, Axes: [2]string{"X", "Y"}},
		Outside: View{Name: "seen from outside", Plane: fromBehind(in), Axes: [2]string{"-X", "Y"}},
	}
}

// ofShell are those of what lies around the wheel's axis, which stands upright.
func ofShell(m *mold.Mold, p *mold.Piece) Set {
	low, _ := Ends(m, p)
	in, foot := Upright(p.Pull.Scale(-1)), axisZ.Scale(low)
	return Set{
		Inside:  View{"seen from inside, on the parting face", in, foot, [2]string{"X", "Z"}},
		Outside: View{"seen from outside", fromBehind(in), foot, [2]string{"-X", "Z"}},
		Lower:   View{Name: "lower end", Plane: fromBelow(in), Axes: [2]string{"X", "-Y"}},
		Upper:   View{Name: "upper end", Plane: fromAbove(in), Axes: [2]string{"X", "Y"}},
	}
}

// ofHub are those of the hub's ends, with a bolt hole straight up if it has any.
func ofHub(m *mold.Mold) Set {
	turn := 0.0
	if n := m.Core.BoltCount; n > 0 {
		turn = math.Pi / float64(n)
	}
	ends := HubEnds(m)
	upper := facing(axisZ, mesh.Vec{math.Cos(turn), math.Sin(turn), 0})
	return Set{
		Lower: View{Name: "seen on the " + ends[0], Plane: fromBehind(upper), Axes: [2]string{"-X", "Y"}},
		Upper: View{Name: "seen on the " + ends[1], Plane: upper, Axes: [2]string{"X", "Y"}},
	}
}

// HubEnds are the hub's ends as builders call them, the lower one in the mold first.
func HubEnds(m *mold.Mold) [2]string {
	if m.Job.Mold.FaceUp == "back" {
		return [2]string{"front", "back"}
	}
	return [2]string{"back", "front"}
}

// Ends are the heights in mm between which a piece lies that stands around the wheel's
// axis, as it leaves the machine. The ends of halves meet nothing and carry no stock.
func Ends(m *mold.Mold, p *mold.Piece) (low, high float64) {
	l, stock := m.Layout, 0.0
	if l.Below != "" && p.Raw != p.Root {
		stock = solid.Round(m.Job.Mold.Mating.Stock)
	}
	return l.SideLow - stock, l.SideHigh + stock
}

// Upright is the plane seen by a viewer in a direction across the wheel's axis, which
// stands upright.
func Upright(toViewer mesh.Vec) outline.View { return facing(toViewer, axisZ) }

// facing is the plane seen by a viewer in direction w, with v up.
func facing(w, v mesh.Vec) outline.View { return outline.View{U: tidy(v.Cross(w)), V: tidy(v)} }

func fromBehind(p outline.View) outline.View { return outline.View{U: tidy(p.U.Scale(-1)), V: p.V} }
func fromAbove(p outline.View) outline.View  { return outline.View{U: p.U, V: tidy(p.W().Scale(-1))} }
func fromBelow(p outline.View) outline.View  { return outline.View{U: p.U, V: tidy(p.W())} }

// tidy drops what is left of zeros by rounding, and their signs.
func tidy(v mesh.Vec) mesh.Vec {
	for i, x := range v {
		if math.Abs(x) < 1e-15 {
			v[i] = 0
		}
	}
	return v
}

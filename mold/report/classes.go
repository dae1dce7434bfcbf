package report

import (
	"io"
	"strings"

	"wheelmold/params"
)

// WriteClasses prints a table of weight classes, each with the wheel that its job
// begins with.
func WriteClasses(w io.Writer, classes []*params.Class) error {
	p := newPage(w)
	p.row("class", "also", "limit", "", "wheel mm", "bore", "hub", "mold", "made", "Shore A")
	for _, c := range classes {
		j, _, err := c.Job()
		if err != nil {
			return err
		}
		kg, lb := limits(c.Limit.Base())
		p.row(c.Name, strings.Join(c.Also, ", "), kg, lb,
			number(j.Wheel.Diameter, 1)+" x "+number(j.Wheel.Width, 1), number(j.Hub.Bore, 1),
			j.Hub.Material, j.Mold.Split, j.Process.Name, number(j.Pour.Hardness, 0))
	}
	p.row()
	for _, c := range classes {
		if c.Region+c.Note != "" {
			p.row(c.Name, strings.Trim(c.Region+"; "+c.Note, "; "))
		}
	}
	p.row()
	p.row("Limits are terms of the trade: rules differ, see those of your event. Wheels are")
	p.row("invented after common practice. To edit all of it: wheelmold classes --toml")
	return p.close()
}

// limits prints a mass in grams or kilograms, and in pounds.
func limits(g float64) (metric, pounds string) {
	pounds = number(g/gramsPerPound, 2) + " lb"
	switch {
	case g < 1000:
		return number(g, 0) + " g", pounds
	case g < 10e3:
		return number(g/1000, 2) + " kg", pounds
	}
	return number(g/1000, 1) + " kg", pounds
}

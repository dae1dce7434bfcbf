package report

import (
	"fmt"
	"strings"

	"wheelmold/mold/service"
)

// Service is the wheel in use: what tread and hub make of the loads that the job states.
type Service struct {
	Tread *TreadService `json:"tread"` // null where it was not judged
	Hub   *HubService   `json:"hub"`   // likewise
}

// TreadService is how the tread stands its load on a hard, flat floor.
type TreadService struct {
	Shore     float64        `json:"hardness_shore_a"`
	Sure      bool           `json:"hardness_in_range_of_all_relations"`
	Modulus   ModulusService `json:"modulus"`
	Radius    float64        `json:"radius_mm"`
	Thickness float64        `json:"thickness_mm"`
	Carries   float64        `json:"carrying_width_mm"`
	Grooves   float64        `json:"width_in_grooves_mm"`
	Edges     float64        `json:"width_in_edges_mm"`
	Lugs      float64        `json:"share_left_by_cross_grooves"`
	Lean      float64        `json:"radius_differs_across_width_mm"`
	Rest      ContactService `json:"at_rest"`
	Hit       ContactService `json:"in_a_hit"`
	Grip      string         `json:"grip"`
	Caution   string         `json:"caution"` // empty: none
	Change    string         `json:"change"`
}

// ModulusService is Young's modulus by hardness.
type ModulusService struct {
	Low  float64 `json:"low_mpa"`
	Mid  float64 `json:"mid_mpa"`
	High float64 `json:"high_mpa"`
}

// ContactService is the tread on the floor under one load.
type ContactService struct {
	State    string          `json:"state"` // "reckoned", "no load", "beyond small strain" or "beyond the table"
	Load     float64         `json:"load_n"`
	PerWidth float64         `json:"load_per_width_n_mm"`
	Figures  *ContactFigures `json:"figures,omitempty"` // absent unless reckoned
	From     float64         `json:"in_range_from_shore_a,omitempty"`
}

// ContactFigures are what could be reckoned of a contact.
type ContactFigures struct {
	Deflection SpanService `json:"deflection"`
	Length     SpanService `json:"length"`
	Share      float64     `json:"deflection_by_thickness"`
	Mean       float64     `json:"mean_pressure_mpa"`
	Peak       float64     `json:"peak_pressure_mpa"`
	SoftBeyond bool        `json:"soft_end_beyond_small_strain"`
}

// SpanService is a length with what the doubt about modulus and compressibility makes of it.
type SpanService struct {
	Least float64  `json:"least_mm"`
	Mid   float64  `json:"mid_mm"`
	Most  *float64 `json:"most_mm,omitempty"` // absent where it is beyond the table
}

// ServiceOf reports the wheel in use; either part may be nil.
func ServiceOf(t *service.TreadLoad, h *service.HubLoad) *Service {
	s := &Service{}
	if t != nil {
		s.Tread = treadServiceOf(t)
	}
	if h != nil {
		s.Hub = hubServiceOf(h)
	}
	return s
}

func treadServiceOf(l *service.TreadLoad) *TreadService {
	r := &TreadService{
		Shore: l.Shore, Sure: service.Sure(l.Shore), Modulus: ModulusService{l.Modulus.Low / mega, l.Modulus.Mid / mega, l.Modulus.High / mega},
		Radius: l.Radius, Thickness: l.Thickness, Carries: l.Carries(), Grooves: l.Grooves, Edges: l.Edges, Lugs: l.Lugs, Lean: l.Lean,
		Rest: contactServiceOf(&l.Rest), Hit: contactServiceOf(&l.Hit), Grip: l.Grip,
	}
	for _, f := range l.Faults {
		r.Caution, r.Change = f.Cause, f.Hint
	}
	return r
}

func contactServiceOf(c *service.Contact) ContactService {
	r := ContactService{State: string(c.State), Load: c.Load, PerWidth: c.PerWidth, From: c.From}
	if c.State == service.Reckoned {
		span := func(s service.Span) SpanService { return SpanService{s.Least, s.Mid, bounded(s.Most)} }
		r.Figures = &ContactFigures{span(c.Deflection), span(c.Length), c.Share, c.Mean / mega, c.Peak / mega, !c.Soft.Small()}
	}
	return r
}

// text tells the wheel in use.
func (s *Service) text(p teller) {
	p.row("in use: estimates, from the loads that the job states or that are assumed (duty.*)")
	p.row()
	if s.Tread != nil {
		s.Tread.text(p)
	}
	if s.Tread != nil && s.Hub != nil {
		p.row()
	}
	if s.Hub != nil {
		s.Hub.text(p)
	}
}

// outcome is the wheel in use, for the summary.
func (s *Service) outcome() outcome {
	o := outcome{Name: "In use", State: fine}
	var says []string
	worse := func(x state) {
		if x == act || o.State == fine {
			o.State = x
		}
	}
	if t := s.Tread; t != nil {
		worse(t.state())
		says = append(says, t.says())
		o.Figures = append(o.Figures, t.figures()...)
	}
	if h := s.Hub; h != nil {
		worse(h.state())
		if l, _ := h.Bond.worst(); l != nil {
			says = append(says, "bond to the hub, "+l.Name+": "+l.Verdict)
		}
		o.Figures = append(o.Figures, h.figures()...)
	}
	o.Says = strings.Join(says, "; ")
	return o
}

// text tells modulus, contacts and guidance.
func (r *TreadService) text(p teller) {
	p.note("modulus", number(r.Modulus.Mid, 2)+" MPa", r.modulus())
	p.note("carries on", number(r.Carries, 1)+" mm", r.width())
	p.row()
	p.row("tread on a hard floor", "load", "deflection, mm", "of thickness", "contact length, mm", "mean, MPa", "peak, MPa")
	r.Rest.row(p, "at rest")
	r.Hit.row(p, "in a hit")
	p.row()
	p.note("method", "", r.method())
	p.note("grip or wear", number(r.Shore, 0)+" A", r.Grip+" (guidance from practice)")
	if r.Caution != "" {
		p.note("to change", "", upper(r.Caution)+". "+upper(r.Change))
	}
}

func (r *TreadService) modulus() string {
	band := fmt.Sprintf("three published relations have from %s to %s MPa", number(r.Modulus.Low, 2), number(r.Modulus.High, 2))
	if r.Sure {
		return fmt.Sprintf("at %s Shore A by Gent's relation; %s: a band, not a test of this urethane. Limits are judged at its soft end", number(r.Shore, 0), band)
	}
	return fmt.Sprintf("at %s Shore A; %s, of which this is the middle one. Not all of them are stated for so hard or soft a rubber (%s to %s A): take a wide doubt. Limits are judged at the soft end", number(r.Shore, 0), band, number(service.LeastHardness, 0), number(service.MostHardness, 0))
}

// width tells what of the tread carries.
func (r *TreadService) width() string {
	out := fmt.Sprintf("of width, less %s mm of grooves and %s mm of edges", number(r.Grooves, 1), number(r.Edges, 1))
	if r.Lugs < 1 {
		out += fmt.Sprintf(", times the %s that cross grooves leave (on the average; a single lug gives way more)", percent(r.Lugs))
	}
	return out + fmt.Sprintf("; %s mm of rubber over the hub's body", number(r.Thickness, 1))
}

// method tells what the contacts rest on.
func (r *TreadService) method() string {
	out := fmt.Sprintf("Exact solution of a bonded elastic layer that keeps its volume, frictionless, small strain, interpolated in a table within about %s %% (deflection %s %%). Ranges: the modulus' band, and a Poisson's ratio down to %s. Free side walls make the tread softer: its stiffness is an upper bound. Design limits are %s of the thickness and a peak of %s of the modulus", number(100*service.PressureDoubt, 1), number(100*service.DeflectionDoubt, 1), number(service.LeastPoisson, 2), percent(service.MostShare), number(service.MostPeak, 2))
	if r.Thickness > r.Radius/4 {
		out += ". The layer is reckoned flat, but is " + percent(r.Thickness/r.Radius) + " of the radius thick: take it as an estimate"
	}
	if r.Lean > 0 {
		out += fmt.Sprintf(". Crown or draft, %s mm, is reckoned as flat (assumed)", number(r.Lean, 2))
		if f := r.Rest.Figures; f != nil && f.Deflection.Mid < r.Lean {
			out += ": at rest the tread does not touch across its whole width, so deflection and pressure are higher than told"
		}
	}
	return out
}

// row tells one contact.
func (c *ContactService) row(p teller, name string) {
	f := c.Figures
	if f == nil {
		p.row(name, pull(c.Load), c.State+c.mended())
		return
	}
	share := percent(f.Share)
	if f.SoftBeyond {
		share += "; beyond small strain at the soft end"
	}
	p.row(name, pull(c.Load), f.Deflection.text(), share, f.Length.text(), number(f.Mean, 2), number(f.Peak, 2))
}

// mended tells the hardness at which a load beyond reckoning would be in range.
func (c *ContactService) mended() string {
	switch {
	case c.State == string(service.NoLoad):
		return ""
	case c.From > 0:
		return fmt.Sprintf(": in range from %s Shore A on", number(c.From, 0))
	}
	return ": in range at no hardness"
}

// text prints a figure with its ends.
func (s *SpanService) text() string {
	d := 1
	if s.Mid < 10 {
		d = 2
	}
	most := "beyond the table"
	if s.Most != nil {
		most = number(*s.Most, d)
	}
	return fmt.Sprintf("%s (%s to %s)", number(s.Mid, d), number(s.Least, d), most)
}

// state tells whether the tread asks for a look: it is worn by too much load, not broken.
func (r *TreadService) state() state {
	if r.Caution != "" {
		return mind
	}
	return fine
}

// says puts the tread in a phrase.
func (r *TreadService) says() string {
	f := r.Rest.Figures
	switch {
	case f == nil:
		return "tread at rest: " + r.Rest.State
	case r.Caution != "":
		return fmt.Sprintf("the tread is pressed with up to %s MPa at rest, more than suits it", number(f.Peak, 2))
	}
	return fmt.Sprintf("the tread gives way by %s mm at rest", number(f.Deflection.Mid, 2))
}

// figures are what a builder acts on.
func (r *TreadService) figures() (out []figure) {
	ranged := func(s *SpanService) string { return upper(s.text()) + " mm by the band of the modulus." }
	if f := r.Rest.Figures; f != nil {
		out = append(out,
			figure{Name: "tread gives way, at rest", Value: length2(f.Deflection.Mid), Key: "service.tread.at_rest.figures.deflection.mid_mm", Raw: f.Deflection.Mid,
				Note: ranged(&f.Deflection) + " " + upper(r.method()) + "."},
			figure{Name: "contact is long", Value: length(f.Length.Mid), Key: "service.tread.at_rest.figures.length.mid_mm", Raw: f.Length.Mid,
				Note: ranged(&f.Length) + " As the deflection."},
			figure{Name: "presses with at most", Value: number(f.Peak, 2) + " MPa", Key: "service.tread.at_rest.figures.peak_pressure_mpa", Raw: f.Peak,
				Note: fmt.Sprintf("In the middle of the contact, with the modulus in the middle of its band; %s MPa on the average.", number(f.Mean, 2))})
	}
	if f := r.Hit.Figures; f != nil {
		out = append(out, figure{Name: "tread gives way, in a hit", Value: length2(f.Deflection.Mid), Key: "service.tread.in_a_hit.figures.deflection.mid_mm", Raw: f.Deflection.Mid,
			Note: ranged(&f.Deflection) + fmt.Sprintf(" At duty.impact times the weight, %s; rubber is stiffer in a hit than at rest.", pull(r.Hit.Load))})
	}
	return out
}

// tables tell the wheel in use under headings.
func (s *Service) tables() (out []named) {
	if s.Tread != nil {
		out = append(out, named{"Rubber on the floor", parted(s.Tread.text)})
	}
	if s.Hub != nil {
		out = append(out, named{"Hub, bond and motion", parted(s.Hub.text)})
	}
	return out
}

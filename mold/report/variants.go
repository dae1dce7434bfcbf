package report

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"wheelmold/mold/report/tabular"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// Variants is a table of variants of one job.
type Variants struct {
	Program string
	File    string
	Table   tabular.Table
}

// TableFormats are the forms in which rows are written.
var TableFormats = []string{"text", "csv", "json"}

// Write writes the rows in one of the TableFormats.
func (r *Variants) Write(w io.Writer, format string) error {
	switch format {
	case "csv":
		return r.Table.WriteCSV(w)
	case "json":
		return WriteJSON(w, r)
	}
	var b strings.Builder
	if err := r.Table.WriteText(&b); err != nil {
		return err
	}
	return writeLines(w, b.String())
}

// MarshalJSON writes the rows with what they came from.
func (r *Variants) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Version int            `json:"version"`
		Program string         `json:"program"`
		File    string         `json:"job_file"`
		Rows    *tabular.Table `json:"rows"`
	}{Version, r.Program, r.File, &r.Table})
}

// OfSweep reports a job over values of some keys.
func OfSweep(file string, all []study.Row) *Variants {
	t := tabular.Table{Columns: columnsOf(sweepMeasures), Brief: true}
	var keys []string
	for _, s := range all[0].Values {
		keys = append(keys, s.Key)
		t.Lead = append(t.Lead, tabular.Column{Head: s.Key, Keys: []string{s.Key + suffix(s)}})
	}
	t.Title = fmt.Sprintf("%s, %s over %s", file, count(len(all), "row", "rows"), strings.Join(keys, ", "))
	t.Notes = tabular.Fold(sweepNote, noteWidth)
	for i := range all {
		r := rowOf(&all[i], sweepMeasures)
		for _, s := range all[i].Values {
			r.Lead = append(r.Lead, tabular.Cell{Values: []any{valueOf(s)}, Text: s.Shown()})
		}
		t.Rows = append(t.Rows, r)
	}
	return &Variants{File: file, Table: t}
}

// OfSplits reports a job in every split.
func OfSplits(file string, all []study.Row) *Variants {
	t := tabular.Table{
		Title: file + ", in every split", Columns: columnsOf(splitMeasures),
		Lead:  []tabular.Column{{Head: "split", Keys: []string{"split", "segments", "own"}}},
		Notes: tabular.Fold(splitNote+changes(all), noteWidth),
	}
	for i := range all {
		x := &all[i]
		r := rowOf(x, splitMeasures)
		if x.Own {
			r.Mark = " (this job)"
		}
		r.Lead = []tabular.Cell{{Values: []any{valueOf(x.Values[0]), valueOf(x.Values[1]), x.Own}, Text: x.Name}}
		t.Rows = append(t.Rows, r)
	}
	return &Variants{File: file, Table: t}
}

// What stands below the tables.
const (
	sweepNote = "Each row is the job with these values, as check reports it. poured: into one mold. A, B: of all batches, as the scale's steps have them. pieces: of the mold, without the hub. stays, lost: estimates that half and 9 of 10 casts stay below; what stays is in the worst joint, what is lost in all of them or out of the mold. runs in: a batch through the gates, of which an open top has none. cost: of the urethane in a wheel, in your currency, by what is used and by whole kits. set-ups, shop: of what is milled or turned, price in your currency; rough estimates, half to twice as much."
	splitNote = "Each row is the job in another split, as check reports it: defaults follow the split, values that the job states do not. seam: edge that the liquid wets. pieces: of the mold, without the hub. lost: an estimate of the flash and leak that half and 9 of 10 casts stay below. grade: of the mold. drips, into hub: chance of the worst joint. runs in: a batch through the gates, of which an open top has none. wheel: its mass, cured. set-ups, shop: of what is milled or turned, price in your currency; rough estimates, half to twice as much."
)

// changes tells in what the wheels of rows differ from the job's own.
func changes(all []study.Row) string {
	text, own := "", 0.0
	for i := range all {
		if x := &all[i]; x.Own && x.Figures != nil {
			own = x.Figures.Hub
		}
	}
	for i := range all {
		x := &all[i]
		if x.Figures == nil {
			continue
		}
		if hub := x.Figures.Hub; own > 0 && math.Abs(hub-own) > 5e-3 {
			text += fmt.Sprintf(" %s: hub %s mm long, this job's %s mm.", x.Name, number(hub, 2), number(own, 2))
		}
		if x.Figures.OnTread {
			text += " " + x.Name + ": " + flashOnTread + "."
		}
	}
	return text
}

// rowOf is a row without what tells it from the others.
func rowOf(x *study.Row, ms []measure) tabular.Row {
	r := tabular.Row{Name: x.Name, Faults: faultsOf(x.Err)}
	for _, f := range x.Warnings {
		r.Warnings = append(r.Warnings, f.Error())
	}
	if x.Figures != nil {
		r.Cells = []tabular.Cell{}
		for _, m := range ms {
			c := tabular.Cell{Values: []any{}, Text: m.text(x.Figures)}
			if m.values != nil {
				c.Values = m.values(x.Figures)
			}
			r.Cells = append(r.Cells, c)
		}
	}
	return r
}

// faultsOf is an error as one line for each thing that is wrong.
func faultsOf(err error) (lines []string) {
	var refused *study.Refused
	switch {
	case err == nil:
	case errors.As(err, &refused):
		for _, f := range refused.Faults {
			lines = append(lines, f.Error())
		}
	default:
		lines = strings.Split(err.Error(), "\n")
	}
	return lines
}

// valueOf is a setting's value in its base unit.
func valueOf(s params.Setting) any {
	v, ok := s.Number()
	if !ok {
		return s.Value
	}
	return v
}

// suffixes are how keys of programs end that carry a value of a kind.
var suffixes = map[params.Kind]string{
	params.Length: "_mm", params.Angle: "_deg", params.Mass: "_g", params.Volume: "_cm3", params.Density: "_g_per_cm3",
	params.Time: "_s", params.Viscosity: "_pa_s", params.Torque: "_nm", params.Force: "_n", params.Stress: "_pa",
	params.Tension: "_n_per_m", params.Temperature: "_c", params.Expansion: "_per_k", params.Share: "_share",
}

func suffix(s params.Setting) string { return suffixes[s.Kind()] }

// Package tabular writes rows of figures as text for people, and as CSV and JSON for
// programs.
//
// All three tell the same rows in the same order; CSV and JSON have every figure in
// full precision, under keys that end with the unit. A row that failed keeps its place
// and says why. The package knows nothing of molds and computes nothing.
package tabular

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
)

// Column is a figure that every row has.
type Column struct {
	Head  string   // in text; "": it is not told there
	Keys  []string // of its values, with their units
	Block int      // text parts columns into as many tables, of what belongs together
	Wrap  bool     // texts of any length: text tells them last in their block, folded
}

// Cell is a figure of one row: a value (string, int, float64 or bool) for each key of
// its column, nil where there is none, and what people read.
type Cell struct {
	Values []any
	Text   string
}

// Row is one row.
type Row struct {
	Name     string
	Mark     string // beside its name, in text
	Lead     []Cell // what tells it from the others
	Cells    []Cell // nil if it failed
	Faults   []string
	Warnings []string
}

// Table is rows with the same columns.
type Table struct {
	Title   string
	Lead    []Column
	Columns []Column
	Rows    []Row
	Notes   []string // lines below the text
	// Brief tells of a row that failed its first fault alone, where rows are many.
	Brief bool
}

// missing stands in text where a failed row has no figure.
const missing = "-"

// cell is a row's figure in a column.
func (r *Row) cell(i int, c *Column) Cell {
	if r.Cells != nil {
		return r.Cells[i]
	}
	return Cell{make([]any, len(c.Keys)), missing}
}

// WriteText writes the table for a reader: one block of columns after another, each
// led by what tells the rows apart, then why rows failed, then notes. A block that is
// wider than a page goes on in another.
func (t *Table) WriteText(w io.Writer) error {
	var p bytes.Buffer
	fmt.Fprintf(&p, "%s\n", t.Title)
	for b := range t.blocks() {
		for _, columns := range t.parts(b) {
			fmt.Fprintln(&p)
			t.part(&p, columns)
		}
	}
	t.reasons(&p)
	for i, n := range t.Notes {
		if i == 0 {
			fmt.Fprintln(&p)
		}
		fmt.Fprintln(&p, n)
	}
	_, err := p.WriteTo(w)
	return err
}

// blocks is how many there are.
func (t *Table) blocks() (n int) {
	for _, c := range t.Columns {
		n = max(n, c.Block+1)
	}
	return n
}

// reasons says why rows failed.
func (t *Table) reasons(w io.Writer) {
	first := true
	for i := range t.Rows {
		r := &t.Rows[i]
		if len(r.Faults) == 0 {
			continue
		}
		if first {
			fmt.Fprintln(w, "\nnot made:")
			first = false
		}
		faults, more := r.Faults, ""
		if t.Brief && len(faults) > 1 {
			more = fmt.Sprintf(" (and %d more, see --format json)", len(faults)-1)
			faults = faults[:1]
		}
		fmt.Fprintln(w, "  "+r.Name)
		for _, f := range faults {
			fmt.Fprintln(w, "    - "+f+more)
		}
	}
}

// WriteCSV writes the table as RFC 4180 has it, with a head. The last columns are the
// number of warnings and, of a row that failed, its first fault.
func (t *Table) WriteCSV(w io.Writer) error {
	c := csv.NewWriter(w)
	c.Write(append(t.keys(), "warnings", "fault"))
	for i := range t.Rows {
		r := &t.Rows[i]
		var fields []string
		for _, v := range t.values(r) {
			fields = append(fields, field(v))
		}
		fault := ""
		if len(r.Faults) > 0 {
			fault = r.Faults[0]
		}
		c.Write(append(fields, strconv.Itoa(len(r.Warnings)), fault))
	}
	c.Flush()
	return c.Error()
}

// keys are those of all values, in their order.
func (t *Table) keys() (keys []string) {
	for _, columns := range [][]Column{t.Lead, t.Columns} {
		for _, c := range columns {
			keys = append(keys, c.Keys...)
		}
	}
	return keys
}

// values are a row's, in the order of the keys.
func (t *Table) values(r *Row) (values []any) {
	for _, c := range r.Lead {
		values = append(values, c.Values...)
	}
	for i := range t.Columns {
		values = append(values, r.cell(i, &t.Columns[i]).Values...)
	}
	return values
}

func field(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return fmt.Sprint(v)
}

// MarshalJSON writes the rows: of each its name, what tells it from the others, its
// figures (null if it failed), faults and warnings.
func (t *Table) MarshalJSON() ([]byte, error) {
	type row struct {
		Name     string   `json:"name"`
		Values   object   `json:"values"`
		Figures  object   `json:"figures"`
		Faults   []string `json:"faults"`
		Warnings []string `json:"warnings"`
	}
	rows := []row{}
	for i := range t.Rows {
		r := &t.Rows[i]
		x := row{Name: r.Name, Values: members(t.Lead, r.Lead), Faults: list(r.Faults), Warnings: list(r.Warnings)}
		if r.Cells != nil {
			x.Figures = members(t.Columns, r.Cells)
		}
		rows = append(rows, x)
	}
	return json.Marshal(rows)
}

// list is never null in JSON.
func list(s []string) []string { return append([]string{}, s...) }

// object is a JSON object whose members keep their order.
type object []member

type member struct {
	key   string
	value any
}

func members(columns []Column, cells []Cell) object {
	o := object{}
	for i, c := range columns {
		for k, key := range c.Keys {
			o = append(o, member{key, cells[i].Values[k]})
		}
	}
	return o
}

// MarshalJSON writes the members in their order; none at all is null.
func (o object) MarshalJSON() ([]byte, error) {
	if o == nil {
		return []byte("null"), nil
	}
	b := []byte{'{'}
	for i, m := range o {
		if i > 0 {
			b = append(b, ',')
		}
		key, err := json.Marshal(m.key)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(m.value)
		if err != nil {
			return nil, err
		}
		b = append(append(append(b, key...), ':'), value...)
	}
	return append(b, '}'), nil
}

package report

import "slices"

// tables collects what is told as tables for a page: a blank row begins another.
type tables struct{ all []table }

// table is rows of cells, all as wide as the widest.
type table struct {
	Name string
	Head []string // may be empty
	Rows [][]string
	Wide bool // the last cells are texts of any length
}

func (t *tables) row(cells ...string) {
	if len(cells) == 0 {
		t.all = append(t.all, table{})
		return
	}
	last := t.last()
	last.Rows = append(last.Rows, cells)
}

func (t *tables) note(label, value, text string) {
	t.row(label, value, text)
	t.last().Wide = true
}

func (t *tables) last() *table {
	if len(t.all) == 0 {
		t.all = append(t.all, table{})
	}
	return &t.all[len(t.all)-1]
}

// told returns what f tells as tables, without empty ones.
func told(f func(teller)) []table {
	var t tables
	f(&t)
	return slices.DeleteFunc(t.all, func(x table) bool { return len(x.Rows) == 0 })
}

// toldRows returns what f tells as one table.
func toldRows(f func(teller)) table {
	var out table
	for _, t := range told(f) {
		out.Rows, out.Wide = append(out.Rows, t.Rows...), out.Wide || t.Wide
	}
	return out
}

// parted returns what f tells as tables: notes that follow one another as one, and columns
// between them by themselves, each under its head, by whose first cell it is called. On a
// narrow screen notes are stacked, which would part the figures of columns from their heads.
func parted(f func(teller)) (out []table) {
	for _, t := range told(f) {
		switch {
		case !t.Wide:
			t = t.topped().called(t.Rows[0][0])
		case len(out) > 0 && out[len(out)-1].Wide:
			before := &out[len(out)-1]
			before.Rows = append(before.Rows, t.Rows...)
			continue
		}
		out = append(out, t)
	}
	return out
}

// headed takes the first row as the head, with what the second says of units and
// shares in brackets.
func (t table) headed() table {
	units := t.Rows[1]
	t = t.topped()
	for i, more := range units {
		if more != "" {
			t.Head[i] += " (" + more + ")"
		}
	}
	t.Rows = t.Rows[1:]
	return t
}

// topped takes the first row as the head.
func (t table) topped() table {
	t.Head, t.Rows = slices.Clone(t.Rows[0]), t.Rows[1:]
	return t
}

// called gives a table the name by which it is told from others.
func (t table) called(name string) table {
	t.Name = name
	return t
}

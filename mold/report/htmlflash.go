package report

import "fmt"

// flashView is the section on parting lines.
type flashView struct {
	Note, Legend string
	Bars         chart
	Table        table
	Lines        []jointView
	Inputs       table
}

// jointView is one parting line.
type jointView struct {
	ID, Name, Grade, Meaning, Verdict string
	State                             state
	Counsels                          []counsel
	Gaps, Exits                       table
	Map                               *drawn
}

func (p *Page) flash() (*flashView, error) {
	f := p.Build.Flash
	if f == nil {
		return nil, nil
	}
	told := told(f.table)
	v := &flashView{Note: f.Note, Bars: flashBars(f), Table: told[0].headed()}
	v.Legend = fmt.Sprintf("10, 50, 90 %%: so many of %d draws of what is not known lie below. Seam: edge that the liquid wets. Land: way along the faces to the nearest way out. What stays in is in the joint and in ball pockets; what gets out leaves the mold or enters the hub.", f.Draws)
	v.Inputs = toldRows(f.inputs)
	for i := range f.Lines {
		j, err := p.joint(i)
		if err != nil {
			return nil, err
		}
		v.Lines = append(v.Lines, *j)
	}
	return v, nil
}

func (p *Page) joint(i int) (*jointView, error) {
	l := &p.Build.Flash.Lines[i]
	v := &jointView{
		ID: fmt.Sprintf("joint-%d", i+1), Name: l.Name, Grade: l.Grade, Meaning: upper(l.Meaning), Verdict: upper(l.Verdict), State: stateOf(l.Grade),
		Counsels: l.counsels(), Gaps: l.gaps(), Exits: l.exits(),
	}
	if i < len(p.Maps) {
		d, err := draw(&p.Maps[i])
		if err != nil {
			return nil, err
		}
		v.Map = d
	}
	return v, nil
}

// gaps lists what makes the gap, with how each is found.
func (l *FlashLine) gaps() table {
	t := table{Head: []string{"gap from", "expected µm", "at worst µm", "how"}, Wide: true}
	for _, c := range l.Gap.Parts {
		t.Rows = append(t.Rows, []string{c.Name, micron(c.Expected), micron(c.Worst), c.Method})
	}
	return table{t.Head, append(t.Rows, []string{"all", micron(l.Gap.Expected), micron(l.Gap.Worst),
		fmt.Sprintf("mean distance of the faces along the seam; 10, 50, 90 %% of the draws lie below %s, %s, %s", micron(l.Gap.Band.P10), micron(l.Gap.Band.P50), micron(l.Gap.Band.P90))}), true}
}

// exits lists the ways out of a line, and how far the rubber gets toward them.
func (l *FlashLine) exits() table {
	t := table{Head: []string{"way out", "least land mm", "nearest along mm of seam"}}
	for _, x := range l.Exits {
		t.Rows = append(t.Rows, []string{x.Kind, number(x.Least, 1), number(x.Seam, 0)})
	}
	return t
}

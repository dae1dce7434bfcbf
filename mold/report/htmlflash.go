package report

import (
	"fmt"

	"wheelmold/mold/flash"
)

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
	Odds                              string // what one cast in ten exceeds
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
	if n := len(p.Maps); n > 0 && n != len(f.Lines) {
		return nil, fmt.Errorf("%d flash maps for %d parting lines", n, len(f.Lines))
	}
	told := told(f.table)
	v := &flashView{Note: f.Note, Legend: f.legend(), Bars: flashBars(f), Table: told[0].headed().called("joints")}
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
		ID: fmt.Sprintf("joint-%d", i+1), Name: l.Name, Grade: l.Grade, Meaning: upper(l.Meaning), Verdict: upper(l.Verdict), Odds: l.odds(), State: stateOf(l.Grade),
		Counsels: l.counsels(), Gaps: l.gaps(), Exits: l.exits(),
	}
	if len(p.Maps) > 0 {
		d, err := draw(&p.Maps[i])
		if err != nil {
			return nil, err
		}
		v.Map = d
	}
	return v, nil
}

// odds tells what one cast in ten exceeds: the grade is that of a usual one.
func (l *FlashLine) odds() string {
	return fmt.Sprintf("In 1 of 10 casts more than %s g stays in, more than %s g gets out.", significant(l.Flash.P90), significant(l.Leak.P90))
}

// gaps lists what makes the gap, with how each is found.
func (l *FlashLine) gaps() table {
	t := table{Name: "gap of " + l.Name, Head: []string{"gap from", "expected µm", "at worst µm", "how"}, Wide: true}
	for _, c := range l.Gap.Parts {
		t.Rows = append(t.Rows, []string{c.Name, micron(c.Expected), micron(c.Worst), c.Method})
	}
	t.Rows = append(t.Rows, []string{"all", micron(l.Gap.Expected), micron(l.Gap.Worst),
		fmt.Sprintf("mean distance of the faces along the seam; 10, 50, 90 %% of the draws lie below %s, %s, %s", micron(l.Gap.Band.P10), micron(l.Gap.Band.P50), micron(l.Gap.Band.P90))})
	return t
}

// exits lists the ways out of a line, and how far the rubber gets toward them.
func (l *FlashLine) exits() table {
	t := table{Name: "ways out of " + l.Name, Head: []string{"way out", "least land mm", "nearest along mm of seam"}}
	for _, x := range l.Exits {
		if x.Kind == flash.ExitNeighbor {
			continue // it begins at the seam, and nothing runs out there
		}
		along := number(x.Seam, 0)
		if x.Seam == 0 {
			along = "never"
		}
		t.Rows = append(t.Rows, []string{exitWords(x.Kind), number(x.Least, 1), along})
	}
	return t
}

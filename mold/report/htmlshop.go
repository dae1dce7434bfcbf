package report

import (
	"html/template"
	"strings"

	"wheelmold/mold/shop/paper"
)

// shopView is the section for a machine shop.
type shopView struct {
	Cutting piecewise
	Effort  *piecewise
	Sheets  []drawn
}

// piecewise is a table of pieces, and what there is to say beside it.
type piecewise struct {
	Lead        string
	Table, Rest table
}

// shop is what a machine shop asks for; nil where everything is printed.
func (p *Page) shop() (*shopView, error) {
	m, e := p.Build.Machining, p.Build.Effort
	if m == nil {
		return nil, nil
	}
	v := &shopView{Cutting: piecewise{upper(m.lead()), toldRows(m.table).headed().called("milled and turned pieces"), toldRows(m.findings)}}
	if e != nil {
		v.Effort = &piecewise{upper(e.lead()), toldRows(e.table).headed().called("stock and effort"), toldRows(e.sum)}
	}
	for _, s := range p.Shop {
		var b strings.Builder
		if err := paper.WriteSVG(&b, s); err != nil {
			return nil, err
		}
		v.Sheets = append(v.Sheets, drawn{ID: "sheet-" + s.ID, Title: s.Title, SVG: template.HTML(b.String())})
	}
	return v, nil
}

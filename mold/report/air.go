package report

import "wheelmold/mold/pour"

// Air is where air stays in the cavity.
type Air struct{}

func airOf(a *pour.Air) Air { return Air{} }

func (a *Air) text(p *page) {}

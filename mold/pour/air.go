package pour

import "wheelmold/mold"

// Air is what air does in the cavity.
type Air struct{}

func airOf(m *mold.Mold, flow Pouring) (Air, error) { return Air{}, nil }

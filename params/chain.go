package params

import "strings"

// Chain is a roller chain of ISO 606, in mm; from memory.
type Chain struct {
	Name   string
	Inches string // its pitch
	Pitch  float64
	Roller float64 // diameter of its rollers, or of its bushes where it has none
}

// Chains are those whose sprockets can be told.
var Chains = []Chain{
	{"04C", "1/4", 6.35, 3.30},
	{"06C", "3/8", 9.525, 5.08},
	{"08A", "1/2", 12.70, 7.92},
}

// ChainOf finds a chain by its name.
func ChainOf(name string) (Chain, bool) {
	for _, c := range Chains {
		if c.Name == name {
			return c, true
		}
	}
	return Chain{}, false
}

// MostTeeth is how many teeth a sprocket may have.
const MostTeeth = 200

// chainNames are the options of hub.sprocket.chain.
func chainNames() []string {
	out := []string{"none"}
	for _, c := range Chains {
		out = append(out, c.Name)
	}
	return out
}

// chainPitches tell them apart for the job file.
func chainPitches() string {
	var out []string
	for i, c := range Chains {
		verb := ""
		if i == 0 {
			verb = "is a pitch "
		}
		out = append(out, c.Name+" "+verb+"of "+c.Inches+" in")
	}
	return strings.Join(out, ", ")
}

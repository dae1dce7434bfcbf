package service

import "wheelmold/mold/portable"

// Band is Young's modulus of an unfilled elastomer by its hardness, Pa: three published
// relations, which agree within 15 % from 50 to 80 Shore A but for the highest.
type Band struct{ Low, Mid, High float64 }

// Least and most Shore A for which all three relations are stated.
const (
	LeastHardness = 30.0
	MostHardness  = 80.0
)

// Modulus is the band for a hardness in Shore A, above 0 and below 100: the least and the
// most of Gent's relation, error function and log-linear fit, and Gent's between them.
// Beyond the range of all three, Gent's runs away: there it is the middle one.
func Modulus(shoreA float64) Band {
	g, e, l := gent(shoreA), errorFunction(shoreA), logLinear(shoreA)
	b := Band{min(g, e, l), g, max(g, e, l)}
	if !Sure(shoreA) {
		b.Mid = g + e + l - b.Low - b.High
	}
	return b
}

// Sure tells whether all three relations are stated for a hardness in Shore A.
func Sure(shoreA float64) bool { return shoreA >= LeastHardness && shoreA <= MostHardness }

// gent is A. N. Gent, "On the relation between indentation hardness and Young's modulus",
// Trans. Inst. Rubber Ind. 34 (1958), best from 20 to 80 Shore A; Pa.
func gent(s float64) float64 {
	return 0.0981e6 * (56 + 7.62336*s) / (0.137505 * (254 - 2.54*s))
}

// logLinear is log10 E = 0.0235 S - 0.6403 in MPa, stated from 20 to 80 Shore A and
// usually cited to Qi, Joyce and Boyce, Rubber Chem. Technol. 76 (2003), from memory; Pa.
func logLinear(s float64) float64 { return 1e6 * portable.Pow(10, 0.0235*s-0.6403) }

// errorFunction solves S = 100 erf(3.186e-4 √E), the British standard's relation, stated
// from 30 to 90 Shore A; Pa.
func errorFunction(s float64) float64 {
	root := portable.Erfinv(s/100) / 3.186e-4
	return root * root
}

package params

// What is expected of a hub while the rubber is liquid: so many kelvin above the
// room, and so much of the growth that moisture may bring (both assumed).
const (
	HubWarmth     = 5.0
	MoistureShare = 0.3
)

// expansions of hub materials in 1/K: nylon 6 and acetal copolymer as published;
// printed: PLA, from memory.
var expansions = map[string]float64{"nylon": 81e-6, "acetal": 85e-6, "printed": 68e-6}

// HubExpansion is the linear expansion of the hub's material, 1/K.
func (j *Job) HubExpansion() float64 { return expansions[j.Hub.Material] }

// HubGrowth is by how much a hub of a length in mm is expected to outgrow the mold
// until the rubber gels, by heat and moisture, mm.
func (j *Job) HubGrowth(length float64) float64 {
	return length * (j.HubExpansion()*HubWarmth + j.Hub.Moisture*MoistureShare)
}

package mold

// JackTravel is how far a jack screw pushes pieces apart, mm. Assumed: after that they
// come apart by hand.
const JackTravel = 3.0

// Least is how long a jack screw has to be under its head to push JackTravel beyond the
// parting face, mm.
func (k *Jack) Least() float64 { return k.Length - jackPast + JackTravel }

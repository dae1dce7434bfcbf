package mesh

// Least narrows a minimum of f between a and b by so many golden sections, and returns
// where it is and how low. The place is found to the root of rounding at best, the value
// to rounding. Of several minima it finds one.
func Least(f func(float64) float64, a, b float64, sections int) (t, v float64) {
	const golden = 0.6180339887498949
	p, q := b-golden*(b-a), a+golden*(b-a)
	fp, fq := f(p), f(q)
	for range sections {
		if fp < fq {
			b, q, fq = q, p, fp
			p = b - golden*(b-a)
			fp = f(p)
		} else {
			a, p, fp = p, q, fq
			q = a + golden*(b-a)
			fq = f(q)
		}
	}
	if fp < fq {
		return p, fp
	}
	return q, fq
}

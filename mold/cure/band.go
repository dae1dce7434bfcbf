package cure

// band is a symmetric matrix that is 0 far from its diagonal: of each row what begins at
// the diagonal. It is worked on in one order, where kernels for one processor or another
// each sum in their own, so that every machine finds the same.
type band [][]float64

// newBand is a matrix of zeros with so many rows, and elements beside the diagonal.
func newBand(n, beside int) band {
	b := make(band, n)
	for i := range b {
		b[i] = make([]float64, min(beside, n-1-i)+1)
	}
	return b
}

// solve turns the right-hand side into the solution, and the matrix into D·R of its
// factors Rᵀ·D·R with ones on R's diagonal (Cholesky's without roots). It reports whether
// the matrix is positive definite.
func (b band) solve(x []float64) bool {
	for i, row := range b {
		if !(row[0] > 0) {
			return false
		}
		for k := 1; k < len(row); k++ {
			share := row[k] / row[0]
			below := b[i+k][:len(row)-k]
			for m, v := range row[k:] {
				below[m] -= share * v
			}
			x[i+k] -= share * x[i]
		}
	}
	for i := len(b) - 1; i >= 0; i-- {
		for k, v := range b[i][1:] {
			x[i] -= v * x[i+1+k]
		}
		x[i] /= b[i][0]
	}
	return true
}

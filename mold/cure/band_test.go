package cure

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Bands of any width are solved as another solver does it.
func TestBandSolves(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		n := 1 + r.IntN(30)
		beside := r.IntN(n)
		b, dense, x := newBand(n, beside), mat.NewSymDense(n, nil), make([]float64, n)
		for i, row := range b {
			x[i] = r.NormFloat64()
			for k := range row {
				row[k] = r.NormFloat64()
				if k == 0 {
					row[k] = 2*float64(beside) + 4*r.Float64() // dominant in most, and so definite
				}
				dense.SetSym(i, i+k, row[k])
			}
		}
		var chol mat.Cholesky
		var want mat.VecDense
		definite := chol.Factorize(dense)
		if definite {
			if err := chol.SolveVecTo(&want, mat.NewVecDense(n, append([]float64{}, x...))); err != nil {
				t.Fatal(err)
			}
		}
		if got := b.solve(x); got != definite {
			t.Fatalf("%d rows, %d beside: positive definite %v, want %v", n, beside, got, definite)
		} else if !got {
			continue
		}
		for i, v := range x {
			if math.Abs(v-want.AtVec(i)) > 1e-9*mat.Norm(&want, math.Inf(1)) {
				t.Errorf("%d rows, %d beside: unknown %d is %g, want %g", n, beside, i, v, want.AtVec(i))
			}
		}
	}
}

// A matrix that is not positive definite has no solution here.
func TestBandRefuses(t *testing.T) {
	for _, off := range []float64{1, 1.5, math.NaN()} {
		if (band{{1, off}, {1}}).solve([]float64{1, 1}) {
			t.Errorf("1 %g, %g 1 is solved", off, off)
		}
	}
}

func BenchmarkCured(b *testing.B) {
	l := Layer{Core: 20, Outer: 24, Width: 40}
	for b.Loop() {
		if m, _ := l.Cured(0.01); m >= l.Outer {
			b.Fatal("nothing shrinks")
		}
	}
}

package fem

import (
	"errors"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// banded is a symmetric matrix whose entries lie near its diagonal: row i holds those from
// (i, i) to (i, i+k).
type banded struct {
	n, k int
	data []float64
}

func newBanded(n, k int) *banded { return &banded{n, k, make([]float64, n*(k+1))} }

// add adds to an entry; its mirror image stands for both.
func (b *banded) add(i, j int, v float64) {
	if j < i {
		i, j = j, i
	}
	b.data[i*(b.k+1)+j-i] += v
}

// errLoose is returned when something of a plate is not held.
var errLoose = errors.New("the plate is not held")

// factor replaces the matrix by the upper factor of Cholesky.
func (b *banded) factor() error {
	_, ok := lapack64.Pbtrf(blas64.SymmetricBand{Uplo: blas.Upper, N: b.n, K: b.k, Data: b.data, Stride: b.k + 1})
	if !ok {
		return errLoose
	}
	return nil
}

// substitute replaces right-hand sides by their solutions, by the factor.
func (b *banded) substitute(rhs [][]float64) {
	blas := blas64.Implementation()
	row := func(i int) []float64 { return b.data[i*(b.k+1) : i*(b.k+1)+min(b.k, b.n-1-i)+1] }
	for i := range b.n {
		u := row(i)
		m := len(u) - 1
		for _, x := range rhs {
			x[i] /= u[0]
			if m > 0 && x[i] != 0 {
				blas.Daxpy(m, -x[i], u[1:], 1, x[i+1:], 1)
			}
		}
	}
	for i := b.n - 1; i >= 0; i-- {
		u := row(i)
		m := len(u) - 1
		for _, x := range rhs {
			if m > 0 {
				x[i] -= blas.Ddot(m, u[1:], 1, x[i+1:], 1)
			}
			x[i] /= u[0]
		}
	}
}

package circuit

import "math"

// factors are a square matrix of n rows as the product of a lower and an upper triangular matrix, rows
// exchanged: Gaussian elimination with partial pivoting (Golub and Van Loan, Matrix Computations, chapter
// 3). Rows of a tableau hold a handful of entries, so zeros are skipped where they can be.
type factors struct {
	n      int
	a      []float64 // row by row, both triangles
	swap   []int     // the row that step k exchanged with row k
	filled []int     // columns of the pivot row that are not zero
}

// factorize factors the matrix in a, row by row, in place. It is false when the matrix is singular.
func (f *factors) factorize(n int, a []float64) bool {
	if cap(f.swap) < n {
		room := make([]int, 2*n)
		f.swap, f.filled = room[:n:n], room[n:]
	}
	f.n, f.a, f.swap = n, a, f.swap[:n]
	for k := 0; k < n; k++ {
		best, largest := k, math.Abs(a[k*n+k])
		for r := k + 1; r < n; r++ {
			if v := math.Abs(a[r*n+k]); v > largest {
				best, largest = r, v
			}
		}
		if !(largest > 0) || math.IsInf(largest, 1) {
			return false
		}
		f.swap[k] = best
		pivot := a[k*n : k*n+n]
		if best != k {
			other := a[best*n : best*n+n]
			for c := range pivot {
				pivot[c], other[c] = other[c], pivot[c]
			}
		}
		filled := f.filled[:0]
		for c := k + 1; c < n; c++ {
			if pivot[c] != 0 {
				filled = append(filled, c)
			}
		}
		for r := k + 1; r < n; r++ {
			row := a[r*n : r*n+n]
			if row[k] == 0 {
				continue
			}
			share := row[k] / pivot[k]
			row[k] = share
			for _, c := range filled {
				row[c] -= share * pivot[c]
			}
		}
	}
	return true
}

// solve turns the right-hand side in x into the solution.
func (f *factors) solve(x []float64) {
	n := f.n
	for k, other := range f.swap {
		x[k], x[other] = x[other], x[k]
	}
	for r := 1; r < n; r++ {
		sum := x[r]
		for c, v := range f.a[r*n : r*n+r] {
			sum -= v * x[c]
		}
		x[r] = sum
	}
	for r := n - 1; r >= 0; r-- {
		sum, row := x[r], f.a[r*n:r*n+n]
		for c := r + 1; c < n; c++ {
			sum -= row[c] * x[c]
		}
		x[r] = sum / row[r]
	}
}

// largestOf is the largest magnitude in a vector; not a number where one entry is not.
func largestOf(x []float64) float64 {
	largest := 0.0
	for _, v := range x {
		largest = math.Max(largest, math.Abs(v))
	}
	return largest
}

// finite says whether no entry of a vector is infinite or not a number.
func finite(x []float64) bool {
	for _, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

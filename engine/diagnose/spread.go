package diagnose

import (
	"math"

	"plumbline/engine"
)

// endsAt is how many standard deviations the ends of a usual value lie from its middle: one vehicle in twenty lies beyond each.
const endsAt = 1.645

// moved works out how far each usual value moves some readings of the sound vehicle, by one standard deviation of it.
func (v *vehicle) moved(lib *engine.Library, u *engine.Usual, o engine.Options, probes []*probe) {
	for _, p := range probes {
		p.moves = make([]float64, len(u.Numbers))
	}
	for k := range u.Numbers {
		ends := [2][]float64{}
		for i, to := range []float64{-1, 1} {
			d := u.Moved(k, to)
			asMeasured(d)
			s := lib.Session(d, o)
			for _, p := range probes {
				ends[i] = append(ends[i], number(s.Named(p.Expects)))
			}
		}
		for i, p := range probes {
			if !p.Decl.Tuned { // whoever tuned took out what is usual
				p.moves[k] = step(ends[0][i], p.sound, ends[1][i])
			}
		}
	}
}

// step is how far a reading moves with one standard deviation of a number whose ends show low and high. Where nothing can be
// expected at an end, the other tells.
func step(low, middle, high float64) float64 {
	down, up := (middle-low)/endsAt, (high-middle)/endsAt
	switch {
	case math.IsNaN(down) && math.IsNaN(up):
		return 0
	case math.IsNaN(down):
		return up
	case math.IsNaN(up):
		return down
	}
	return (down + up) / 2
}

// scale weighs how far readings lie from what would be shown. Each is off by what its instrument may be and sound vehicles
// scatter, by itself, and all together by what is usual of facts nobody stated: a regulator that holds more than usual moves
// every pressure alike. So differences between readings tell what each alone does not. The sums of squares are those of
// generalised least squares: with the covariance C, its diagonal the instruments' and the moves of usual values beside it, r' C^-1 r.
type scale struct {
	taken []*probe
	sigma []float64
	moves [][]float64 // of each reading, by number
	lower [][]float64 // Cholesky's triangle of C
}

func newScale(taken []*probe) *scale {
	s := &scale{taken: taken}
	for _, p := range taken {
		s.sigma, s.moves = append(s.sigma, p.sigma(p.measured)), append(s.moves, p.moves)
	}
	s.factor()
	return s
}

// factor is Cholesky's decomposition of C.
func (s *scale) factor() {
	s.lower = make([][]float64, len(s.taken))
	for i := range s.taken {
		s.lower[i] = make([]float64, i+1)
		for k := range i + 1 {
			sum := dot(s.moves[i], s.moves[k])
			if i == k {
				sum += s.sigma[i] * s.sigma[i]
			}
			for m := range k {
				sum -= s.lower[i][m] * s.lower[k][m]
			}
			if i == k {
				s.lower[i][i] = math.Sqrt(sum)
			} else {
				s.lower[i][k] = sum / s.lower[k][k]
			}
		}
	}
}

func dot(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// total is the whole standard deviation of a reading.
func (s *scale) total(i int) float64 {
	return math.Sqrt(s.sigma[i]*s.sigma[i] + dot(s.moves[i], s.moves[i]))
}

// apart is how far the readings lie from what would be shown, less what a trouble may change of them otherwise than it was worked
// out. One that was taken and could not have been with a trouble counts as lostReading standard deviations.
func (s *scale) apart(shows []float64) []float64 {
	out := make([]float64, len(shows))
	for i, p := range s.taken {
		if out[i] = p.measured - shows[i]; math.IsNaN(shows[i]) {
			out[i] = lostReading * s.total(i)
		} else if p.Reading != nil && p.Change > 0 {
			loose := p.Change * math.Abs(shows[i]-p.as(p.sound))
			out[i] = math.Copysign(math.Max(math.Abs(out[i])-loose, 0), out[i])
		}
	}
	return out
}

// whitened solves L y = r.
func (s *scale) whitened(r []float64) []float64 {
	y := make([]float64, len(r))
	for i := range r {
		sum := r[i]
		for k := range i {
			sum -= s.lower[i][k] * y[k]
		}
		y[i] = sum / s.lower[i][i]
	}
	return y
}

// misfit is the sum of squares r' C^-1 r.
func (s *scale) misfit(shows []float64) float64 {
	y := s.whitened(s.apart(shows))
	return dot(y, y)
}

// solved is C^-1 r.
func (s *scale) solved(r []float64) []float64 {
	x := s.whitened(r)
	for i := len(x) - 1; i >= 0; i-- {
		x[i] /= s.lower[i][i]
		for k := range i {
			x[k] -= s.lower[i][k] * x[i]
		}
	}
	return x
}

// left is how many of its own standard deviations each reading is off once usual values lie where they fit best.
func (s *scale) left(r []float64) []float64 {
	x := s.solved(r)
	for i := range x {
		x[i] *= s.sigma[i]
	}
	return x
}

// lying is where usual values lie that fit best, in standard deviations.
func (s *scale) lying(r []float64) []float64 {
	if len(s.moves) == 0 {
		return nil
	}
	out := make([]float64, len(s.moves[0]))
	for i, x := range s.solved(r) {
		for k, m := range s.moves[i] {
			out[k] += m * x
		}
	}
	return out
}

// doubt is the standard deviation that usual values leave to a reading that was not taken, once those taken are known.
func (s *scale) doubt(p *probe) float64 {
	across := make([]float64, len(s.moves))
	for i, m := range s.moves {
		across[i] = dot(m, p.moves)
	}
	return math.Sqrt(math.Max(dot(p.moves, p.moves)-dot(across, s.solved(across)), 0))
}

// told is by how much more two vehicles would differ, in the measure of the misfit, were one number known: Sherman and
// Morrison's formula for C less the square of what the number moves.
func (s *scale) told(a, b []float64, number int) float64 {
	column, apart := make([]float64, len(s.moves)), make([]float64, len(s.moves))
	for i, m := range s.moves {
		column[i] = m[number]
		if apart[i] = a[i] - b[i]; math.IsNaN(apart[i]) {
			apart[i] = 0
		}
	}
	x := s.solved(column)
	along := dot(x, apart)
	return along * along / math.Max(1-dot(x, column), 1e-9)
}

package diagnose

import "math"

// Unseen is what a vehicle may have that is called sound: troubles that, as large as they are often found, move no reading taken by
// its margin.
type Unseen struct {
	Troubles []UnseenTrouble `json:"troubles"`
	// Next is the reading not taken that would show most of them, the least work first; "" where none would.
	Next  string `json:"next,omitempty"`
	Title string `json:"title,omitempty"`
	How   string `json:"how,omitempty"`
	// Shows is how many it would show.
	Shows int `json:"shows,omitempty"`
}

// UnseenTrouble is one of them with its usual size.
type UnseenTrouble struct {
	ID    string `json:"trouble"`
	Title string `json:"title"`
}

// unseen looks for them.
func (r *running) unseen() *Unseen {
	out := &Unseen{}
	sound := r.shows(r.probes)
	would := make([]int, len(r.probes))
	for _, t := range r.troubles {
		r.put(t, t.Usual)
		shows := r.shows(r.probes)
		r.put(t, t.Sound)
		seen := make([]bool, len(r.probes))
		for i, p := range r.probes {
			margin := 2 * math.Hypot(p.sigma(sound[i]), math.Sqrt(dot(p.moves, p.moves)))
			seen[i] = math.IsNaN(shows[i]) || math.Abs(shows[i]-sound[i]) > margin
		}
		if r.anyTaken(seen) {
			continue
		}
		out.Troubles = append(out.Troubles, UnseenTrouble{t.ID, t.Decl.Title})
		for i := range seen {
			if seen[i] {
				would[i]++
			}
		}
	}
	if len(out.Troubles) == 0 {
		return nil
	}
	for i, p := range r.probes {
		better := would[i] > out.Shows || would[i] == out.Shows && out.Shows > 0 && p.Decl.Effort < r.effort(out.Next)
		if !p.taken() && better {
			out.Next, out.Title, out.How, out.Shows = p.Fact, p.Decl.Title, p.Decl.How, would[i]
		}
	}
	return out
}

// anyTaken reports whether any of the readings marked was taken.
func (r *running) anyTaken(marked []bool) bool {
	for i, p := range r.probes {
		if marked[i] && p.taken() {
			return true
		}
	}
	return false
}

// effort is the work a reading asks for.
func (r *running) effort(fact string) int {
	for _, p := range r.probes {
		if p.Fact == fact {
			return p.Decl.Effort
		}
	}
	return 0
}

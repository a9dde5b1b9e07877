package derive

import (
	"strings"

	"plumbline/schema"
)

// RestsOn names those of the given values, by path, that another value of the
// session rests on: that it was computed from, or that were solved together with
// something it was computed from. Values never asked for are not known here.
type RestsOn struct {
	results map[string]*Result
	// under are the solved systems of the values asked about, with their paths.
	under map[*Result]string
	paths map[string]bool
	found map[*Result][]string
}

// Resting prepares to ask which values rest on those at the paths.
func (s *Session) Resting(paths []string) *RestsOn {
	out := &RestsOn{results: map[string]*Result{}, under: map[*Result]string{}, paths: map[string]bool{}, found: map[*Result][]string{}}
	for _, path := range paths {
		s.ask(path)
	}
	for _, list := range s.values {
		for _, r := range list {
			if r != nil {
				out.results[r.Path] = r
			}
		}
	}
	for _, path := range paths {
		out.paths[path] = true
		if r := out.results[path]; r != nil {
			if system := solved(r); system != nil {
				out.under[system] = path
			}
		}
	}
	return out
}

// ask evaluates a value of the whole design by its path, at.idle.pump_flow.
func (s *Session) ask(path string) {
	for _, p := range Points() {
		if name, is := strings.CutPrefix(path, "at."+p.String()+"."); is {
			s.At(p, name)
		}
	}
}

// Of are the paths that the value at a path rests on, itself included.
func (o *RestsOn) Of(path string) []string {
	r := o.results[path]
	if r == nil {
		return nil
	}
	return o.of(r)
}

func (o *RestsOn) of(r *Result) []string {
	if known, done := o.found[r]; done {
		return known
	}
	o.found[r] = nil
	var out []string
	if o.paths[r.Path] && r.Path != "" {
		out = append(out, r.Path)
	}
	if path := o.under[r]; path != "" {
		out = appendNew(out, path)
	}
	for _, in := range r.reads {
		if other, is := in.(*Result); is {
			for _, path := range o.of(other) {
				out = appendNew(out, path)
			}
		}
	}
	o.found[r] = out
	return out
}

// FactsOf are the facts that the formula of the value at a path reads itself, those of the values it is made of apart.
func (s *Session) FactsOf(path string) []schema.Reading {
	var out []schema.Reading
	for _, list := range s.values {
		for _, r := range list {
			if r == nil || r.Path != path {
				continue
			}
			for _, in := range r.reads {
				if fact, is := in.(schema.Reading); is {
					out = append(out, fact)
				}
			}
		}
	}
	return out
}

// mostBlamed is how many facts are named as those a value failed on.
const mostBlamed = 6

// Blamed are the stated facts that a value without a fact missing failed on:
// those read where the reason arose. One of them is not so, or the design needs
// another.
func (r *Result) Blamed() []string {
	var out []string
	seen := map[*Result]bool{}
	var visit func(*Result)
	visit = func(r *Result) {
		if seen[r] || r.Reason == "" || len(out) >= mostBlamed {
			return
		}
		seen[r] = true
		deeper := false
		for _, in := range r.reads {
			if other, is := in.(*Result); is && other.Reason != "" {
				deeper = true
				visit(other)
			}
		}
		if deeper {
			return
		}
		before := len(out)
		facts := func(reads []reading) {
			for i := len(reads) - 1; i >= 0 && len(out) < mostBlamed; i-- {
				if fact, is := reads[i].(schema.Reading); is {
					out = appendNew(out, fact.Path())
				}
			}
		}
		facts(r.reads)
		for _, in := range r.reads {
			if m := memoOf(in); m != nil && len(out) == before {
				facts(m.reads)
			}
		}
	}
	visit(r)
	return out
}

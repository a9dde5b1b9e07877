package sheet

import (
	"cmp"

	"plumbline/engine"
)

// worse orders findings: what certainly fails first, then what fails with anything usual, then what is to be added, then what
// only warns; of each the worst danger.
func (b *builder) worse(x, y *engine.Finding) int {
	weight := func(f *engine.Finding) int {
		switch lean := f.Leaning; {
		case f.Outcome == engine.Fail && b.lacks(f) && !f.Danger.Grave():
			return 2
		case f.Outcome == engine.Fail:
			return 0
		case f.Outcome == engine.Open && (lean == nil || lean.Worst == engine.Fail):
			return 1
		case f.Outcome == engine.Open:
			return 4
		}
		return 3
	}
	return cmp.Or(weight(x)-weight(y), x.Danger.Rank()-y.Danger.Rank())
}

// likelier orders findings that turn: those that fail with all usual values first, then the worst danger.
func likelier(x, y *engine.Finding) int {
	return cmp.Or(x.Leaning.Likely.Rank()-y.Leaning.Likely.Rank(), x.Danger.Rank()-y.Danger.Rank())
}

// deciding is the finding that a part that is right is judged by: the one it is bought for, else the one whose number is
// nearest to its limit; nil when none has a number.
func deciding(list []*engine.Finding) *engine.Finding {
	for _, rule := range headlines {
		for _, f := range list {
			if f.Rule == rule {
				return f
			}
		}
	}
	var best *engine.Finding
	least := 0.0
	for _, f := range list {
		if f.Leaning != nil && f.Leaning.Lean == engine.Turns {
			continue
		}
		if m := margin(f); m != nil && (best == nil || *m < least) {
			best, least = f, *m
		}
	}
	return best
}

func margin(f *engine.Finding) *float64 {
	bounds := f.Bounds
	if f.Leaning != nil {
		bounds = f.Leaning.Bounds
	}
	var out *float64
	for i := range bounds {
		if m := bounds[i].Margin; m != nil && (out == nil || *m < *out) {
			out = m
		}
	}
	return out
}

package proof

import (
	"strconv"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// leaf is one fact or derived value that a rule reads, and what it may be tried with, the usual value first.
type leaf struct {
	path      string
	derived   bool
	choices   []string
	dimension quantity.Dimension
	plain     bool
	low, high float64
}

// value reads a number of the leaf.
func (x *leaf) value(text string) float64 {
	if x.plain {
		n, _ := strconv.ParseFloat(text, 64)
		return n
	}
	v, err := quantity.Parse(text, x.dimension)
	if err != nil {
		return x.low
	}
	return v.SI()
}

// text writes a number of the leaf exactly.
func (x *leaf) text(si float64) string { return x.rounded(si, 0) }

// rounded writes a number of the leaf with some digits, or exactly for none.
func (x *leaf) rounded(si float64, digits int) string {
	if x.plain {
		if digits == 0 {
			digits = -1
		}
		return strconv.FormatFloat(si, 'g', digits, 64)
	}
	v, err := quantity.New(si, x.dimension)
	if err != nil {
		return ""
	}
	if digits > 0 {
		return v.FormatDigits(quantity.Metric, digits)
	}
	text, err := v.Exact()
	if err != nil {
		return ""
	}
	return text
}

// leavesOf are the facts and derived values that the expressions of a rule read.
func leavesOf(l *engine.Library, r *rule.Rule) []leaf {
	var out []leaf
	seen := map[string]bool{}
	list := ""
	if r.Each != nil {
		if list = r.List(); !l.Vocabulary().HasPath(list) || derive.ViewAt(list) != nil {
			return nil // a view gathers from several lists
		}
	}
	for _, p := range r.Deciding() {
		for _, path := range p.Facts {
			fact := path
			if rest, is := strings.CutPrefix(path, r.EachVar+"."); is && r.EachVar != "" {
				fact = list + "[]." + rest
			}
			if seen[fact] {
				continue
			}
			seen[fact] = true
			if x, ok := factLeaf(l, fact); ok {
				out = append(out, x)
			} else if x, ok := derivedLeaf(l, r, path); ok {
				out = append(out, x)
			}
		}
	}
	return out
}

func factLeaf(l *engine.Library, path string) (leaf, bool) {
	x := leaf{path: path}
	if part, is := strings.CutSuffix(path, ".fitted"); is && l.Declared().Describe(part).Field.Kind == schema.KindMaybe {
		x.path, x.choices = part, []string{"", "none"}
		return x, true
	}
	d := l.Declared().Describe(path)
	switch d.Field.Kind {
	case schema.KindWord:
		x.choices = append([]string{d.Example}, d.Words...)
	case schema.KindBool:
		x.choices = []string{"true", "false"}
	case schema.KindInt, schema.KindQuantity:
		x.choices = []string{d.Example, d.Field.Low, d.Field.High}
		if x.dimension = d.Field.Dimension; d.Field.Kind == schema.KindQuantity {
			part, key := path[:strings.LastIndexByte(path, '.')], path[strings.LastIndexByte(path, '.')+1:]
			x.low, x.high, _ = l.Declared().RangeOf(l.Declared().TypeAt(part), key)
		}
	case schema.KindDate, schema.KindText:
		x.choices = []string{d.Example}
	default:
		return x, false
	}
	return x, x.choices[0] != ""
}

func derivedLeaf(l *engine.Library, r *rule.Rule, path string) (leaf, bool) {
	if !strings.HasPrefix(path, "at.") && !strings.HasPrefix(path, "design.") && (r.EachVar == "" || !strings.HasPrefix(path, r.EachVar+".")) || strings.Contains(path, "[]") {
		return leaf{}, false
	}
	_, e, err := derivedPath(l, r, l.Declared().Empty(), path)
	if err != nil {
		return leaf{}, false
	}
	x := leaf{path: path, derived: true, dimension: e.Dimension}
	switch {
	case e.Kind == derive.Truth:
		x.choices = []string{"true", "false"}
	case e.Kind == derive.Text:
		x.choices = e.Words
	case e.Kind == derive.Number || e.Dimension == quantity.DimRatio:
		x.plain, x.dimension, x.choices, x.low, x.high = true, quantity.None, []string{"1.0", "0.1", "10.0"}, 1e-3, 1e4
	default:
		v, err := quantity.Parse(quantity.Example(e.Dimension), e.Dimension)
		if err != nil {
			return leaf{}, false
		}
		x.choices, x.low, x.high = []string{quantity.Example(e.Dimension)}, v.SI()/1000, v.SI()*1000
	}
	return x, len(x.choices) > 0
}

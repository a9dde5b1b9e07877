package derive

import (
	"reflect"

	"plumbline/schema"
)

// Link leads from a part of a design to another one: from a joint to the hose
// in it. Rules follow it like a field and read the facts found there.
type Link struct {
	// Name is the link's name in rules, On the schema type it belongs to.
	Name, On string
	// Meaning is one line.
	Meaning string
	// Item is the schema type it leads to.
	Item reflect.Type
	// Find gives a pointer to the part; nil when c lacks something.
	Find func(c *Calc) any
}

// Links lists the links there are.
func Links() []Link { return jointLinks() }

// Follow gives the part a link leads to from a part, and what was read on the
// way; without a part, what is missing or absent.
func (s *Session) Follow(l *Link, part any) (any, *Result) {
	c := s.begin(nil, part, NoPoint)
	to := l.Find(c)
	r := &Result{Name: l.Name}
	s.end(c, r)
	if !r.Known() || to == nil || reflect.ValueOf(to).IsNil() {
		return nil, r
	}
	return to, r
}

func jointLinks() []Link {
	end := reflect.TypeFor[schema.LineEnd]()
	half := func(pick func(j *Joint) Half) func(c *Calc) any {
		return func(c *Calc) any {
			if j := joint(c); j != nil {
				return pick(j).End
			}
			return nil
		}
	}
	return []Link{
		{Name: "before", On: "LineEnd", Item: end, Find: half(func(j *Joint) Half { return j.Before }),
			Meaning: "of a joint, the end the fuel comes from"},
		{Name: "after", On: "LineEnd", Item: end, Find: half(func(j *Joint) Half { return j.After }),
			Meaning: "of a joint, the end the fuel goes on by"},
		{Name: "hose", On: "LineEnd", Item: end, Meaning: "of a hose pushed over a spigot, the hose's end",
			Find: func(c *Calc) any {
				if hose, _, ok := hoseAndSpigot(c); ok {
					return hose.End
				}
				return nil
			}},
		{Name: "spigot", On: "LineEnd", Item: end, Meaning: "of a hose pushed over a spigot, the spigot",
			Find: func(c *Calc) any {
				if _, spigot, ok := hoseAndSpigot(c); ok {
					return spigot.End
				}
				return nil
			}},
	}
}

// joint is the joint the entry's end is half of.
func joint(c *Calc) *Joint {
	end := Part[schema.LineEnd](c)
	j := jointAt(c, end)
	if j == nil && !c.Lacks() {
		c.notThere(end.Path())
	}
	return j
}

// kinds reads what the two halves of the joint join by.
func kinds(c *Calc) (j *Joint, before, after string) {
	if j = joint(c); j == nil || j.Before.End == nil || j.After.End == nil {
		return j, "", ""
	}
	return j, word(c, &j.Before.End.Kind), word(c, &j.After.End.Kind)
}

// hoseAndSpigot finds the two halves of a joint that is a hose over a spigot;
// for other joints they are absent.
func hoseAndSpigot(c *Calc) (hose, spigot Half, ok bool) {
	j, before, after := kinds(c)
	switch {
	case c.Lacks() || before == "" || after == "":
		return hose, spigot, false
	case fitOf(before, after) != hoseOnSpigot:
		c.notThere(Part[schema.LineEnd](c).Path() + ".hose")
		return hose, spigot, false
	case before == "hose":
		return j.Before, j.After, true
	}
	return j.After, j.Before, true
}

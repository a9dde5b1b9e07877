package report

import (
	"cmp"
	"fmt"

	"plumbline/engine/sheet"
	"plumbline/schema"
)

// readFrom says where the facts of a part were read.
var readFrom = map[string]string{
	"part": "on the part itself", "box": "on its box", "sheet": "on its maker's sheet", "list": "in a supplier's list", "bench": "on the bench",
}

// shelved lists the parts that are taken from the shelf, and what the design states itself although its part says otherwise.
func (s *jobSheet) shelved() {
	if len(s.report.Shelved) == 0 {
		return
	}
	s.Blank()
	s.Heading("Parts of the shelf")
	for _, x := range s.report.Shelved {
		from, _ := x.Part.ReadFrom.Get()
		s.Para(indent, inner, fmt.Sprintf("%s: %s, read %s on %s (%s).", capital(s.shelvedName(x)), clean(x.Name), readFrom[string(from)], x.Part.ReadOn.Text(), place(x.Part.Place())))
		for _, k := range x.Kept {
			s.Para(inner, inner+2, fmt.Sprintf("%s (%s; the part: %s).", s.kept(x, k), place(k.Place), place(k.ShelfPlace)))
		}
	}
}

// shelvedName is what the design calls a part that is of the shelf.
func (s *jobSheet) shelvedName(x *schema.Shelved) string {
	return cmp.Or(clean(s.subjectOf(x.Path).name), factName(x.Path))
}

// kept tells a fact that a design states itself although the part it names says otherwise.
func (s *jobSheet) kept(x *schema.Shelved, k schema.Kept) string {
	return fmt.Sprintf("%s, %s: you state %s, and that counts; %s says %s", capital(s.shelvedName(x)), clean(sheet.Label(k.Path)), clean(k.Text), clean(x.Name), clean(k.Shelf))
}

// shelved lays them out.
func (l *layout) shelved(list []*schema.Shelved) []Shelved {
	var out []Shelved
	for _, x := range list {
		from, _ := x.Part.ReadFrom.Get()
		one := Shelved{Path: x.Path, Part: x.Name, ReadFrom: string(from), ReadOn: x.Part.ReadOn.Text(), Place: l.place(x.Part.Place())}
		for _, k := range x.Kept {
			one.Kept = append(one.Kept, Kept{k.Path, k.Text, l.place(k.Place), k.Shelf, l.place(k.ShelfPlace)})
		}
		out = append(out, one)
	}
	return out
}

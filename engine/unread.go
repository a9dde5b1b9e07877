package engine

import (
	"maps"
	"slices"
	"strings"

	"plumbline/engine/derive"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// facts are the paths of facts that were read; nil notes nothing.
type facts struct {
	paths map[string]bool
	// followed are the derived values already followed down to their facts.
	followed map[*derive.Result]bool
}

func newFacts() *facts {
	return &facts{paths: map[string]bool{}, followed: map[*derive.Result]bool{}}
}

// note adds what was read, derived values down to their facts.
func (f *facts) note(reads vocabulary.Reads) {
	if f == nil {
		return
	}
	for _, r := range reads.Facts {
		f.paths[r.Path()] = true
	}
	for _, values := range [][]*derive.Result{reads.Derived, reads.Decided} {
		for _, d := range values {
			d.Follow(f.followed, func(path string) { f.paths[path] = true })
		}
	}
}

// ofTheFile are facts about the design itself; the program reads them beside the rules.
var ofTheFile = []string{"design.plumbline", "design.title", "design.notes", "design.based_on", "design.leave_out", "design.complete", "design.stage", "design.regions", "design.concessions"}

// all are the paths; none where nothing was noted.
func (f *facts) all() []string {
	if f == nil {
		return nil
	}
	return slices.Sorted(maps.Keys(f.paths))
}

// unread lists the stated facts of a design that are not among those read. A name counts as read: it names the part in findings.
func (f *facts) unread(d *schema.Design) []FactRead {
	if f == nil {
		return nil
	}
	var out []FactRead
	schema.Walk(d, func(v schema.Visit) {
		about := func(path string) bool { return schema.Path(path).Holds(schema.Path(v.Path)) }
		if !schema.IsStated(v.Reading) || f.paths[v.Path] || v.Key == "name" || slices.ContainsFunc(ofTheFile, about) {
			return
		}
		out = append(out, FactRead{v.Path, v.Reading.Text(), v.Reading.Place()})
	})
	return out
}

// Readers are the rules and derived values that read a fact, named by the type of its part and its key: Run, bore.
// Words and texts of a rule that only print it do not count.
func (l *Library) Readers(part, key string) (rules, values []string) {
	rules = l.deciding(part + "." + key)
	for _, e := range derive.All().Entries() {
		if slices.ContainsFunc(e.Needs, func(need string) bool { return needs(need, part, key) }) {
			values = append(values, e.On+"."+e.Name)
		}
	}
	for _, v := range l.valued {
		if v.Prog != nil && slices.Contains(v.Prog.Fields, part+"."+key) {
			values = append(values, v.Path())
		}
	}
	return rules, values
}

// ValueReaders are the rules that decide by a derived value, named by the type of its part and its name.
func (l *Library) ValueReaders(on, name string) []string {
	return l.deciding(on+"."+name, vocabulary.PointOf(on)+"."+name)
}

// deciding are the rules that decide by one of these fields, each named by its type, or by a value of a pack that is worked out
// from one.
func (l *Library) deciding(fields ...string) []string {
	for again := true; again; {
		again = false
		for _, v := range l.valued {
			name := v.Entry.On + "." + v.Entry.Name
			if v.Prog != nil && !slices.Contains(fields, name) && slices.ContainsFunc(fields, func(f string) bool { return slices.Contains(v.Prog.Fields, f) }) {
				fields, again = append(fields, name), true
			}
		}
	}
	var out []string
	for _, r := range l.ready() {
		reads := func(p *vocabulary.Program) bool {
			return slices.ContainsFunc(fields, func(f string) bool { return slices.Contains(p.Fields, f) })
		}
		if slices.ContainsFunc(r.Deciding(), reads) {
			out = append(out, r.ID)
		}
	}
	return out
}

// needs reports whether what a derived value names among its needs is a fact of a part.
func needs(need, part, key string) bool {
	i := strings.LastIndexByte(need, '.')
	if i < 0 || need[i+1:] != key {
		return strings.HasPrefix(need, "design.") && schema.TypeAt(need) == part
	}
	base := need[:i]
	if strings.HasPrefix(base, "design.") || base == "design" {
		return schema.TypeAt(base) == part
	}
	last := base[strings.LastIndexByte(base, '.')+1:]
	return strings.EqualFold(strings.ReplaceAll(last, "_", ""), part)
}

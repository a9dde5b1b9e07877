package report

import "plumbline/engine"

// told are the entries of a part that the job sheet tells at length: what is wrong, then what is doubtful.
func (p *part) told() []*entry {
	if p.list == nil {
		p.list = append(entries(p.with(engine.Fail)), entries(p.with(engine.Warn))...)
	}
	return p.list
}

// numbered gives the entries of the parts their numbers, in the order of the job sheet.
func numbered(list []*part) []*part {
	n := 0
	for _, p := range list {
		for _, e := range p.told() {
			n++
			e.number = n
		}
	}
	return list
}

// Numbered are the findings that are wrong or doubtful as the job sheet numbers
// them: the first of the list is number 1. Findings of one cause share a number.
func Numbered(r *engine.Report) [][]*engine.Finding {
	var out [][]*engine.Finding
	for _, p := range numbered(parts(r)) {
		for _, e := range p.told() {
			out = append(out, e.all())
		}
	}
	return out
}

// numbersOf are the numbers of findings in the job sheet.
func numbersOf(r *engine.Report) map[*engine.Finding]int {
	out := map[*engine.Finding]int{}
	for i, list := range Numbered(r) {
		for _, f := range list {
			out[f] = i + 1
		}
	}
	return out
}

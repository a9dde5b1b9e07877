package report

import "io"

// SARIF writes the findings that are not met with their baselineState, and
// those of the stored report that are no longer found as absent: the standard
// (SARIF 2.1.0, 3.27.24) wants the state on every result of the run or on none.
// A finding that got worse, milder or a concession is updated.
func (c *Progress) SARIF(w io.Writer) error {
	form := &sarifForm{about: c.about, verbose: c.verbose}
	if err := form.Head(w); err != nil {
		return err
	}
	for _, d := range c.designs {
		p := newSARIFPiece(d.report)
		for i := range d.changes {
			x := &d.changes[i]
			switch {
			case !matters(x.now):
			case !c.verbose && quiet(x.now):
				p.openNotListed++
			default:
				r := p.result(x.now)
				r.Baseline, r.Properties.Before = x.baseline(), x.before
				r.Properties.Cautions = cautionsFor(d.report, x.now)
			}
		}
		for _, x := range d.mended() {
			if !matters(x.now) {
				p.absent(x, d.report.File)
			}
		}
		if err := form.Add(w, p.written()); err != nil {
			return err
		}
	}
	for i := range c.unread {
		if err := form.Add(w, form.Piece(c.unread[i])); err != nil {
			return err
		}
	}
	return form.Tail(w)
}

// baseline is the baselineState of a finding that matters now.
func (x *change) baseline() string {
	switch {
	case !matters(x.was):
		return "new"
	case x.since == isUnchanged:
		return "unchanged"
	}
	return "updated"
}

// absent adds a finding of the stored report as it was there, but for its
// place: where its subject stands now, or the design as a whole when it is gone.
func (l *sarifPiece) absent(x *change, file string) {
	was := *x.was
	was.Facts, was.Blocks = nil, false
	was.Place.File, was.Place.Line, was.Place.Column = file, 0, 0
	if x.now != nil {
		was.Place = x.now.Place
	}
	r := l.result(&was)
	r.Baseline, r.Properties.Before = "absent", x.before
}

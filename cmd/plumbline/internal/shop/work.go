package shop

import (
	"strconv"
	"strings"
	"time"

	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/engine/interview"
	"plumbline/engine/pattern"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Work is what a shop's designs are judged with, opened once: the library, the usual ways and the sizes that things are made in.
type Work struct {
	*Shop
	Library  *Library
	Patterns []*pattern.Pattern
	Sizes    []whatif.Series
	// Now is the clock; it decides how old things are.
	Now func() time.Time
}

// OpenWork opens the library with the packs of folders, and the usual ways with those of others.
func (s *Shop) OpenWork(rules, patterns []string, now func() time.Time) (*Work, error) {
	w := &Work{Shop: s, Now: now}
	var err error
	if w.Library, err = s.Open(rules); err != nil {
		return nil, err
	}
	if w.Patterns, err = s.OpenPatterns(patterns); err != nil {
		return nil, err
	}
	w.Sizes, err = s.OpenSeries()
	return w, err
}

// Options are those a design is judged with: with the usual ways, and in units, its own where they are nil.
func (w *Work) Options(d *schema.Design, units *quantity.System) engine.Options {
	o := engine.Options{Today: w.Now(), Patterns: w.Patterns, Units: schema.Habit(d)}
	if units != nil {
		o.Units = *units
	}
	return w.Defaults(d, o)
}

// Interview is how a design is asked about: with examples in the units of o, by the shop's regions and stage while none are stated.
// File, text and what is asked are the caller's.
func (s *Shop) Interview(lib *engine.Library, o engine.Options) interview.Options {
	standing := map[string]string{"design.stage": "planned"}
	if s.Settings.Stage != "" {
		standing["design.stage"] = s.Settings.Stage
	}
	if len(s.Settings.Regions) > 0 {
		standing["design.regions"] = strings.Join(s.Settings.Regions, ", ")
	}
	var places []interview.Choice
	for _, r := range lib.Regions() {
		places = append(places, interview.Choice{Word: r.Name, Meaning: r.Title})
	}
	return interview.Options{
		Units: o.Units, Regions: places, Standing: standing, Load: s.LoadText, Declared: s.Declared(),
		Judge:       func(d *schema.Design) *engine.Report { return lib.Judge(d, s.Defaults(d, o)) },
		CheckRegion: func(name string) error { return CheckRegions(lib, []string{name}) },
	}
}

// Papers is what papers are made of, of a design that was judged with o on a day.
func Papers(lib *engine.Library, d *schema.Design, r *engine.Report, o engine.Options, day time.Time) *sheet.Job {
	numbers := map[*engine.Finding]int{}
	for i, list := range report.Numbered(r) {
		for _, f := range list {
			numbers[f] = i + 1
		}
	}
	return &sheet.Job{Design: d, Report: r, Session: lib.Session(d, o), Packs: lib.Packs(), Units: o.Units,
		Number:  func(f *engine.Finding) int { return numbers[f] },
		Library: strconv.Itoa(lib.Edition()), Day: day.Format("2006-01-02"), Revision: schema.Revision(d),
		Diagnose: func() *diagnose.Diagnosis { return diagnose.Run(lib, d, o) }}
}

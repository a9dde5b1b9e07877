package planted

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"plumbline/engine"
	"plumbline/schema"
)

// Field is where mistakes are planted: builds, and the library they are judged by.
type Field struct {
	library *engine.Library
	designs fs.FS
	// The complaints about the builds before anything is planted.
	before map[string][]string
}

// day is the one everything is judged on: a date is in the future or an age too high whatever the clock says.
func day() time.Time { return time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC) }

// New returns a field with the designs of a folder.
func New(library *engine.Library, designs fs.FS) *Field {
	return &Field{library: library, designs: designs, before: map[string][]string{}}
}

// Result is what a planted mistake brought up.
type Result struct {
	// Fresh are the complaints that were not there before, as "fail rule" and "warn rule".
	Fresh []string
	// Found says that the complaint the mistake is planted for is among them.
	Found bool
	// Strays are complaints nobody expects of this mistake.
	Strays []string
}

// Plant plants one mistake. The error says why it cannot be planted.
func (f *Field) Plant(m Mistake) (Result, error) {
	text, err := fs.ReadFile(f.designs, m.Design)
	if err != nil {
		return Result{}, err
	}
	kept := "whole"
	if !strings.Contains(m.Change, "setup.") && !strings.Contains(m.Change, "measured.") {
		if text, err = without(text, "setup", "measured"); err != nil {
			return Result{}, err
		}
		kept = "before the first start"
	}
	key := m.Design + ", " + kept
	before, known := f.before[key]
	if !known {
		if before, err = f.complaints(m.Design, text); err != nil {
			return Result{}, err
		}
		f.before[key] = before
	}
	if text, err = Change(text, m.Change); err != nil {
		return Result{}, fmt.Errorf("%s: %w", m.Name, err)
	}
	after, err := f.complaints(m.Design, text)
	if err != nil {
		return Result{}, fmt.Errorf("%s: %w", m.Name, err)
	}
	out := Result{Fresh: slices.DeleteFunc(after, func(c string) bool { return slices.Contains(before, c) })}
	for _, c := range out.Fresh {
		switch {
		case c == m.Finds:
			out.Found = true
		case !slices.Contains(m.Companions, c):
			out.Strays = append(out.Strays, c)
		}
	}
	return out, nil
}

// complaints lists what failed or warns, each rule once.
func (f *Field) complaints(name string, text []byte) ([]string, error) {
	design, err := schema.Load(name, text)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, finding := range f.library.Judge(design, engine.Options{Today: day()}).Findings {
		if finding.Outcome != engine.Fail && finding.Outcome != engine.Warn {
			continue
		}
		if c := string(finding.Outcome) + " " + finding.Rule; !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out, nil
}

// Clean says whether a build is complete and draws no complaint: nothing fails,
// warns or stays open.
func (f *Field) Clean(name string) (bool, error) {
	text, err := fs.ReadFile(f.designs, name)
	if err != nil {
		return false, err
	}
	design, err := schema.Load(name, text)
	if err != nil {
		return false, err
	}
	r := f.library.Judge(design, engine.Options{Today: day()})
	return r.Count(engine.Fail)+r.Count(engine.Warn)+r.Count(engine.Open) == 0, nil
}

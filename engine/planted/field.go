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
	// Texts of the builds, with what they take from others written out.
	texts map[string][]byte
	// The builds before anything is planted, by name; whole, and as they were before the first start.
	whole, unstarted map[string]*build
}

// build is a build before anything is planted in it.
type build struct {
	text       []byte
	complaints []string
}

// New returns a field with the designs of a folder.
func New(library *engine.Library, designs fs.FS) *Field {
	return &Field{library: library, designs: designs, texts: map[string][]byte{}, whole: map[string]*build{}, unstarted: map[string]*build{}}
}

// text is the text of a build, with what it takes from others written out.
func (f *Field) text(name string) ([]byte, error) {
	if text, known := f.texts[name]; known {
		return text, nil
	}
	open := func(name string) ([]byte, error) { return fs.ReadFile(f.designs, name) }
	text, err := open(name)
	if err != nil {
		return nil, err
	}
	if text, err = schema.Whole(name, text, open); err != nil {
		return nil, err
	}
	f.texts[name] = text
	return text, nil
}

// build is a build before anything is planted, whole or as it was before the first start.
func (f *Field) build(name string, whole bool) (*build, error) {
	kept := f.unstarted
	if whole {
		kept = f.whole
	}
	if b := kept[name]; b != nil {
		return b, nil
	}
	text, err := f.text(name)
	if err != nil {
		return nil, err
	}
	if !whole {
		if text, err = without(text, "setup", "measured"); err != nil {
			return nil, err
		}
	}
	complaints, err := f.complaints(name, text)
	if err != nil {
		return nil, err
	}
	kept[name] = &build{text, complaints}
	return kept[name], nil
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
	before, err := f.build(m.Design, strings.Contains(m.Change, "setup.") || strings.Contains(m.Change, "measured."))
	if err != nil {
		return Result{}, err
	}
	text, err := Change(before.text, m.Change)
	if err != nil {
		return Result{}, fmt.Errorf("%s: %w", m.Name, err)
	}
	after, err := f.complaints(m.Design, text)
	if err != nil {
		return Result{}, fmt.Errorf("%s: %w", m.Name, err)
	}
	out := Result{Fresh: slices.DeleteFunc(after, func(c string) bool { return slices.Contains(before.complaints, c) })}
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
	for _, finding := range f.library.Judge(design, options()).Findings {
		if finding.Outcome != engine.Fail && finding.Outcome != engine.Warn {
			continue
		}
		if c := string(finding.Outcome) + " " + finding.Rule; !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out, nil
}

// Clean says whether a build is complete and draws no complaint: nothing is left to say of it.
func (f *Field) Clean(name string) (bool, error) {
	text, err := f.text(name)
	if err != nil {
		return false, err
	}
	design, err := schema.Load(name, text)
	if err != nil {
		return false, err
	}
	return len(Left(f.library.Judge(design, options()))) == 0, nil
}

// Left lists what is left to say of a build that should be quiet: what fails, warns or is open. A build that is not
// that far yet may leave open what is due later and waits only for work to come.
func Left(r *engine.Report) []engine.Finding {
	return slices.DeleteFunc(slices.Clone(r.Findings), func(f engine.Finding) bool {
		switch f.Outcome {
		case engine.Fail, engine.Warn:
			return false
		case engine.Open:
			return engine.StageRank(f.Due) > engine.StageRank(r.Stage) && len(f.Missing) > 0 && !slices.ContainsFunc(f.Missing, known)
		}
		return true
	})
}

// known says of a fact's path that it can be known before the work is done.
func known(path string) bool {
	return !slices.Contains([]string{"condition", "procedure", "setup", "measured"}, schema.Path(path).Section())
}

// Day is the day the builds are judged on; how old a vehicle or a paper is depends on it.
func Day() time.Time { return time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC) }

func options() engine.Options { return engine.Options{Today: Day()} }

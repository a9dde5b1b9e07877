package planted

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"time"

	"plumbline/engine"
	"plumbline/engine/internal/cores"
	"plumbline/schema"
)

// Field is where mistakes are planted: builds, and the library they are judged by. It is safe for concurrent use.
type Field struct {
	library *engine.Library
	designs fs.FS
	lock    sync.Mutex // of what is kept below
	// Texts of the builds, with what they take from others written out.
	texts map[string][]byte
	// The builds before anything is planted, by name; whole, and as they were before the first start.
	whole, unstarted map[string]*build
}

// build is a build before anything is planted in it.
type build struct {
	text []byte
	// complaints are "fail rule" and "warn rule".
	complaints []string
}

func (b *build) has(complaint string) bool { return slices.Contains(b.complaints, complaint) }

// outcome is a rule that came out in one way on one or more subjects.
type outcome struct {
	// text is "fail rule", "warn rule" or "pass rule".
	text     string
	findings []engine.Finding
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
	f.lock.Lock()
	defer f.lock.Unlock()
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
	found, err := f.judged(name, text)
	if err != nil {
		return nil, err
	}
	b := &build{text: text}
	for _, o := range found {
		if !strings.HasPrefix(o.text, string(engine.Pass)) {
			b.complaints = append(b.complaints, o.text)
		}
	}
	kept[name] = b
	return b, nil
}

// Result is what a planted mistake brought up.
type Result struct {
	// Fresh are the complaints that were not there before, as "fail rule" and "warn rule".
	Fresh []string
	// Found says that the complaint the mistake is planted for is among them.
	Found bool
	// Strays are complaints nobody expects of this mistake.
	Strays []string
	// System is the system of the vehicle that the complaint belongs to.
	System string
	// Near says that the complaint is about a number that misses its bound by no more than NearLimit of it.
	Near bool
	// Across says that the mistake touches another system than the one the complaint belongs to.
	Across bool
}

// All does Plant or Within for each of a list on all cores, in the list's order.
func All(list []Mistake, do func(Mistake) (Result, error)) ([]Result, error) {
	results, errs := make([]Result, len(list)), make([]error, len(list))
	cores.Do(len(list), func(_, i int) { results[i], errs[i] = do(list[i]) })
	return results, errors.Join(errs...)
}

// Plant plants one mistake. The error says why it cannot be planted.
func (f *Field) Plant(m Mistake) (Result, error) {
	before, after, err := f.both(m)
	if err != nil {
		return Result{}, err
	}
	var out Result
	for _, c := range after {
		if strings.HasPrefix(c.text, string(engine.Pass)) || before.has(c.text) {
			continue
		}
		out.Fresh = append(out.Fresh, c.text)
		switch {
		case c.text == m.Finds:
			system := ruledBy(c.findings[0].Part)
			out.Found, out.System = true, system.Name
			out.Near, out.Across = slices.ContainsFunc(c.findings, near), across(m.Change, system)
		case !slices.Contains(m.Companions, c.text):
			out.Strays = append(out.Strays, c.text)
		}
	}
	return out, nil
}

// Within makes a change that stays within a limit: Found says that the rule passes with a number no further than NearLimit
// from its bound; every fresh complaint is a stray.
func (f *Field) Within(m Mistake) (Result, error) {
	before, after, err := f.both(m)
	if err != nil {
		return Result{}, err
	}
	var out Result
	for _, c := range after {
		switch {
		case c.text == m.Finds:
			system := ruledBy(c.findings[0].Part)
			out.System, out.Near, out.Across = system.Name, slices.ContainsFunc(c.findings, near), across(m.Change, system)
			out.Found = out.Near
		case !strings.HasPrefix(c.text, string(engine.Pass)) && !before.has(c.text):
			out.Fresh = append(out.Fresh, c.text)
		}
	}
	out.Strays = out.Fresh
	return out, nil
}

// both is a build before anything is changed, and what is found in it after the change.
func (f *Field) both(m Mistake) (*build, []outcome, error) {
	before, err := f.build(m.Design, strings.Contains(m.Change, "setup.") || strings.Contains(m.Change, "measured."))
	if err != nil {
		return nil, nil, err
	}
	text, err := Change(before.text, m.Change)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", m.Name, err)
	}
	after, err := f.judged(m.Design, text)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", m.Name, err)
	}
	return before, after, nil
}

// judged lists what failed, warns or passes, each rule once with each outcome.
func (f *Field) judged(name string, text []byte) ([]outcome, error) {
	design, err := schema.Load(name, text)
	if err != nil {
		return nil, err
	}
	var out []outcome
	at := map[string]int{}
	for _, finding := range f.library.Judge(design, options()).Findings {
		if finding.Outcome != engine.Fail && finding.Outcome != engine.Warn && finding.Outcome != engine.Pass {
			continue
		}
		text := string(finding.Outcome) + " " + finding.Rule
		i, known := at[text]
		if !known {
			i = len(out)
			at[text], out = i, append(out, outcome{text: text})
		}
		out[i].findings = append(out[i].findings, finding)
	}
	return out, nil
}

// Clean says whether a build is complete and draws no complaint: nothing is left to say of it.
func (f *Field) Clean(name string) (bool, error) {
	f.lock.Lock()
	text, err := f.text(name)
	f.lock.Unlock()
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

package desk

import (
	"context"
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// Options are what a desk is opened with.
type Options struct {
	// Shop is the shop of the folder, its settings read.
	Shop *shop.Shop
	// Rules and Patterns are the folders of its packs and patterns.
	Rules, Patterns []string
	// Units is the system numbers are told in; each design's own where it is nil.
	Units *quantity.System
	// Now is the clock: it decides how old things are.
	Now func() time.Time
	// MostOpen is how many jobs are kept open at once, those used last; 0 for 24. The others are opened again when they are asked for.
	MostOpen int
}

// Limits of what people type.
const (
	// mostOpen is how many jobs are open where nothing else is said: each holds its design and report, 2 to 10 MB.
	mostOpen = 24
	// mostAnswer is the longest answer, in bytes: a text of a design and what stands around it.
	mostAnswer = 2 * schema.MaxTextBytes
	// mostLines is the longest text of plain lines: some hundred parts.
	mostLines = 64 << 10
	// mostTrials is how many changes of a job are kept that are only looked at.
	mostTrials = 4
	// often is how often the files of open jobs are looked at for what other programs wrote.
	often = 300 * time.Millisecond
)

// Desk is a folder with its open jobs.
type Desk struct {
	o       Options
	folder  *shop.Folder
	work    *shop.Work
	numbers *whatif.Numbers
	// shut says why nothing can be written, nil where it can.
	shut error

	mu   sync.Mutex
	jobs map[string]*Job
	// known are the designs of the list by name, as they were when they were judged last.
	known  map[string]*listed
	closed bool

	stop context.CancelFunc
	done chan struct{}
}

// Open opens a folder and what its designs are judged with, once.
func Open(folder string, o Options) (*Desk, error) {
	if o.MostOpen <= 0 {
		o.MostOpen = mostOpen
	}
	home := ""
	if o.Shop.Settings.File != "" {
		home = path.Dir(o.Shop.Settings.File)
	}
	in, err := shop.OpenFolder(folder, home)
	if err != nil {
		return nil, err
	}
	own := o.Shop.Again()
	own.In = in
	shut := in.Keep()
	if errors.Is(shut, shop.ErrTaken) {
		return nil, errors.Join(shut, in.Close())
	}
	d := &Desk{o: o, shut: shut, folder: in, jobs: map[string]*Job{}, known: map[string]*listed{}, done: make(chan struct{})}
	if d.work, err = own.OpenWork(o.Rules, o.Patterns, o.Now); err == nil {
		d.numbers, err = whatif.ReadNumbers("numbers.yaml", own.Numbers)
	}
	if err != nil {
		return nil, errors.Join(err, in.Close())
	}
	watching, stop := context.WithCancel(context.Background())
	d.stop = stop
	go d.watch(watching)
	return d, nil
}

// Close ends the watching of the folder and the writing of journals. Edits are refused from then on.
func (d *Desk) Close() error {
	d.stop()
	<-d.done
	d.mu.Lock()
	if d.closed {
		d.mu.Unlock()
		return nil
	}
	d.closed = true
	jobs := d.jobs
	d.jobs = map[string]*Job{}
	d.mu.Unlock()
	var err error
	for _, j := range jobs {
		j.mu.Lock()
		err = errors.Join(err, j.sleep())
		j.mu.Unlock()
	}
	return errors.Join(err, d.folder.Close())
}

func (d *Desk) isClosed() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.closed
}

// watch looks at the files of the open jobs until it is stopped.
func (d *Desk) watch(stopped context.Context) {
	defer close(d.done)
	tick := time.NewTicker(often)
	defer tick.Stop()
	for {
		select {
		case <-stopped.Done():
			return
		case <-tick.C:
		}
		d.mu.Lock()
		jobs := make([]*Job, 0, len(d.jobs))
		for _, j := range d.jobs {
			jobs = append(jobs, j)
		}
		d.mu.Unlock()
		for _, j := range jobs {
			j.look()
		}
	}
}

// Job opens a design of the folder. The error is ErrNoJob where there is none of that name.
func (d *Desk) Job(name string) (*Job, error) {
	if err := shop.CheckName(name); err != nil {
		return nil, errors.Join(ErrNoJob, err)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.closed {
		return nil, ErrClosed
	}
	if j := d.jobs[name]; j != nil {
		return j, nil
	}
	if d.folder.Seen(name) == "" {
		return nil, ErrNoJob
	}
	if _, err := d.folder.Read(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	j := &Job{desk: d, name: name, trials: map[string]*trial{}, watchers: map[chan struct{}]struct{}{}}
	d.jobs[name] = j
	return j, nil
}

// rest puts the job to sleep that was used the longest time ago, where more are awake than may be.
func (d *Desk) rest(but *Job) {
	d.mu.Lock()
	var awake []*Job
	for _, j := range d.jobs {
		if j != but && j.used.Load() != 0 {
			awake = append(awake, j)
		}
	}
	d.mu.Unlock()
	slices.SortFunc(awake, func(a, b *Job) int { return int(min(max(a.used.Load()-b.used.Load(), -1), 1)) })
	for len(awake) >= d.o.MostOpen {
		if j := awake[0]; j.mu.TryLock() { // one that is at work now is not the one to rest
			if err := j.sleep(); err != nil {
				d.work.Warn(err.Error())
			}
			j.mu.Unlock()
		}
		awake = awake[1:]
	}
}

// templates are the marks of the files that a design rests on, as they were when it was read.
type templates map[string]string

// load reads a design, and notes what it rests on.
func (d *Desk) load(name string, text []byte) (*schema.Design, templates, error) {
	design, files, err := d.work.LoadNoting(name, text)
	rests := templates{}
	for _, f := range files {
		rests[f.Name] = f.Mark
	}
	return design, rests, err
}

// still reports whether templates are as they were.
func (d *Desk) still(rests templates) bool {
	for name, mark := range rests {
		if d.folder.SeenTemplate(name) != mark {
			return false
		}
	}
	return true
}

// Beginning is what a new job begins with. At most one of Template, Pattern and Lines is set.
type Beginning struct {
	// Name is the file to make, in the folder, ending in .yaml; where it is "" one is made from the title.
	Name, Title string
	// Regions are written into it.
	Regions []string
	// Template is a design that it rests on, a path in the folder.
	Template string
	// Pattern names a usual way to build it: how that way runs is stated, its numbers stay usual ones.
	Pattern string
	// Lines are plain lines, as people write a list of parts.
	Lines string
}

// Way is a usual way that a new job may begin with.
type Way struct{ Name, Title, Group string }

// Patterns are the usual ways a job may begin with: those of the fuel.
func (d *Desk) Patterns() []Way {
	var out []Way
	for _, p := range d.work.Patterns {
		if p.Group == fuelWays {
			out = append(out, Way{p.Name, p.Title, p.Group})
		}
	}
	return out
}

// fuelWays is the group of patterns that tell how the way of the fuel runs.
const fuelWays = "fuel-way"

// ShelfParts are the parts of the shelf that may stand at a path of a design: those of its kind, in the order of the shelf.
func (d *Desk) ShelfParts(path string) ([]*schema.Part, error) {
	shelf, err := d.work.Shelf()
	if err != nil {
		return nil, err
	}
	of := schema.TypeAt(path)
	if list, more := strings.CutSuffix(path, "[]"); more {
		of = schema.TypeAt(list + "[0]")
	}
	var out []*schema.Part
	for _, p := range shelf.Parts {
		if p.Kind.Suits(of) {
			out = append(out, p)
		}
	}
	return out, nil
}

// fileName makes the name of a file from a title.
func fileName(title string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(title) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() > 60 {
			break
		}
	}
	if name := strings.Trim(b.String(), "-"); name != "" {
		return name
	}
	return "job"
}

// problemsOf are the problems an error tells, or one of its words.
func problemsOf(name string, err error) document.Problems {
	var problems document.Problems
	if errors.As(err, &problems) {
		return problems
	}
	return document.Problems{{Place: schema.Place{File: name, Line: 1, Column: 1}, Message: err.Error()}}
}

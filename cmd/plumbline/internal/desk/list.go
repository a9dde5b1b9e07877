package desk

import (
	"errors"
	"fmt"
	"maps"
	"path"
	"runtime"
	"slices"
	"strings"
	"time"

	"plumbline/cmd/plumbline/internal/flow"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/engine/pattern"
	"plumbline/engine/sheet"
	"plumbline/schema/amend"
	"plumbline/schema/document"
	plain "plumbline/schema/lines"
)

// Listed is one design of the folder, as a list tells it.
type Listed struct {
	// Name is the file in the folder, with slashes; by it the job is opened.
	Name string
	// Title, Stage and Headline are those of its view.
	Title, Stage, Headline string
	// Counts are its findings by their outcome, Blocking those that stand against the next step.
	Counts   map[engine.Outcome]int
	Blocking int
	// Asked is how many facts are asked for.
	Asked int
	// Changed is when the file was written last.
	Changed time.Time
	// Problems say why it cannot be judged; the rest is then empty.
	Problems document.Problems
}

// listed is a design of the list as it was when it was judged last.
type listed struct {
	Listed
	seen  string
	rests templates
	// other is set for a file that is no design.
	other bool
	day   string
}

// Jobs lists the designs of the folder, by name. What cannot be read stands among them with its problems; files of packs, shelves
// and stored reports do not. A design is judged when it is listed first, or was changed.
func (d *Desk) Jobs() ([]Listed, error) {
	names, err := d.folder.Designs()
	if err != nil {
		return nil, err
	}
	d.mu.Lock()
	maps.DeleteFunc(d.known, func(name string, _ *listed) bool { return !slices.Contains(names, name) })
	d.mu.Unlock()
	var out []Listed
	err = flow.Ordered(runtime.GOMAXPROCS(0), slices.Values(names), d.list, func(x *listed) error {
		d.mu.Lock()
		defer d.mu.Unlock()
		d.known[x.Name] = x
		if !x.other {
			out = append(out, x.Listed)
		}
		return nil
	})
	return out, err
}

// list judges a design for the list, where it is not as it was.
func (d *Desk) list(name string) *listed {
	x := &listed{Listed: Listed{Name: name, Changed: d.folder.Written(name)}, seen: d.folder.Seen(name), day: d.work.Now().Format(time.DateOnly)}
	d.mu.Lock()
	known := d.known[name]
	d.mu.Unlock()
	if known != nil && known.seen == x.seen && known.day == x.day && d.still(known.rests) {
		return known
	}
	text, err := d.folder.Read(name)
	if err != nil {
		x.Problems = problemsOf(name, err)
		return x
	}
	if x.other = shop.OtherKind(name, text) != ""; x.other {
		return x
	}
	design, rests, err := d.load(name, text)
	if x.rests = rests; err != nil {
		x.Problems = problemsOf(name, err)
		return x
	}
	o := d.work.Options(design, d.o.Units)
	r := d.work.Library.Judge(design, o)
	x.Title, x.Stage, x.Blocking, x.Asked, x.Counts = r.Title, r.Stage, r.Blocking(), len(r.Asked), map[engine.Outcome]int{}
	for i := range r.Findings {
		x.Counts[r.Findings[i].Outcome]++
	}
	x.Headline = headline(r, sheet.SlipOf(design, r, nil))
	return x
}

// Begin makes a new job. Understood and left are what came of its lines.
func (d *Desk) Begin(b Beginning) (job *Job, heard []Heard, left []Left, err error) {
	if d.shut != nil {
		return nil, nil, nil, d.shut
	}
	set := 0
	for _, s := range []string{b.Template, b.Pattern, b.Lines} {
		if strings.TrimSpace(s) != "" {
			set++
		}
	}
	if set > 1 {
		return nil, nil, nil, &Refused{Problems: []string{"a job begins with a template, a usual way or lines, with one of them"}}
	}
	text := []byte("plumbline: 1\n")
	if len(b.Lines) > mostLines {
		return nil, nil, nil, &Refused{Problems: []string{fmt.Sprintf("the text is longer than %d letters; begin with a piece of it", mostLines)}}
	}
	if strings.TrimSpace(b.Lines) != "" {
		r := plain.Read(b.Lines)
		for _, l := range r.Lines {
			left = append(left, l.Left...)
			for _, u := range l.Understood {
				heard = append(heard, interview.Hearsay(d.work.Shop.Declared(), "design."+u.Path, u))
			}
		}
		if r.Facts() == 0 {
			return nil, nil, left, &Refused{Problems: []string{"nothing of it was understood"}, Left: left}
		}
		text = r.YAML()
	}
	put := func(key string, value string, plainly bool) {
		if err != nil || value == "" {
			return
		}
		n := amend.Text(value)
		if plainly {
			n = amend.Plain(value)
		}
		text, err = amend.Put(b.Name, text, []amend.Step{{Key: key, Item: amend.Whole}}, n)
	}
	put("title", b.Title, false)
	if b.Template != "" {
		if err := shop.CheckName(b.Template); err != nil {
			return nil, nil, left, &Refused{Problems: []string{err.Error()}}
		}
	}
	name := b.Name
	if name == "" {
		if name, err = d.freeName(b.Title); err != nil {
			return nil, nil, left, err
		}
	}
	if err := shop.CheckName(name); err != nil || strings.ToLower(path.Ext(name)) == ".json" {
		if err == nil {
			err = errors.New("a new job is YAML; give it a name that ends in .yaml")
		}
		return nil, nil, left, &Refused{Problems: []string{err.Error()}}
	}
	if b.Template != "" {
		from, problem := shop.Relative(path.Dir(name), b.Template)
		if problem != nil {
			return nil, nil, left, problem
		}
		put("based_on", from, false)
	}
	if len(b.Regions) > 0 && err == nil {
		if err := shop.CheckRegions(d.work.Library.Library, b.Regions); err != nil {
			return nil, nil, left, &Refused{Problems: []string{err.Error()}}
		}
		draft := shop.Draft{Name: name, Text: text}
		if err = draft.Place(b.Regions); err == nil {
			text = draft.Text
		}
	}
	if err != nil {
		return nil, nil, left, refusedBy(err)
	}
	if _, err := d.work.LoadText(name, text); err != nil {
		return nil, nil, left, refusedBy(err)
	}
	if b.Pattern != "" {
		if text, err = d.onWay(name, text, b.Pattern); err != nil {
			return nil, nil, left, err
		}
	}
	switch err := d.folder.Save(name, nil, text); {
	case errors.Is(err, shop.ErrChanged):
		return nil, nil, left, &Refused{Problems: []string{name + " is there already; give the job another name"}}
	case err != nil:
		return nil, nil, left, err
	}
	job, err = d.Job(name)
	return job, heard, left, err
}

// freeName is the name of a file that is not there, made from a title.
func (d *Desk) freeName(title string) (string, error) {
	stem := fileName(title)
	for n := 1; n < 1000; n++ {
		name := stem + ".yaml"
		if n > 1 {
			name = fmt.Sprintf("%s-%d.yaml", stem, n)
		}
		if d.folder.Seen(name) == "" {
			return name, nil
		}
	}
	return "", &Refused{Problems: []string{"give the job a name of its own"}}
}

// wayOf is what is stated by choosing a usual way.
func (d *Desk) wayOf(name string) (title string, chosen []pattern.Choice, err error) {
	at := slices.IndexFunc(d.work.Patterns, func(p *pattern.Pattern) bool { return p.Name == name })
	if at < 0 {
		return "", nil, &Refused{Problems: []string{"there is no usual way " + short(name)}}
	}
	return d.work.Patterns[at].Title, pattern.Chosen(d.work.Patterns, name), nil
}

// onWay states how a usual way runs in a new design.
func (d *Desk) onWay(name string, text []byte, way string) ([]byte, error) {
	j := &Job{desk: d, name: name}
	s, err := j.unjudged(text)
	if err != nil {
		return nil, refusedBy(err)
	}
	if _, _, err := j.going(way)(s); err != nil {
		return nil, err
	}
	return s.Text(), nil
}

package desk

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/amend"
	"plumbline/schema/lines"
)

// Heard is a fact that was understood, as the interview tells it.
type Heard = interview.Heard

// Left is a part of a line that was not understood, and why.
type Left = lines.Left

// Done is what an edit led to.
type Done struct {
	View *View
	// Name says what was done: "fuel pump, flow: 255 L/h". It is "" where nothing was changed.
	Name string
	// Heard are the facts that a line, or an answer that says more than was asked, was understood to say; Left what was not.
	Heard []Heard
	Left  []Left
	// Merged is set where the edit was made on an earlier revision, and both stand now.
	Merged  bool
	Changed Changed
}

// Changed is what a change of the text changed of the design.
type Changed struct {
	// Before and After are the headlines.
	Before, After string
	whatif.Difference
}

// making makes an edit in a session: its name, what was understood and what not.
type making func(s *interview.Session) (name string, reply interview.Reply, err error)

// mostTries is how often an edit is made anew because the file changes all the while.
const mostTries = 5

// change makes an edit that was made on a revision.
func (j *Job) change(revision int, make making) (*Done, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	for range mostTries {
		done, err := j.changeOnce(revision, make)
		if !errors.Is(err, shop.ErrChanged) {
			return done, err
		}
	}
	return nil, fmt.Errorf("%w all the while", shop.ErrChanged)
}

func (j *Job) changeOnce(revision int, make making) (*Done, error) {
	if err := j.ready(); err != nil {
		return nil, err
	}
	before, err := j.now()
	if err != nil {
		return nil, err
	}
	made, err := j.made(revision, make)
	if err != nil {
		return nil, err
	}
	if err := j.save(edit, made.name, made.session); err != nil {
		return nil, err
	}
	return j.done(before, made)
}

// ready says why the job cannot be changed as it is now; nil when it can.
func (j *Job) ready() error {
	if err := j.wake(); err != nil {
		return err
	}
	switch {
	case j.wrong != nil:
		return &Unreadable{Problems: j.wrong, Text: j.wrongText}
	case j.desk.shut != nil:
		return j.desk.shut
	case j.readOnly():
		return ErrReadOnly
	}
	return nil
}

// made is an edit that is made and not saved.
type made struct {
	// before is the text it was made on.
	before  []byte
	name    string
	reply   interview.Reply
	session *interview.Session
	merged  bool
}

// made makes an edit on its revision, and puts it together with what was changed since.
func (j *Job) made(revision int, make making) (*made, error) {
	out := &made{merged: revision != j.history.revision}
	s := j.session.Clone()
	if out.merged {
		text, ok := j.history.at(revision)
		if !ok {
			return nil, ErrStale
		}
		var err error
		if s, err = j.unjudged(text); err != nil {
			return nil, ErrStale
		}
	}
	base := s.Text()
	out.before = base
	var err error
	if out.name, out.reply, err = make(s); err != nil {
		return nil, err
	}
	if len(out.reply.Problems) > 0 || !out.reply.Changed && len(out.reply.Heard) == 0 && len(out.reply.Left) > 0 {
		return nil, &Refused{Problems: out.reply.Problems, Offer: out.reply.Offer, Left: out.reply.Left}
	}
	out.session = s
	if !out.merged {
		return out, nil
	}
	mine := s.Text()
	merged, clashes, err := amend.Merge(j.name, base, mine, j.history.text)
	if err == nil && len(clashes) == 0 {
		out.session = j.session.Clone()
		if bytes.Equal(merged, j.history.text) {
			return out, nil
		}
		err = out.session.Put(merged)
	}
	if err == nil && len(clashes) == 0 {
		return out, nil
	}
	now, problem := j.now()
	if problem != nil {
		return nil, problem
	}
	return nil, &Conflict{Facts: clashing(clashes), Mine: mine, Theirs: j.history.text, Now: now}
}

// unjudged is a session of another text that is only there to be changed.
func (j *Job) unjudged(text []byte) (*interview.Session, error) {
	o := j.asked()
	o.Text, o.Judge = text, func(*schema.Design) *engine.Report { return &engine.Report{Stage: "planned"} }
	return interview.Begin(o)
}

func clashing(clashes []amend.Clash) []ConflictingFact {
	text := func(n *yaml.Node) string {
		if n == nil {
			return ""
		}
		return amend.Written(n)
	}
	var out []ConflictingFact
	for _, c := range clashes {
		out = append(out, ConflictingFact{Path: "design." + c.Where, Base: text(c.Base), Mine: text(c.Mine), Theirs: text(c.Theirs)})
	}
	return out
}

// save writes what an edit led to: into the journal, then into the file. It is shop.ErrChanged where the file was changed
// meanwhile; then the edit was not made.
func (j *Job) save(k kind, name string, s *interview.Session) error {
	if bytes.Equal(s.Text(), j.history.text) {
		return nil
	}
	return j.saveAs(changeOf(k, name, j.history.text, s.Text()), s)
}

func (j *Job) saveAs(e entry, s *interview.Session) error {
	was := j.history.text
	if err := j.write(e, true); err != nil {
		return err
	}
	if err := j.desk.folder.Save(j.name, was, j.history.text); err != nil {
		j.write1(void)
		return err
	}
	j.write1(kept)
	j.session, j.view = s, nil
	j.seen = j.desk.folder.Seen(j.name)
	j.tell()
	return nil
}

// done tells what an edit led to.
func (j *Job) done(before *View, m *made) (*Done, error) {
	after, err := j.now()
	if err != nil {
		return nil, err
	}
	out := &Done{View: after, Heard: m.reply.Heard, Left: m.reply.Left, Merged: m.merged}
	if after.Revision != before.Revision {
		out.Name = m.name
	}
	out.Changed = j.desk.changed(before, after)
	return out, nil
}

// changed tells what differs between two views of a job.
func (d *Desk) changed(before, after *View) Changed {
	out := Changed{Before: before.Headline, After: after.Headline}
	if before.Report != after.Report {
		o := d.work.Options(after.Design, d.o.Units)
		out.Difference = whatif.Between(d.work.Library.Library, whatif.Judged{Design: before.Design, Report: before.Report}, whatif.Judged{Design: after.Design, Report: after.Report}, o)
	}
	return out
}

// Set answers for a fact, part or list: as the design states it, as people say it, or as a label has it. A fact that is stated
// is stated otherwise; [] at the end of a list names one more item of it.
func (j *Job) Set(revision int, path, answer string) (*Done, error) {
	return j.change(revision, setting(path, answer))
}

func setting(path, answer string) making {
	return func(s *interview.Session) (string, interview.Reply, error) {
		if len(answer) > mostAnswer {
			return "", interview.Reply{}, &Refused{Problems: []string{fmt.Sprintf("the answer is longer than %d letters", mostAnswer)}}
		}
		name := labelled(s, path) + ": " + short(answer)
		return name, s.Tell(path, answer), nil
	}
}

// labelled names what stands at a path in plain words, as the slip names it.
func labelled(s *interview.Session, path string) string {
	path = strings.TrimSuffix(path, "[]")
	if schema.Describe(path).Field.Key == "" {
		return schema.Path(path).Short()
	}
	return sheet.NameOf(s.Design(), path)
}

// short is a text in one line that fits beside the word undo.
func short(text string) string {
	const most = 60
	text = strings.Join(strings.Fields(text), " ")
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most-3]) + "..."
	}
	return text
}

// Line takes up plain lines. What they say otherwise than the design takes the place of what it says, but for a part that it says
// there is none of, or a part with facts of which they say so: that is left, with the reason. What is left of lines that are
// understood in part stands as a remark at the end of the file.
func (j *Job) Line(revision int, text string) (*Done, error) {
	return j.change(revision, reading(text))
}

func reading(text string) making {
	return func(s *interview.Session) (string, interview.Reply, error) {
		switch {
		case len(text) > mostLines:
			return "", interview.Reply{}, &Refused{Problems: []string{fmt.Sprintf("the text is longer than %d letters; take it up in pieces", mostLines)}}
		case strings.TrimSpace(text) == "":
			return "", interview.Reply{}, &Refused{Problems: []string{"nothing was typed"}}
		}
		reply := s.Line(text)
		if len(reply.Problems) > 0 || !reply.Changed || len(reply.Left) == 0 {
			return short(text), reply, nil
		}
		var left []string
		for _, l := range reply.Left {
			left = append(left, "not understood: "+l.Text)
		}
		s.Remark(left...)
		return short(text), reply, nil
	}
}

// Clear takes what the design itself states at a path out of it, and what it then states nothing of any more around it.
func (j *Job) Clear(revision int, path string) (*Done, error) {
	return j.change(revision, clearing(path))
}

func clearing(path string) making {
	return func(s *interview.Session) (string, interview.Reply, error) {
		field := schema.Path(path)
		if strings.Contains(path, "[]") || !strings.HasPrefix(path, "design.") || !s.Own(path) {
			why := "nothing is stated there"
			if place := s.Design().PlaceOf(path); s.Design().At(path) != nil && place.File != "" && place.File != s.Design().Place().File {
				why = "it is stated in " + place.File + "; state it otherwise here, or change it there"
			}
			return "", interview.Reply{}, &Refused{Problems: []string{why}}
		}
		name := labelled(s, path) + ": not known"
		if _, _, item := field.Split(); item {
			name = "without " + labelled(s, path)
		}
		// A part of which nothing is stated any more is not stated itself, unless that says that there is one.
		for up := field.Parent(); up != "" && up != "design" && s.Alone(string(field)); up = field.Parent() {
			_, _, item := up.Split()
			if item || schema.Describe(string(up)).Field.Kind == schema.KindMaybe {
				break
			}
			field = up
		}
		return name, interview.Reply{Changed: true}, refusedBy(s.Alter(interview.Alteration{Path: string(field)}))
	}
}

// refusedBy is an error of the reader as one of the edit.
func refusedBy(err error) error {
	if err == nil {
		return nil
	}
	var texts []string
	for _, p := range problemsOf("", err) {
		texts = append(texts, p.Message)
	}
	return &Refused{Problems: texts}
}

// Part puts a part of the shelf, by its name, in the place at a path; with [] at the end of a list it is one more item of it. What the
// label of the part before said goes with that.
func (j *Job) Part(revision int, path, part string) (*Done, error) {
	return j.change(revision, j.fitting(path, part))
}

func (j *Job) fitting(path, part string) making {
	return func(s *interview.Session) (string, interview.Reply, error) {
		shelf, err := j.desk.work.Shelf()
		if err != nil {
			return "", interview.Reply{}, &Refused{Problems: []string{err.Error()}}
		}
		p := shelf.Named(part)
		list, more := strings.CutSuffix(path, "[]")
		of := schema.TypeAt(list)
		if more {
			items, ok := s.Design().At(list).(schema.Listing)
			if !ok {
				return "", interview.Reply{}, &Refused{Problems: []string{"there is no such place in the design"}}
			}
			path = fmt.Sprintf("%s[%d]", list, items.Len())
			of = schema.TypeAt(path)
		}
		switch {
		case p == nil:
			return "", interview.Reply{}, &Refused{Problems: []string{"the shelf has no part " + short(part)}}
		case of == "" || !p.Kind.Suits(of):
			return "", interview.Reply{}, &Refused{Problems: []string{"a " + p.Kind.Called() + " does not go there"}}
		case more:
			return labelled(s, list) + ": " + p.Called(), interview.Reply{Changed: true}, refusedBy(s.Alter(interview.Alteration{Path: path, Value: amend.Part("part", amend.Text(p.Called()))}))
		case s.Design().At(path) == nil:
			return "", interview.Reply{}, &Refused{Problems: []string{"there is no such place in the design"}}
		}
		var changes []interview.Alteration
		for _, key := range p.Kind.FactsIn(of) {
			if at := path + "." + key; s.Own(at) {
				changes = append(changes, interview.Alteration{Path: at})
			}
		}
		if o, ok := s.Design().At(path).(schema.Optional); ok && o.Presence() == schema.Absent && s.Own(path) {
			changes = append(changes, interview.Alteration{Path: path, Value: amend.There()})
		}
		changes = append(changes, interview.Alteration{Path: path + ".part", Value: amend.Text(p.Called())})
		return labelled(s, path) + ": " + p.Called(), interview.Reply{Changed: true}, refusedBy(s.Alter(changes...))
	}
}

// Way states how a usual way runs, by the name of its pattern; its numbers stay usual ones.
func (j *Job) Way(revision int, pattern string) (*Done, error) {
	return j.change(revision, j.going(pattern))
}

func (j *Job) going(name string) making {
	return func(s *interview.Session) (string, interview.Reply, error) {
		title, changes, err := j.desk.wayOf(name)
		if err != nil {
			return "", interview.Reply{}, err
		}
		var out []interview.Alteration
		for _, c := range changes {
			at := s.Design().At(string(c.Path))
			if o, ok := at.(schema.Optional); ok && c.Value != "none" && o.Presence() == schema.Present {
				continue // it is there as it is
			}
			value := amend.Plain(c.Value)
			if c.Value == "{}" {
				value = amend.There()
			}
			out = append(out, interview.Alteration{Path: c.Path, Value: value})
		}
		return title, interview.Reply{Changed: true}, refusedBy(s.Alter(out...))
	}
}

// Undo takes the last change back. The revision must be the last one.
func (j *Job) Undo(revision int) (*Done, error) {
	return j.again(revision, (*history).undoing)
}

// Redo makes the change again that was taken back last.
func (j *Job) Redo(revision int) (*Done, error) {
	return j.again(revision, (*history).redoing)
}

func (j *Job) again(revision int, of func(*history) (entry, bool)) (*Done, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.ready(); err != nil {
		return nil, err
	}
	if revision != j.history.revision {
		return nil, ErrStale
	}
	before, err := j.now()
	if err != nil {
		return nil, err
	}
	e, ok := of(j.history)
	if !ok {
		return nil, ErrNothing
	}
	text, ok := e.over(j.history.text)
	s := j.session.Clone()
	if !ok {
		return nil, ErrNothing
	}
	if err := s.Put(text); err != nil { // a template or the shelf is not what it was
		return nil, refusedBy(err)
	}
	if err := j.saveAs(e, s); err != nil {
		if errors.Is(err, shop.ErrChanged) {
			err = ErrStale
		}
		return nil, err
	}
	return j.done(before, &made{name: e.Name})
}

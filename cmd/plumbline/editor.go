package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/cmd/plumbline/internal/wire"
	"plumbline/engine"
	"plumbline/engine/editor"
	"plumbline/engine/proof"
	"plumbline/schema"
	"plumbline/schema/document"
)

// editorVerb serves an editor.
func (c *Command) editorVerb() *cobra.Command {
	return &cobra.Command{
		Use:   "editor",
		Short: "Serve an editor: findings while a design is written, faults in packs, names and units",
		Long: "Editor is a language server: an editor that speaks the Language Server Protocol (3.17) starts it for YAML files and talks to it over the " +
			"standard input and output. It marks what is wrong with designs, packs of rules and plumbline.yaml while they are written, says what the " +
			"thing under the cursor is, and completes keys, words, units, the names of parts, and in the expressions of rules facts, values and functions.\n\n" +
			"What is written counts before what is on disk. Settings and packs are found as plumbline check finds them. It writes no file.\n\n" +
			"The exit code is 0 when the editor took its leave as the protocol has it, and 1 when it did not.",
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			debug.SetGCPercent(100) // it lives long, unlike a check
			d := &desk{Command: c, shops: map[string]*served{}, last: map[string]*served{}}
			if !wire.Serve(c.Stdin, streamEnd{raw(c.Stdout)}, d, programVersion()) {
				return &exit.Error{Code: exit.Blocked}
			}
			return nil
		},
	}
}

// streamEnd is a stream that is left open at the end.
type streamEnd struct{ io.Writer }

// Close leaves the stream open.
func (streamEnd) Close() error { return nil }

// Look says what is wrong with a file.
func (d *desk) Look(file string, texts wire.Texts) []editor.Mark {
	text := texts[file]
	switch editor.KindOf(filepath.ToSlash(file), text) {
	case editor.Settings:
		root, err := document.Parse(file, []byte(text))
		if root == nil || err != nil {
			return marksOf(err, file)
		}
		_, problems := shop.SettingsIn(file, root)
		return editor.Problems(problems)
	case editor.Pack:
		return d.pack(file, texts)
	case editor.Design:
		return d.design(file, texts)
	}
	return nil
}

// design judges a design; of one with mistakes what could be read.
func (d *desk) design(file string, texts wire.Texts) []editor.Mark {
	s := d.served(file, texts)
	marks := s.told()
	design, err := schema.Loader{Shelf: s.shop.Shelf, Declared: s.library.Declared(), Open: func(name string) ([]byte, error) {
		if text, open := texts[name]; open {
			return []byte(text), nil
		}
		return d.shop.Template(name)
	}}.Partly(file, 1, []byte(texts[file]))
	if err != nil {
		marks = append(marks, marksOf(err, file)...)
	}
	if design == nil {
		return marks
	}
	o := s.shop.Defaults(design, engine.Options{Today: d.Now(), Units: s.units, NoAssumptions: s.noAssumptions, Patterns: s.usual})
	if o.StageOf(design) == "planned" && !s.unitsSet {
		o.Units = schema.Habit(design)
	}
	return append(marks, editor.Judged(s.library.Judge(design, o), design)...)
}

// pack checks a pack with those beside it, and runs its cases when they load.
func (d *desk) pack(file string, texts wire.Texts) []editor.Mark {
	s := d.served(file, texts)
	name := cmp.Or(s.stands, packName(file))
	if s.faults != nil {
		return marksOf(s.faults, name)
	}
	var rules []string
	for _, p := range s.library.Packs() {
		if p.Path == name {
			for i := range p.Rules {
				rules = append(rules, p.Pack+"."+p.Rules[i].ID)
			}
		}
	}
	var out []editor.Mark
	more := 0
	for _, r := range proof.Cases(s.library.Only(rules...)) {
		switch {
		case r.Problem == "":
		case len(out) == document.MaxProblems:
			more++
		default:
			if r.Case != "" {
				r.Problem = "case " + r.Case + ": " + r.Problem
			}
			out = append(out, editor.Mark{Place: r.Place, Text: r.Case, Weight: editor.Wrong, Code: r.Rule, Message: r.Problem})
		}
	}
	if more > 0 {
		out = append(out, editor.Mark{Weight: editor.Wrong, Message: fmt.Sprintf("%s more with the cases; mend these first", shop.Counted(more, "fault"))})
	}
	return out
}

// marksOf are the marks of an error of a file; what is wrong elsewhere is told at its beginning.
func marksOf(err error, file string) []editor.Mark {
	var problems document.Problems
	if !errors.As(err, &problems) {
		return []editor.Mark{{Weight: editor.Wrong, Message: err.Error()}}
	}
	out := editor.Problems(problems)
	for i := range out {
		if m := &out[i]; m.Place.File != file {
			m.Weight, m.Message = editor.Doubtful, problems[i].String()
			m.Place, m.Text = document.Place{File: file, Line: 1, Column: 1}, ""
		}
	}
	return out
}

// told says that packs of the shop are wrong and left out.
func (s *served) told() []editor.Mark {
	if s.faults == nil {
		return nil
	}
	first, _, _ := strings.Cut(s.faults.Error(), "\n")
	return []editor.Mark{{Weight: editor.Doubtful, Message: fmt.Sprintf("the settings or packs of the shop are wrong, and what is wrong of them is left out; the first fault: %s", first)}}
}

// take takes up the settings of a shop.
func (s *served) take(x *shop.Settings) {
	s.shop.Settings = *x
	for _, f := range x.Flags {
		switch f.Flag {
		case "units":
			s.units, _ = unitSystem(f.Value)
			s.unitsSet = true
		case "shelf":
			s.shop.ShelfDir = f.Value
		case "no-assumptions":
			s.noAssumptions = true
		case "patterns":
			s.patternDirs = append(s.patternDirs, f.Value)
		}
	}
}

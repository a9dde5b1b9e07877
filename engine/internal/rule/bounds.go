package rule

import (
	"fmt"
	"sync/atomic"

	"gopkg.in/yaml.v3"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// What a pack may hold, so that none takes the machine: each bound is several times what a large rule of the library needs.
const (
	maxLets         = 32
	maxText         = 4000 // bytes of a sentence
	maxPlaceholders = 40   // of a sentence
	maxNamed        = 64   // grounds, remedies, values doubted or rules replaced by one rule
	maxRuleSteps    = 2 * vocabulary.MaxSteps
	maxOfOthers     = 10_000
)

// MaxProblems are told of a pack; what comes after is mostly their consequence.
const MaxProblems = 100

// Room counts the expressions of all local packs together.
type Room struct{ used atomic.Int64 }

// room takes the place of one expression; false when there is none, or when enough is wrong already.
func (c *Compiler) room(n *yaml.Node, path string) bool {
	if len(c.Problems) >= MaxProblems {
		return false
	}
	if c.Room == nil || c.Room.used.Add(1) <= maxOfOthers {
		return true
	}
	if !c.full {
		c.full = true
		c.Problem(n, path, fmt.Sprintf("the local packs together hold more than %d expressions and placeholders", maxOfOthers), "")
	}
	return false
}

// bounded refuses rules that are too long to be read, before anything of them is compiled.
func (c *Compiler) bounded(r *pack.Rule, path string) bool {
	before := len(c.Problems)
	if len(r.Let) > maxLets {
		c.ProblemAt(r.Let[maxLets].Place, path+".let", fmt.Sprintf("a rule has at most %d names under let; this one has %d", maxLets, len(r.Let)), "")
	}
	for key, n := range map[string]int{"because": len(r.Because), "mend": len(r.Mend), "doubts": len(r.Doubts), "instead_of": len(r.InsteadOf)} {
		if n > maxNamed {
			c.Problem(pack.ChildOf(r.Node, key), path+"."+key, fmt.Sprintf("the list has %d items; at most %d are read", n, maxNamed), "")
		}
	}
	long := func(key, text string) {
		if len(text) > maxText {
			c.Problem(pack.ChildOf(r.Node, key), path+"."+key, fmt.Sprintf("the text has %d bytes; at most %d are read", len(text), maxText), "")
		}
	}
	long("title", r.Title)
	long("say", r.Say)
	long("met", r.Met)
	for _, m := range r.Mend {
		long("mend", m.Text)
	}
	return len(c.Problems) == before
}

// costs refuses a rule whose expressions together cost too much.
func (c *Compiler) costs(r *pack.Rule, out *Rule, path string) {
	if out.Each != nil && out.Each.Longest() > schema.MaxItemsInAll {
		c.ProblemAt(r.Place, path+".each", fmt.Sprintf("each may go through %d items, more than the %d a design has in all", out.Each.Longest(), schema.MaxItemsInAll), "")
	}
	var steps uint64
	for _, p := range out.Programs() {
		steps += p.Steps
	}
	if steps > maxRuleSteps {
		c.ProblemAt(r.Place, path, fmt.Sprintf("the expressions of the rule together may cost %d steps, more than the %d allowed: nest fewer lists, or make two rules of it", steps, maxRuleSteps), "")
	}
}

package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine/pack"
)

// cited are the names of the sources that a pack's rules and figures cite.
func cited(p *pack.Pack) map[string]bool {
	var all []pack.Reason
	for i := range p.Rules {
		all = append(all, p.Rules[i].Because...)
	}
	for _, l := range p.Limits {
		all = append(all, l.Value.Because...)
	}
	for _, t := range p.Tables {
		all = append(all, t.Value.Because...)
	}
	for i := range p.Assumptions {
		all = append(all, p.Assumptions[i].Because...)
	}
	for i := range p.Cautions {
		all = append(all, p.Cautions[i].Because...)
	}
	out := map[string]bool{}
	for _, r := range all {
		if _, own := p.Sources.Get(r.Source); r.Source != "" && !own {
			out[r.Source] = true
		}
	}
	return out
}

// A document that no pack cites goes.
func TestEverySharedSourceIsCited(t *testing.T) {
	lib := library(t)
	all := map[string]bool{}
	for _, p := range lib.Packs() {
		for name := range cited(p) {
			all[name] = true
		}
	}
	for _, s := range lib.Shared() {
		assert.True(t, all[s.Key], "%s is never cited", s.Key)
	}
}

// Where a law is the law it says for whom, so that nobody else reads it as his.
func TestALawThatBindsSaysWhom(t *testing.T) {
	for _, s := range library(t).Shared() {
		if s.Value.Kind == "law" {
			assert.Equal(t, len(s.Value.In) > 0, s.Value.Binds != nil, "%s: in and binds go together", s.Key)
		} else {
			assert.Empty(t, s.Value.In, s.Key)
		}
	}
}

// What a vehicle must meet lest it burns, poisons or cannot be controlled rests on a document or on reasoning, never on
// common practice alone.
func TestGraveMustsHaveGrounds(t *testing.T) {
	for _, p := range library(t).Packs() {
		for i := range p.Rules {
			r := &p.Rules[i]
			if r.Must == nil || !r.Danger.Grave() {
				continue
			}
			grounded := false
			for _, b := range r.Because {
				grounded = grounded || b.Source != "" || b.Physics != ""
			}
			assert.True(t, grounded, "%s.%s is a must against %s and rests on practice alone: cite a document, or say why as physics", p.Pack, r.ID, r.Danger)
		}
	}
}

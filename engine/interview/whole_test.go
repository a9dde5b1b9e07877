package interview_test

import (
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/schema"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

// clerk answers as a design does: what it states, and nothing where it states nothing.
type clerk struct {
	// whole are the lists of which the design names all.
	whole map[string]bool
	facts map[string]string
	lists map[string]int
	parts map[string]schema.Presence
}

func clerkOf(d *schema.Design) *clerk {
	c := &clerk{map[string]bool{}, map[string]string{}, map[string]int{}, map[string]schema.Presence{}}
	schema.WalkAll(d, func(v schema.Visit) {
		switch {
		case v.Optional != nil:
			c.parts[v.Path] = v.Optional.Presence()
		case v.Listing != nil:
			if v.Listing.Known() {
				c.lists[v.Path], c.whole[v.Path] = 0, true
			}
		default:
			if v.Reading.Known() {
				c.facts[v.Path] = v.Reading.Text()
			}
			for i, r := range v.Path {
				if r == ']' {
					at := strings.LastIndexByte(v.Path[:i], '[')
					n, _ := strconv.Atoi(v.Path[at+1 : i])
					c.lists[v.Path[:at]] = max(c.lists[v.Path[:at]], n+1)
				}
			}
		}
	})
	return c
}

func (c *clerk) answer(q *interview.Question) string {
	n, listed := c.lists[q.Path]
	switch q.Form {
	case interview.Presence:
		return map[schema.Presence]string{schema.NotStated: "", schema.Absent: "none", schema.Present: "yes"}[c.parts[q.Path]]
	case interview.Whole:
		if c.whole[q.Path] {
			return "yes"
		}
		return ""
	case interview.Count, interview.Items:
		switch {
		case !listed || len(q.Listed) > 0 && len(q.Listed) == n:
			return ""
		case n == 0:
			return "none"
		case q.Form == interview.Count:
			return strconv.Itoa(n)
		}
		item := q.Path + "[" + strconv.Itoa(len(q.Listed)) + "]"
		for _, path := range []string{item + ".name", item + ".kind", item} {
			if text, ok := c.facts[path]; ok {
				return text
			}
		}
		return "number " + strconv.Itoa(len(q.Listed)+1)
	}
	if text, ok := c.facts[q.Path]; ok || q.Other == "" {
		return text
	}
	return c.facts[q.Other]
}

var day = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// Whoever answers every question as a design states it gets a design that is judged the same: one half known at the
// counter, and one that is finished.
func TestAnsweringAsADesignDoesGivesThatDesign(t *testing.T) {
	t.Parallel()
	lib := shipped.Library(t)
	for file, long := range map[string]bool{"demo/counter-half-known.yaml": false, "good/six-points-low-pressure.yaml": true} {
		t.Run(file, func(t *testing.T) {
			if long && !proofs.Whole() {
				t.Skip("some 850 answers, each judged")
			}
			text, err := os.ReadFile("../../designs/" + file)
			require.NoError(t, err)
			design, err := schema.Load("design.yaml", text)
			require.NoError(t, err)
			judge := func(d *schema.Design) *engine.Report { return lib.Judge(d, engine.Options{Today: day}) }

			from := clerkOf(design)
			s, err := interview.Begin(interview.Options{File: "new.yaml", Text: []byte("plumbline: 1\n"), Judge: judge, All: true})
			require.NoError(t, err)
			for q := s.Question(); q != nil; q = s.Question() {
				answer := from.answer(q)
				reply := s.Answer(answer)
				require.Empty(t, reply.Problems, "%s: %s", q.Path, answer)
			}
			assert.Equal(t, outcomes(judge(design)), outcomes(s.Report()))
			_, err = schema.Load("new.yaml", s.Text())
			require.NoError(t, err)
		})
	}
}

// outcomes leaves the checks of sense out: nobody is asked for a fact that only they compare.
func outcomes(r *engine.Report) map[string]engine.Outcome {
	out := map[string]engine.Outcome{}
	for i := range r.Findings {
		if r.Findings[i].Sense {
			continue
		}
		out[r.Findings[i].Rule+" "+r.Findings[i].Subject] = r.Findings[i].Outcome
	}
	return out
}

// What is asked first of a van nobody knows anything of: its use, what the fuel system is made of, and the circuits.
func TestTheFirstQuestions(t *testing.T) {
	t.Parallel()
	lib := shipped.Library(t)
	s, err := interview.Begin(interview.Options{
		File: "new.yaml", Text: []byte("plumbline: 1\ntitle: van\nregions: [gb]\nstage: planned\n"),
		Judge: func(d *schema.Design) *engine.Report { return lib.Judge(d, engine.Options{Today: day}) },
	})
	require.NoError(t, err)
	var first []string
	for range 26 {
		q := s.Question()
		require.NotNil(t, q)
		assert.Empty(t, q.Later, "%s can wait", q.Path)
		first = append(first, q.Path)
		require.Empty(t, s.Answer("").Problems)
	}
	for _, path := range []string{"vehicle.use", "surge_tank", "suction", "return_line", "circuits", "feed.runs", "throttle_control.linkage", "vehicle.brake_booster", "pump.place", "tank.location", "regulator.style"} {
		assert.Contains(t, first, "design."+path)
	}
	for _, path := range []string{"procedure", "measured", "papers"} {
		for _, asked := range first {
			assert.NotContains(t, asked, "design."+path)
		}
	}
}

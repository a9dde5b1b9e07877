package interview_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/words"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

// customer answers what somebody remembers, sees or reads off a part, a label whole as it is printed, and knows nothing else.
// Of the pump-to-engine line one marked hose is in hand.
type customer struct {
	*clerk
	design *schema.Design
}

func (c customer) answer(q *interview.Question) string {
	const unknown = "don't know"
	switch {
	case q.Form == interview.Items && q.Path == "design.feed.runs":
		if hose := c.hose(); hose != "" && len(q.Listed) == 0 {
			return hose
		}
		return ""
	case q.Form != interview.Value && q.Form != interview.Presence:
		return unknown
	case !engine.WhereTo(nil, q.Path).AtCounter():
		return unknown
	}
	own := c.clerk.answer(q)
	if own == "" {
		return unknown
	}
	return own + c.behind(q)
}

// behind is what a label says behind a figure: the pressure at which a flow holds.
func (c customer) behind(q *interview.Question) string {
	path := schema.Path(q.Path)
	part := schema.TypeAt(string(path.Parent()))
	key := path.Key()
	if _, own := c.facts[q.Path]; !own && q.Other != "" {
		key = schema.Path(q.Other).Key()
	}
	for _, r := range words.Rows() {
		if r.Part == part && r.Where == words.Label && slices.Contains(r.Bare.After, key) {
			if text, ok := c.facts[string(path.Sibling(r.Key))]; ok {
				return " @ " + text
			}
		}
	}
	return ""
}

// hose is a marked hose of the feed, as one says it: hose 8 mm and what is printed on it.
func (c customer) hose() string {
	for i := range c.design.Feed.Runs.Items {
		run := &c.design.Feed.Runs.Items[i]
		kind, _ := run.Kind.Get()
		mark, marked := run.Mark.Get()
		if kind != "hose" || !marked || mark == "unmarked" {
			continue
		}
		return "hose " + run.Bore.Text() + " " + words.Of("Run", "mark").Value(string(mark)).Label
	}
	return ""
}

// judged reports whether a rule about a part came out or leans, so that a slip that has nothing against it says something.
func judged(r *engine.Report, part string) bool {
	return slices.ContainsFunc(r.Findings, func(f engine.Finding) bool {
		return f.Subject == part && !f.Sense && engine.StageRank(f.Due) <= 1 && (f.Outcome == engine.Pass || f.Leaning != nil)
	})
}

// mostQuestions are the prompts after which the counter has a first verdict on the parts in hand.
const mostQuestions = 12

// What the slip is for is answered within twelve questions: of every complete good design the pump, the regulator, the injectors and
// a hose have a verdict when a customer has answered so many prompts of an empty planned design.
func TestAFirstVerdictWithinTwelveQuestions(t *testing.T) {
	t.Parallel()
	lib := shipped.Library(t)
	patterns := shipped.Patterns(t)
	files, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for i, file := range proofs.Sample(files, 20) {
		if proofs.Whole() && i%6 > 0 {
			continue // each takes as long as a dozen slips; all of them were walked when the order was made
		}
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			whole, err := schema.LoadBased(file, data, os.ReadFile)
			require.NoError(t, err)
			c := customer{clerkOf(whole), whole}
			s, err := interview.Begin(interview.Options{File: "new.yaml", Text: []byte("plumbline: 1\nstage: planned\n"), Judge: func(d *schema.Design) *engine.Report {
				return lib.Judge(d, engine.Options{Today: day, Patterns: patterns})
			}})
			require.NoError(t, err)
			var asked []string
			for range mostQuestions {
				q := s.Question()
				require.NotNil(t, q)
				answer := c.answer(q)
				asked = append(asked, q.Path+": "+answer)
				reply := s.Answer(answer)
				require.Empty(t, reply.Problems, "%s: %s", q.Path, answer)
			}
			got := map[string]bool{}
			for _, p := range sheet.SlipOf(s.Design(), s.Report(), nil).Parts {
				part := strings.TrimPrefix(p.Subject, "design.")
				if strings.HasPrefix(part, "feed.runs[") {
					part = "hose"
				}
				t.Log(part, p.Word, p.Text)
				got[part] = !strings.HasPrefix(p.Text, "look for ") && (len(p.Rules) > 0 || judged(s.Report(), p.Subject))
			}
			want := []string{"pump", "regulator", "throttle_body.injectors"}
			if c.hose() != "" {
				want = append(want, "hose")
			}
			for _, part := range want {
				assert.True(t, got[part], "%s after\n%s", part, strings.Join(asked, "\n"))
			}
		})
	}
}

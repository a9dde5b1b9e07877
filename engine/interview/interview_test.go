package interview_test

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

// small is the library of the scripts: a few rules, so that every question is known.
func small(t require.TestingT) *engine.Library {
	lib, err := engine.Load(os.DirFS("../../testdata/script/library"))
	require.NoError(t, err)
	return lib
}

const head = "plumbline: 1\ntitle: van\nregions: none\nstage: planned\n"

func begin(t require.TestingT, text string, change ...func(*interview.Options)) *interview.Session {
	lib := small(t)
	o := interview.Options{
		File: "van.yaml", Text: []byte(text), Units: quantity.Both,
		Judge: func(d *schema.Design) *engine.Report { return lib.Judge(d, engine.Options{Today: day}) },
	}
	for _, c := range change {
		c(&o)
	}
	s, err := interview.Begin(o)
	require.NoError(t, err)
	return s
}

// take answers and expects that the answer is taken.
func take(t *testing.T, s *interview.Session, path, answer string) interview.Reply {
	t.Helper()
	require.NotNil(t, s.Question(), "nothing is asked")
	require.Equal(t, "design."+path, s.Question().Path)
	r := s.Answer(answer)
	require.Empty(t, r.Problems)
	return r
}

func TestADesignBeginsWithTitleRegionsAndStage(t *testing.T) {
	s := begin(t, "plumbline: 1\n", func(o *interview.Options) {
		o.Regions = []interview.Choice{{Word: "gb", Meaning: "Country B"}, {Word: "us", Meaning: "Country A"}}
		o.CheckRegion = func(name string) error {
			if name != "gb" && name != "us" {
				return errors.New("no rules for " + name)
			}
			return nil
		}
		o.Standing = map[string]string{"design.stage": "planned"}
	})
	take(t, s, "title", "1972")
	require.Equal(t, []string{"no rules for xx"}, s.Answer("xx").Problems)
	take(t, s, "regions", "1")
	require.Equal(t, []string{"gb is in the list already"}, s.Answer("gb").Problems)
	take(t, s, "regions", "us")
	take(t, s, "regions", "")
	assert.Equal(t, "planned", s.Question().Standing)
	require.Equal(t, []string{"plannd is not one of planned, ordered, built, started, handed_over; did you mean planned?"}, s.Answer("plannd").Problems)
	take(t, s, "stage", "")
	assert.Equal(t, "plumbline: 1\ntitle: \"1972\"\nregions:\n  - gb\n  - us\n", string(s.Text()))
}

func TestValues(t *testing.T) {
	s := begin(t, head)
	q := s.Question()
	require.Equal(t, "design.pump.stop_control", q.Path)
	assert.Equal(t, interview.Value, q.Form)
	assert.Equal(t, pack.Fire, q.Danger)
	assert.Equal(t, []interview.Waiting{{Rule: "test/fuel.stops-with-engine", Title: "the pump stops when the engine stops", Danger: "fire"}}, q.Rules)
	assert.Equal(t, []string{"fuel pump", "what stops the pump when the engine stops"}, q.Label)

	assert.True(t, s.Answer("?").Why)
	assert.Contains(t, s.Answer("ignition_key_onyl").Problems[0], "did you mean ignition_key_only?")
	assert.Contains(t, s.Answer("5").Problems[0], "5 is none of these")
	assert.Equal(t, []string{"the answer holds a character that cannot be seen; type it again"}, s.Answer("\x1b[2J").Problems)
	r := take(t, s, "pump.stop_control", "3")
	assert.True(t, r.Changed)
	require.Len(t, r.Failed, 1, "a danger that the answer brings to light is told at once")
	assert.Equal(t, "test/fuel.stops-with-engine", r.Failed[0].Rule)
	assert.Equal(t, head+"pump:\n  stop_control: ignition_key_only\n", string(s.Text()))

	take(t, s, "engine.power", "90 kW")
	assert.Equal(t, head+"pump:\n  stop_control: ignition_key_only\nengine:\n  power: 90 kW\n", string(s.Text()))
}

func TestANumberWithoutAUnit(t *testing.T) {
	for units, want := range map[quantity.System][]string{quantity.US: {"50 hp"}, quantity.Metric: {"50 kW"}, quantity.Both: {"50 hp", "50 kW"}} {
		s := begin(t, head, func(o *interview.Options) { o.Units = units })
		take(t, s, "pump.stop_control", "1")
		require.Equal(t, "design.engine.power", s.Question().Path)
		r := s.Answer("50")
		require.Len(t, r.Problems, 1)
		assert.Contains(t, r.Problems[0], "50: a power needs a unit; write 50")
		assert.Equal(t, want, r.Offer)
		assert.False(t, r.Changed)
		assert.Empty(t, s.Answer("50 psi").Offer)
		assert.Contains(t, s.Answer("50 psi").Problems[0], "50 psi is a pressure; a power is expected")
		assert.Contains(t, s.Answer("none").Problems[0], "does not start with a number")
	}
}

// A range is an answer like any other, and the fact is not asked for again.
func TestARangeIsAnAnswer(t *testing.T) {
	s := begin(t, head)
	take(t, s, "pump.stop_control", "1")
	assert.Contains(t, s.Answer("320..280 hp").Problems[0], "write 280 hp..320 hp")
	assert.Equal(t, []string{"50..60 hp", "50..60 kW"}, s.Answer("50..60").Offer)
	r := take(t, s, "engine.power", "280..320 hp")
	assert.True(t, r.Changed)
	assert.Contains(t, string(s.Text()), "engine:\n  power: 280..320 hp\n")
	for q := s.Question(); q != nil; q = s.Question() {
		require.NotEqual(t, "design.engine.power", q.Path)
		s.Answer("")
	}
	again := begin(t, string(s.Text()))
	for q := again.Question(); q != nil; q = again.Question() {
		require.NotEqual(t, "design.engine.power", q.Path)
		again.Answer("")
	}
}

func TestListsByName(t *testing.T) {
	s := begin(t, head)
	take(t, s, "pump.stop_control", "1")
	for s.Question().Path != "design.feed.runs" {
		take(t, s, strings.TrimPrefix(s.Question().Path, "design."), "")
	}
	assert.Equal(t, interview.Items, s.Question().Form)
	assert.Equal(t, "built", s.Question().Later, "the job is planned, the rule due when it is built")
	take(t, s, "feed.runs", "frame tube")
	assert.Equal(t, []string{"frame tube"}, s.Question().Listed)
	assert.Equal(t, []string{"there is a frame tube in this list already; give each its own name"}, s.Answer("frame tube").Problems)
	assert.Equal(t, []string{"the list has begun; an empty line ends it, back takes the last one back"}, s.Answer("none").Problems)
	take(t, s, "feed.runs", `"none"`)
	take(t, s, "feed.runs", "third")
	assert.True(t, s.Answer("back").Changed)
	assert.Equal(t, []string{"frame tube", "none"}, s.Question().Listed)
	take(t, s, "feed.runs", "")
	assert.Equal(t, []string{"pump-to-engine line", "pieces of the line", "frame tube", "distance from the exhaust"}, s.Question().Label)
	r := take(t, s, "feed.runs[0].exhaust_clearance", "20 mm")
	assert.Len(t, r.Failed, 1)
	take(t, s, "feed.runs[1].exhaust_clearance", "90 mm")
	assert.Nil(t, s.Question())
	assert.Contains(t, string(s.Text()), "feed:\n  runs:\n    - name: frame tube\n      zone: frame\n      kind: tube\n      exhaust_clearance: 20 mm\n    - name: none\n      exhaust_clearance: 90 mm\n")
	assert.Len(t, s.Answer("x").Problems, 1)

	none := begin(t, head+"pump: {stop_control: controller_speed_signal}\n")
	for none.Question().Path != "design.feed.runs" {
		none.Answer("")
	}
	take(t, none, "feed.runs", "none")
	assert.Contains(t, string(none.Text()), "feed:\n  runs: none\n")
}

func TestBackAndSkip(t *testing.T) {
	s := begin(t, head)
	assert.NotEmpty(t, s.Answer("back").Problems, "nothing to take back yet")
	take(t, s, "pump.stop_control", "1")
	take(t, s, "engine.power", "")
	assert.NotEqual(t, "design.engine.power", s.Question().Path)
	assert.False(t, s.Answer("back").Changed, "skipping changed nothing")
	take(t, s, "engine.power", "150 hp")
	assert.True(t, s.Answer("back").Changed)
	assert.True(t, s.Answer("back").Changed)
	assert.Equal(t, head, string(s.Text()))
	assert.Equal(t, "design.pump.stop_control", s.Question().Path)
	assert.True(t, s.Answer("stop").Stopped)
}

// real begins with the rules of the house where a question of some form is asked.
func real(t *testing.T, text, path string) *interview.Session {
	t.Helper()
	lib := shipped.Library(t)
	s, err := interview.Begin(interview.Options{File: "van.yaml", Text: []byte(text), Judge: func(d *schema.Design) *engine.Report {
		return lib.Judge(d, engine.Options{Today: day})
	}})
	require.NoError(t, err)
	for s.Question() != nil && s.Question().Path != "design."+path {
		s.Answer("")
	}
	require.NotNil(t, s.Question(), "%s is not asked", path)
	return s
}

func TestPartsThatMayBeAbsent(t *testing.T) {
	t.Parallel()
	s := real(t, head, "vehicle.brake_booster")
	assert.Equal(t, interview.Presence, s.Question().Form)
	assert.Contains(t, s.Answer("maybe").Problems[0], "write yes when there is one, none when there is none")
	take(t, s, "vehicle.brake_booster", "yes")
	assert.Equal(t, head+"vehicle:\n  brake_booster: {}\n", string(s.Text()))
	s.Answer("back")
	take(t, s, "vehicle.brake_booster", "none")
	assert.Equal(t, head+"vehicle:\n  brake_booster: none\n", string(s.Text()))
}

func TestItemsWithoutNames(t *testing.T) {
	t.Parallel()
	s := real(t, head, "pump.curve")
	assert.Equal(t, interview.Count, s.Question().Form)
	assert.Contains(t, s.Answer("many").Problems[0], "from 1 to 64")
	assert.Contains(t, s.Answer("65").Problems[0], "from 1 to 64")
	take(t, s, "pump.curve", "2")
	assert.Equal(t, head+"pump:\n  curve:\n    - {}\n    - {}\n", string(s.Text()))
	for s.Question().Path != "design.pump.curve[1].flow" {
		s.Answer("")
	}
	assert.Equal(t, []string{"fuel pump", "flow curve of the pump", "number 2 of 2", "flow of the point"}, s.Question().Label)
	take(t, s, "pump.curve[1].flow", "90 L/h")
	assert.Equal(t, head+"pump:\n  curve:\n    - {}\n    - flow: 90 L/h\n", string(s.Text()))

	gauges := real(t, head, "gauges")
	assert.Equal(t, interview.Items, gauges.Question().Form, "told by their kind")
	require.NotEmpty(t, gauges.Question().Choices)
	take(t, gauges, "gauges", "1")
	take(t, gauges, "gauges", "oil_pressure")
	assert.Equal(t, head+"gauges:\n  - kind: fuel_level\n  - kind: oil_pressure\n", string(gauges.Text()))
}

// A list that has begun is asked after: whether that is all of it, and if not, for the rest.
func TestListsThatAreNotAllNamed(t *testing.T) {
	t.Parallel()
	begun := head + "feed:\n  runs:\n    - name: hose\n      kind: hose\n"
	s := real(t, begun, "feed.runs")
	assert.Equal(t, interview.Whole, s.Question().Form)
	assert.Equal(t, "the feed, from pump to throttle body", s.Question().Whole)
	assert.Contains(t, s.Answer("maybe").Problems[0], "write yes when that is all, no when there is more")
	take(t, s, "feed.runs", "yes")
	assert.Equal(t, begun+"complete:\n  - feed\n", string(s.Text()))
	assert.True(t, s.Design().Feed.Runs.Known())

	s.Answer("back")
	assert.Equal(t, begun, string(s.Text()))
	take(t, s, "feed.runs", "no")
	assert.Equal(t, interview.Items, s.Question().Form)
	assert.Equal(t, []string{"hose"}, s.Question().Listed)
	assert.NotEmpty(t, s.Answer("hose").Problems, "it is named already")
	take(t, s, "feed.runs", "filter")
	assert.Contains(t, string(s.Text()), "kind: hose\n    - name: filter\n")
	s.Answer("")
	for s.Question().Path != "design.feed.runs" {
		s.Answer("")
	}
	assert.Equal(t, interview.Whole, s.Question().Form, "asked anew")

	// What is said to be complete already stays so, a template's too.
	more := real(t, "complete: [circuits]\n"+begun, "feed.runs")
	take(t, more, "feed.runs", "yes")
	assert.Contains(t, string(more.Text()), "complete: [circuits, feed]\n")
}

func TestTheOtherWayToSayIt(t *testing.T) {
	t.Parallel()
	s := real(t, head+"fuel: {ethanol: 0 %}\n", "throttle_body.injectors.static_flow")
	assert.Equal(t, "design.throttle_body.injectors.static_mass_flow", s.Question().Other)
	take(t, s, "throttle_body.injectors.static_flow", "30 lb/h")
	assert.Contains(t, string(s.Text()), "throttle_body:\n  injectors:\n    static_mass_flow: 30 lb/h\n")
	for q := s.Question(); q != nil; q = s.Question() {
		require.NotEqual(t, "design.throttle_body.injectors.static_flow", q.Path)
		s.Answer("")
	}
}

func TestWhatIsWrittenStays(t *testing.T) {
	before := "# the van of the baker\nplumbline: 1\ntitle:   van   # white\nregions: none\nstage: planned\n\npump: {rated_flow: 190 L/h}   # label\n\n# not measured yet\nfeed:\n    runs:\n        - {name: tube}  # new\n"
	s := begin(t, before)
	take(t, s, "pump.stop_control", "1")
	for s.Question().Path != "design.feed.runs[0].exhaust_clearance" {
		s.Answer("")
	}
	take(t, s, "feed.runs[0].exhaust_clearance", "2 in")
	assert.Equal(t, strings.NewReplacer("190 L/h}", "190 L/h, stop_control: controller_speed_signal}", "{name: tube}", "{name: tube, exhaust_clearance: 2 in}").Replace(before), string(s.Text()))
}

func TestTemplates(t *testing.T) {
	shelf := map[string]string{"t.yaml": "plumbline: 1\nregions: none\nstage: planned\nengine: {power: 90 kW}\npump: {stop_control: controller_speed_signal, rated_flow: 190 L/h}\n" +
		"feed: {runs: [{name: tube, kind: tube, exhaust_clearance: 90 mm}, {name: hose, kind: hose}]}\n"}
	open := func(o *interview.Options) {
		o.Load = schema.Loader{Open: func(name string) ([]byte, error) { return []byte(shelf[name]), nil }}.Load
	}
	s := begin(t, "plumbline: 1\nbased_on: t.yaml\n", open)
	take(t, s, "title", "")
	for s.Question().Path != "design.feed.runs[1].exhaust_clearance" {
		assert.NotContains(t, []string{"design.pump.stop_control", "design.pump.rated_flow", "design.engine.power", "design.regions"}, s.Question().Path)
		s.Answer("")
	}
	take(t, s, "feed.runs[1].exhaust_clearance", "60 mm")
	assert.Equal(t, "plumbline: 1\nbased_on: t.yaml\nfeed:\n  runs:\n    - name: hose\n      exhaust_clearance: 60 mm\n", string(s.Text()))
	assert.Equal(t, "tube", s.Design().Feed.Runs.Items[0].Name.Any())

	// A list whose items have no names is stated whole when one of them changes.
	shelf["t.yaml"] = "plumbline: 1\nregions: none\nstage: planned\nfeed: {runs: [{kind: tube, exhaust_clearance: 90 mm, filter: none}, {kind: hose}, {}]}\n"
	shelf["t.yaml"] = strings.Replace(shelf["t.yaml"], ", filter: none", "", 1)
	s = begin(t, "plumbline: 1\nbased_on: t.yaml\n", open)
	for s.Question().Path != "design.feed.runs[1].exhaust_clearance" {
		s.Answer("")
	}
	take(t, s, "feed.runs[1].exhaust_clearance", "60 mm")
	assert.Equal(t, "plumbline: 1\nbased_on: t.yaml\nfeed:\n  runs:\n    - kind: tube\n      exhaust_clearance: 90 mm\n    - kind: hose\n      exhaust_clearance: 60 mm\n    - {}\n", string(s.Text()))
}

func TestAFileWithProblemsIsRefused(t *testing.T) {
	lib := small(t)
	_, err := interview.Begin(interview.Options{File: "van.yaml", Text: []byte("plumbline: 1\npump: {plce: x}\n"), Judge: func(d *schema.Design) *engine.Report { return lib.Judge(d, engine.Options{}) }})
	assert.ErrorContains(t, err, "van.yaml:2:8: unknown key plce; did you mean place?")
}

// Examples are offered in the reader's units: each must be an answer that is taken.
func TestExamplesAreAnswers(t *testing.T) {
	schema.WalkAll(schema.Empty(), func(v schema.Visit) {
		fact := schema.Describe(v.Path)
		if v.Kind != schema.KindQuantity {
			return
		}
		value, err := quantity.Parse(fact.Example, fact.Field.Dimension)
		require.NoError(t, err, v.Path)
		for _, units := range []quantity.System{quantity.Metric, quantity.US} {
			text := "plumbline: 1\n"
			keys := strings.Split(strings.TrimPrefix(v.Path, "design."), ".")
			for i, key := range keys {
				text += strings.Repeat("  ", i) + key + ":\n"
			}
			text = strings.TrimSuffix(text, "\n") + " " + value.Format(units) + "\n"
			_, err := schema.Load("f", []byte(text))
			assert.NoError(t, err, "%s: %s", v.Path, value.Format(units))
		}
	})
}

// No word of a design means something else at the prompt.
func TestNoWordIsACommand(t *testing.T) {
	for _, typ := range schema.Types() {
		for _, f := range typ.Fields {
			for _, w := range f.Words {
				assert.NotContains(t, []string{interview.Stop, interview.Back, interview.Why, ""}, w, "%s.%s", typ.Name, f.Key)
			}
		}
	}
}

// Whatever is answered, the file loads, what was written stays in it, and back leads to where it was.
func TestWhateverIsAnsweredTheFileLoads(t *testing.T) {
	proofs.Fewer(t, 10)
	lib := shipped.Library(t)
	judge := func(d *schema.Design) *engine.Report { return lib.Judge(d, engine.Options{Today: day}) }
	for _, text := range []string{"plumbline: 1\n", "# a note\nplumbline: 1\npump: {place: in_tank} # here\n\nfeed:\n  runs:\n    - {name: 'a: b', kind: hose}\n# end\n"} {
		rapid.Check(t, func(t *rapid.T) {
			s, err := interview.Begin(interview.Options{File: "van.yaml", Text: []byte(text), Judge: judge})
			require.NoError(t, err)
			for range rapid.IntRange(1, 25).Draw(t, "answers") {
				q := s.Question()
				if q == nil {
					break
				}
				before := string(s.Text())
				answer := rapid.OneOf(
					rapid.SampledFrom([]string{"", "", "none", "yes", "1", "2", "back", "?", "true", "58", "300 kPa", "1971-12-01", "frame tube", "a: b", "#", "{}", "[", "- x", "*", "&a", "|", "'", `"`, `"none"`, "!!int 3", "~", "null", "06", "1_0", "0x1F"}),
					rapid.SampledFrom(append(q.Examples, "1")),
					rapid.String(),
				).Draw(t, "answer")
				r := s.Answer(answer)
				design, err := schema.Load("van.yaml", s.Text())
				require.NoError(t, err, "%s answered with %q", q.Path, answer)
				require.Equal(t, r.Changed, before != string(s.Text()), "%s answered with %q", q.Path, answer)
				require.NotNil(t, design)
				for _, note := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' }) {
					if strings.HasPrefix(note, "#") {
						require.Contains(t, string(s.Text()), note)
					}
				}
				if r.Changed && answer != "back" && rapid.Bool().Draw(t, "take back") {
					require.Empty(t, s.Answer("back").Problems)
					require.Equal(t, before, string(s.Text()))
					require.Equal(t, q.Path, s.Question().Path, fmt.Sprintf("%q", answer))
				}
			}
		})
	}
}

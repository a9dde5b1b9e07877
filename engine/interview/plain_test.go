package interview_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/shipped"
)

// counter begins as the program does, with the rules and the patterns of the house.
func counter(t *testing.T, text string) *interview.Session {
	t.Helper()
	lib := shipped.Library(t)
	patterns := shipped.Patterns(t)
	s, err := interview.Begin(interview.Options{File: "van.yaml", Text: []byte(text), Units: quantity.Both, Judge: func(d *schema.Design) *engine.Report {
		return lib.Judge(d, engine.Options{Today: day, Patterns: patterns})
	}})
	require.NoError(t, err)
	return s
}

// A label is answered as it is printed, and a line that says more than was asked is taken whole; what was understood is told.
func TestALineSaysMoreThanWasAsked(t *testing.T) {
	t.Parallel()
	s := counter(t, head)
	r := take(t, s, "engine.power", "6.4 L V8, about 300 hp")
	assert.Equal(t, head+"engine:\n  displacement: 6.4 L\n  cylinders: 8\n  power: about 300 hp\n", string(s.Text()))
	require.Len(t, r.Heard, 3)
	assert.Equal(t, interview.Heard{Path: "design.engine.power", Label: "power", Value: "about 300 hp"}, r.Heard[2])
	s.Answer("back")
	assert.Equal(t, head, string(s.Text()), "taken back as one answer")

	s = counter(t, head+"engine: {power: 300 hp}\nfuel: {ethanol: E10}\n")
	r = take(t, s, "pump.place", "255 lph @ 43 psi")
	assert.Len(t, r.Problems, 0)
	assert.Contains(t, string(s.Text()), "pump:\n  rated_flow: 255 lph\n  rated_pressure: 43 psi\n")

	// What the design states otherwise is not written over.
	r = s.Answer("pump 190 lph in the tank")
	assert.NotEmpty(t, r.Problems)
	assert.NotContains(t, string(s.Text()), "in_tank")
}

// The unit alone is answer enough where a number lacked it.
func TestTheUnitAlone(t *testing.T) {
	t.Parallel()
	s := counter(t, head)
	assert.Equal(t, []string{"about 300 hp", "about 300 kW"}, s.Answer("about 300").Offer)
	take(t, s, "engine.power", "HP")
	assert.Contains(t, string(s.Text()), "power: about 300 hp\n")
	assert.NotEmpty(t, counter(t, head).Answer("hp").Problems, "of no number")
}

// Pieces of a line are named as they are printed; a name of its own stays.
func TestPiecesAsTheyArePrinted(t *testing.T) {
	t.Parallel()
	s := counter(t, head+"engine: {power: 300 hp}\nfuel: {ethanol: E10}\npump: {place: frame_rail}\nregulator: {style: return_style}\nthrottle_body: {injectors: {count: 4, static_flow: 600 cc/min, test_pressure: 300 kPa}}\n")
	take(t, s, "feed.runs", "rear hose")
	r := take(t, s, "feed.runs", "hose 3/8 R9 15 ft")
	assert.Len(t, r.Heard, 4)
	take(t, s, "feed.runs", "the blue thing")
	assert.Contains(t, string(s.Text()), "    - name: rear hose\n      kind: hose\n    - name: hose\n      kind: hose\n      bore: 3/8 in\n      mark: sae_j30_r9\n      length: 15 ft\n    - name: the blue thing\n")
	take(t, s, "feed.runs", "tube 5/16, filter 10 micron") // both
	assert.Contains(t, string(s.Text()), "kind: tube\n      bore: 5/16 in\n    - kind: filter\n      filter:\n        mesh: 10 micron\n")
}

// A wire's size as it is said, of the wire that is asked about.
func TestGaugeOfAWire(t *testing.T) {
	t.Parallel()
	s := real(t, head+"circuits: [{name: fuel pump, purpose: fuel_pump, feed_wires: [{length: 4 m}, {length: 1 m, size: 12 AWG}]}]\n", "circuits[0].feed_wires[0].size")
	r := take(t, s, "circuits[0].feed_wires[0].size", "18 gauge")
	require.Len(t, r.Heard, 1)
	assert.Contains(t, r.Heard[0].Value, "taken as AWG", "what is custom is told")
	assert.Equal(t, "18 AWG", s.Design().FactAt("design.circuits[0].feed_wires[0].size").Text())
	assert.Equal(t, "12 AWG", s.Design().FactAt("design.circuits[0].feed_wires[1].size").Text())
}

// What only the maker's sheet tells is not asked of a planned job, nor the pressure of a flow that nobody can read.
func TestWhatNobodyAtACounterKnows(t *testing.T) {
	t.Parallel()
	asked := func(change func(*interview.Options)) map[string]bool {
		lib := shipped.Library(t)
		o := interview.Options{File: "van.yaml", Text: []byte(head), Judge: func(d *schema.Design) *engine.Report { return lib.Judge(d, engine.Options{Today: day}) }}
		change(&o)
		s, err := interview.Begin(o)
		require.NoError(t, err)
		out := map[string]bool{}
		for q := s.Question(); q != nil; q = s.Question() {
			out[q.Path] = true
			s.Answer("")
		}
		return out
	}
	plain := asked(func(*interview.Options) {})
	all := asked(func(o *interview.Options) { o.All = true })
	for _, path := range []string{"design.throttle_body.lowest_pressure", "design.pump.ethanol_rating"} {
		assert.False(t, plain[path], path)
		assert.True(t, all[path], path)
	}
	built := asked(func(o *interview.Options) { o.Text = []byte("plumbline: 1\ntitle: van\nregions: none\nstage: built\n") })
	assert.True(t, built["design.throttle_body.lowest_pressure"], "a job that is built has its sheets")
	assert.False(t, plain["design.pump.rated_pressure"], "its flow was passed over")
}

// A warning of fire is told at once, like what is wrong.
func TestAWarningOfFireIsTold(t *testing.T) {
	t.Parallel()
	s := real(t, head+"tank: {location: in_cabin}\npump: {place: in_tank}\n", "pump.inertia_switch")
	r := take(t, s, "pump.inertia_switch", "nope")
	require.Len(t, r.Failed, 1)
	assert.Equal(t, engine.Warn, r.Failed[0].Outcome)
	assert.Equal(t, "fuel/delivery.inertia-switch", r.Failed[0].Rule)
}

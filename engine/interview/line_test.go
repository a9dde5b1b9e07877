package interview_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/schema"
)

// beside begins a session that judges nothing: what is tried is what happens to the text.
func beside(t *testing.T, text string) *interview.Session {
	s, err := interview.Begin(interview.Options{File: "d.yaml", Text: []byte(text), Judge: func(*schema.Design) *engine.Report { return &engine.Report{Stage: "planned"} }})
	require.NoError(t, err)
	return s
}

func TestLine(t *testing.T) {
	for name, c := range map[string]struct {
		before, line, want string
		left               []string
	}{
		"a pump": {"plumbline: 1\n", "pump 255 lph @ 43 psi in tank", "plumbline: 1\npump:\n  rated_flow: 255 lph\n  rated_pressure: 43 psi\n  place: in_tank\n", nil},
		"a further hose": {"plumbline: 1\nfeed:\n  runs:\n    - name: tank hose  # old\n      bore: 8 mm\n", "hose 3/8 R9 15 ft",
			"plumbline: 1\nfeed:\n  runs:\n    - name: tank hose  # old\n      bore: 8 mm\n    - kind: hose\n      bore: 3/8 in\n      mark: sae_j30_r9\n      length: 15 ft\n", nil},
		"otherwise than stated": {"plumbline: 1\nregulator: {setting: 58 psi} # as bought\n", "regulator 43 psi", "plumbline: 1\nregulator: {setting: 43 psi} # as bought\n", nil},
		"in other units":        {"plumbline: 1\nthrottle_body: {injectors: {static_flow: 650 cc/min}}\n", "injectors 80 lb/hr", "plumbline: 1\nthrottle_body: {injectors: {static_mass_flow: 80 lb/hr}}\n", nil},
		"the circuit that is there": {"plumbline: 1\ncircuits:\n  - name: lift pump\n    purpose: lift_pump\n  - name: the pump's\n    purpose: fuel_pump\n", "pump fuse 15 A",
			"plumbline: 1\ncircuits:\n  - name: lift pump\n    purpose: lift_pump\n  - name: the pump's\n    purpose: fuel_pump\n    fuse:\n      rating: 15 A\n", nil},
		"a new circuit":          {"plumbline: 1\n", "pump wire 18 AWG 16 ft", "plumbline: 1\ncircuits:\n  - name: fuel pump\n    purpose: fuel_pump\n    feed_wires:\n      - size: 18 AWG\n        length: 16 ft\n", nil},
		"none of what has facts": {"plumbline: 1\nreturn_line: {rise: 1 m}\n", "no return\npump 190 lph", "plumbline: 1\nreturn_line: {rise: 1 m}\npump:\n  rated_flow: 190 lph\n", []string{"no return"}},
		"what is not understood": {"plumbline: 1\n", "pump 190 lph, the good stuff", "plumbline: 1\npump:\n  rated_flow: 190 lph\n", []string{"good stuff"}},
		"nothing new":            {"plumbline: 1\npump: {rated_flow: 190 lph}\n", "pump 190 lph", "plumbline: 1\npump: {rated_flow: 190 lph}\n", nil},
	} {
		t.Run(name, func(t *testing.T) {
			s := beside(t, c.before)
			reply := s.Line(c.line)
			assert.Empty(t, reply.Problems)
			assert.Equal(t, c.want, string(s.Text()))
			assert.Equal(t, c.before != c.want, reply.Changed)
			var left []string
			for _, l := range reply.Left {
				left = append(left, l.Text)
				assert.NotEmpty(t, l.Why)
			}
			assert.Equal(t, c.left, left)
		})
	}
}

func TestTell(t *testing.T) {
	for name, c := range map[string]struct{ before, path, answer, want, problem string }{
		"not stated":             {"plumbline: 1\n", "design.pump.place", "in the tank", "plumbline: 1\npump:\n  place: in_tank\n", ""},
		"stated otherwise":       {"plumbline: 1\npump: {place: in_tank} # seen\n", "design.pump.place", "frame rail", "plumbline: 1\npump: {place: frame_rail} # seen\n", ""},
		"a word between":         {"plumbline: 1\n", "design.title", "stop", "plumbline: 1\ntitle: stop\n", ""},
		"a label":                {"plumbline: 1\npump: {rated_flow: 190 L/h, rated_pressure: 3 bar}\n", "design.pump.rated_flow", "255 lph @ 43 psi", "plumbline: 1\npump: {rated_flow: 255 lph, rated_pressure: 43 psi}\n", ""},
		"no unit":                {"plumbline: 1\n", "design.pump.rated_flow", "255", "plumbline: 1\n", "unit"},
		"an item":                {"plumbline: 1\nfeed: {runs: [{name: a}]}\n", "design.feed.runs[]", "b", "plumbline: 1\nfeed: {runs: [{name: a}, {name: b}]}\n", ""},
		"an item that is there":  {"plumbline: 1\nfeed: {runs: [{name: a}]}\n", "design.feed.runs[]", "a", "plumbline: 1\nfeed: {runs: [{name: a}]}\n", "already"},
		"one more wire":          {"plumbline: 1\ncircuits: [{name: a, feed_wires: [{size: 12 AWG}]}]\n", "design.circuits[0].feed_wires[]", "yes", "plumbline: 1\ncircuits: [{name: a, feed_wires: [{size: 12 AWG}, {}]}]\n", ""},
		"there is one, as known": {"plumbline: 1\nreturn_line: {rise: 1 m}\n", "design.return_line", "yes", "plumbline: 1\nreturn_line: {rise: 1 m}\n", ""},
		"none after all":         {"plumbline: 1\nreturn_line:\n  rise: 1 m # measured\n", "design.return_line", "none", "plumbline: 1\n# measured\nreturn_line: none\n", ""},
		"no such fact":           {"plumbline: 1\n", "design.pump.colour", "red", "plumbline: 1\n", "nothing can be answered"},
		"no such item":           {"plumbline: 1\n", "design.feed.runs[3].bore", "8 mm", "plumbline: 1\n", "nothing can be answered"},
		"nothing":                {"plumbline: 1\n", "design.title", "  ", "plumbline: 1\n", "nothing was typed"},
		"that is all":            {"plumbline: 1\nfeed: {runs: [{name: a}]}\n", "design.feed.runs", "yes", "plumbline: 1\nfeed: {runs: [{name: a}]}\ncomplete:\n  - feed\n", ""},
		"in other units":         {"plumbline: 1\nthrottle_body: {injectors: {static_flow: 650 cc/min}}\n", "design.throttle_body.injectors.static_flow", "80 lb/hr", "plumbline: 1\nthrottle_body: {injectors: {static_mass_flow: 80 lb/hr}}\n", ""},
	} {
		t.Run(name, func(t *testing.T) {
			s := beside(t, c.before)
			reply := s.Tell(c.path, c.answer)
			assert.Equal(t, c.want, string(s.Text()))
			if c.problem == "" {
				assert.Empty(t, reply.Problems)
			} else if assert.NotEmpty(t, reply.Problems) {
				assert.Contains(t, reply.Problems[0], c.problem)
			}
		})
	}
}

package proof_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/proof"
)

// caseOf is a pack whose one case is this; without it the rule has every case it needs.
func caseOf(given string) string {
	return `pack: a/b
title: T
edition: 1
part: P
rules:
  - id: one
    title: t
    danger: none
    due: built
    about: design.pump
    measure: design.pump.prime_time
    must: {at_most: 3 s}
    say: s
    mend: Do it.
    because: [{practice: p}]
    cases:
      - {name: wrong, ` + given + `}
`
}

// A mistake in what a case gives is told once, where it stands, with what to write; nothing follows of what the case
// would have shown.
func TestMistakesInCasesAreToldAtTheirPlace(t *testing.T) {
	for _, c := range []struct{ given, at, said string }{
		{"given: {pump: {prime_tim: 3 s}}, expect: pass", "prime_tim", "unknown key prime_tim; did you mean prime_time?"},
		{"given: {pmp: {prime_time: 3 s}}, expect: pass", "pmp", "unknown key pmp; did you mean pump?"},
		{"given: {pump: {prime_time: 3 psi}}, expect: pass", "3 psi", "3 psi is a pressure; a time is expected"},
		{"given: {pump: {prime_time: 3}}, expect: pass", "3}", "3: a time needs a unit; write 3 s or 3 min"},
		{"given: {pump: {place: in_tnk}}, expect: pass", "in_tnk", "in_tnk is not one of in_tank"},
		{"given: {pump: {isolated: maybe}}, expect: pass", "maybe", "write true or false"},
		{"given: {feed: {runs: [{length: 2 m}, {lenght: 3 m}]}}, expect: pass", "lenght", "unknown key lenght; did you mean length?"},
		{"given: {pump: {prime_time: 900000 s}}, expect: pass", "900000 s", "900000 s is out of range"},
		{"given: {pump: {prime_time: 3 s}}, assume: {at.idle.fuel_demnd: 3 L/h}, expect: pass", "at.idle.fuel_demnd", "there is no derived value at.idle.fuel_demnd; did you mean at.idle.fuel_demand?"},
		{"given: {pump: {prime_time: 3 s}}, assume: {at.idle.fuel_demand: 3 psi}, expect: pass", "at.idle.fuel_demand", "3 psi is a pressure; a flow is expected"},
		{"given: {pump: {prime_time: 3 s}}, expect: pass, today: 2026-13-01", "2026-13-01", "today is a day such as 2026-01-31"},
		{"given: {}, expect: open, asks: [design.pump.prime_tim]", "design.pump.prime_tim", "there is no fact design.pump.prime_tim; did you mean design.pump.prime_time?"},
	} {
		t.Run(c.given, func(t *testing.T) {
			text := caseOf(c.given)
			lib, err := engine.Load(fstest.MapFS{"p.yaml": {Data: []byte(text)}})
			require.NoError(t, err)
			var said []string
			for _, r := range proof.Cases(lib) {
				if r.Problem != "" {
					said = append(said, fmt.Sprintf("%d:%d: %s", r.Place.Line, r.Place.Column, r.Problem))
				}
			}
			require.Len(t, said, 1)
			before := text[:strings.LastIndex(text, c.at)]
			want := fmt.Sprintf("%d:%d: ", strings.Count(before, "\n")+1, len(before)-strings.LastIndex(before, "\n"))
			assert.Equal(t, want+c.said, said[0][:min(len(said[0]), len(want+c.said))])
		})
	}
}

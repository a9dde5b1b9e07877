package interview_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine/interview"
)

// Answers as people gave them at a counter and were refused.
func TestAnswersAsPeopleSayThem(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ path, answer, want string }{
		{"pump.place", "on the frame rail", "pump:\n  place: frame_rail\n"},
		{"pump.place", "frame", "pump:\n  place: frame_rail\n"},
		{"regulator.style", "bypass", "regulator:\n  style: return_style\n"},
		{"regulator.style", "return", "regulator:\n  style: return_style\n"},
		{"ignition.kind", "electronic", "ignition:\n  kind: electronic_inductive\n"},
		{"ignition.mode", "vacuum advance", "ignition:\n  mode: distributor_advance\n"},
		{"controller.place", "under dash", "controller:\n  place: cabin\n"},
		{"engine.aspiration", "NA", "engine:\n  aspiration: natural\n"},
		{"vehicle.brake_booster", "yep", "vehicle:\n  brake_booster: {}\n"},
		{"vehicle.brake_booster", "nope", "vehicle:\n  brake_booster: none\n"},
		{"tank.location", "behind the seat", "tank:\n  location: in_cabin\n"},
	} {
		s := real(t, head, c.path)
		take(t, s, c.path, c.answer)
		assert.Equal(t, head+c.want, string(s.Text()), c.answer)
	}
	// Not knowing is no answer, however it is said: the next question is asked and nothing is written.
	for _, answer := range []string{"don't know", "dunno", "Unknown", "no idea"} {
		s := real(t, head, "pump.place")
		asked := s.Question().Path
		assert.Equal(t, interview.Reply{}, s.Answer(answer))
		assert.Equal(t, head, string(s.Text()))
		assert.NotEqual(t, asked, s.Question().Path)
	}
}

package report

import (
	"fmt"
	"strings"

	"plumbline/engine"
	"plumbline/engine/sheet"
)

// verdict counts what a reader must know first of a design.
type verdict struct {
	// stage is how far the job is.
	stage string
	// now are the things wrong that stop the job, later those that will, doubtful those that never do, puzzling those of them
	// that do not add up: checks of sense, a value that no such vehicle has among them.
	now, later, doubtful, puzzling int
	// open are the points that stop the job until judged, questions the facts to find out.
	open, questions int
	// slip answers for a planned job, with what is usual where a fact is not stated; nil when there is none.
	slip *sheet.Slip
}

// verdictOf is the verdict on a report, and on its slip where it has one.
func verdictOf(r *engine.Report, slip *sheet.Slip) verdict {
	v := verdict{stage: r.Stage, questions: len(r.Asked), slip: slip}
	for _, p := range parts(r) {
		for _, e := range entries(p.with(engine.Fail)) {
			switch {
			case e.blocks():
				v.now++
			case e.Conceded == nil:
				v.later++
			}
		}
		for _, e := range entries(p.with(engine.Warn)) {
			v.doubtful++
			if e.Sense {
				v.puzzling++
			}
		}
		stopping, _ := p.open()
		v.open += len(stopping)
	}
	return v
}

// lead answers the question of the stage: may the next step be taken.
func (v verdict) lead() string {
	if v.slip != nil && (v.now == 0 || v.slip.Answer == sheet.No) {
		return slipLead(v.slip)
	}
	step := steps[v.stage]
	wrong, open := count(v.now, "thing is wrong", "things are wrong"), count(v.open, "point is not judged", "points are not judged")
	switch {
	case v.now > 0 && v.open > 0:
		return step.dont + ": " + wrong + ", " + open
	case v.now > 0:
		return step.dont + ": " + wrong
	case v.open > 0:
		return step.dont + " yet: " + open
	}
	return v.puzzled("Nothing stands against " + step.doing)
}

// puzzled adds to a lead that nothing stops the job what does not add up: the rest was judged by figures of which one is not so.
func (v verdict) puzzled(lead string) string {
	if v.puzzling == 0 {
		return lead
	}
	return lead + ", but " + count(v.puzzling, "thing does", "things do") + " not add up"
}

// step is what comes next in a job.
type step struct{ dont, doing string }

// steps are those that follow the stages.
var steps = map[string]step{
	"planned":     {"Do not order", "ordering what is named"},
	"ordered":     {"Do not build", "building it"},
	"built":       {"Do not start it", "the first start"},
	"started":     {"Do not hand it over", "handing it over"},
	"handed_over": {"Call it back", "keeping it on the road"},
}

// rest says what will stop it later, and how much is asked.
func (v verdict) rest() string {
	var parts []string
	if v.later > 0 {
		parts = append(parts, count(v.later, "thing", "things")+" will stop it later")
	}
	if v.questions > 0 {
		parts = append(parts, count(v.questions, "question is", "questions are")+" open")
	} else {
		parts = append(parts, "no question is open")
	}
	return strings.Join(parts, "; ")
}

// line sums a design up for the end of a sheet of several.
func (v verdict) line() string {
	parts := []string{uncapital(v.lead())}
	if v.later > 0 {
		parts = append(parts, fmt.Sprintf("%d later", v.later))
	}
	if v.doubtful > 0 {
		parts = append(parts, count(v.doubtful, "warning", "warnings"))
	}
	if v.questions > 0 {
		parts = append(parts, count(v.questions, "question", "questions"))
	}
	return strings.Join(parts, "; ")
}

func stoppedWords(n int) string {
	switch n {
	case 0:
		return "none is stopped"
	case 1:
		return "1 is stopped"
	}
	return fmt.Sprintf("%d are stopped", n)
}

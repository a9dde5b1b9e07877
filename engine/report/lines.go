package report

import (
	"encoding/json"
	"io"

	"plumbline/engine"
)

// Summary sums one design up on one line of JSON: for programs that judge many designs and look closer at few.
// schema/line.schema.json describes it. There is one line for every design, in their order, whatever became of it.
type Summary struct {
	// The design, as it was named; FILE:LINE for a line of a file.
	Design string `json:"design"`
	// Title of the design.
	Title string `json:"title,omitempty"`
	// Stage of the job it was judged at; absent when it could not be judged.
	Stage string `json:"stage,omitempty"`
	// Number of findings by outcome; absent when it could not be judged.
	Counts *Counts `json:"counts,omitempty"`
	// The findings that are wrong or stop the job, the worst first.
	Findings []ShortFinding `json:"findings,omitempty"`
	// Limits and tables that have other values where the design is used.
	Overridden []string `json:"overridden,omitempty"`
	// Why it could not be judged.
	Problems []Problem `json:"problems,omitempty"`
}

// ShortFinding is a finding in short; plumbline explain RULE DESIGN says the rest.
type ShortFinding struct {
	// Full name of the rule.
	Rule string `json:"rule"`
	// Path of what was judged.
	Subject string `json:"subject"`
	// Outcome.
	Outcome string `json:"outcome" jsonschema:"enum=fail,enum=open,enum=warn"`
	// What is at stake.
	Danger string `json:"danger" jsonschema:"enum=fire,enum=poisoning,enum=loss_of_control,enum=shock,enum=burn,enum=engine,enum=none"`
	// It stops the job now.
	Blocks bool `json:"blocks"`
	// It is conceded.
	Conceded bool `json:"conceded,omitempty"`
}

// linesForm writes a line for each design.
type linesForm struct{}

// Head writes nothing: each line stands for itself.
func (linesForm) Head(io.Writer) error { return nil }

// Tail writes nothing either.
func (linesForm) Tail(io.Writer) error { return nil }

// Piece is the line of one design.
func (linesForm) Piece(x Item) any {
	line := Summary{Design: x.Name, Problems: x.problems()}
	if r := x.Report; r != nil {
		counts := countsOf(r.Count)
		counts.Blocking = r.Blocking()
		line.Title, line.Stage, line.Counts = r.Title, r.Stage, &counts
		for _, x := range r.Overridden {
			line.Overridden = append(line.Overridden, overriddenWords(x))
		}
		for i := range r.Findings {
			if f := &r.Findings[i]; f.Outcome == engine.Fail || f.Blocks {
				line.Findings = append(line.Findings, ShortFinding{Rule: f.Rule, Subject: f.Subject, Outcome: string(f.Outcome), Danger: string(f.Danger), Blocks: f.Blocks, Conceded: f.Conceded != nil})
			}
		}
	}
	text, err := json.Marshal(line)
	if err != nil {
		panic(err) // a line holds no number beyond JSON
	}
	return append(text, '\n')
}

// Add writes a line.
func (linesForm) Add(w io.Writer, piece any) error {
	_, err := w.Write(piece.([]byte))
	return err
}

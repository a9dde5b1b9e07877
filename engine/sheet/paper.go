package sheet

import (
	"slices"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/diagnose"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Paper is one paper for one use, as data: what stands on it, in order. Writers lay it out.
type Paper struct {
	// Name is that of the sheet, Title its heading, About the vehicle in a few words.
	Name, Title, About string
	// Use says in a sentence what it is for and how it is read.
	Use    string
	Blocks []Block
	Foot   Foot
	// Small is set for one that is a card, printed on A6.
	Small bool
	// Figures are the numbers that stand on it, with what each is.
	Figures []Figure
}

// Foot says what a paper was made from.
type Foot struct {
	// Design is its file, Revision a mark that changes with any stated fact, Library its edition, Day the day it was made.
	Design, Revision, Library, Day string
	// Since is the revision that changes are told since; "" where none are told.
	Since string
	// Stage is how far the job is; Wrong and Open are the findings that are wrong, and those not judged that stop it.
	Stage       string
	Wrong, Open int
}

// Figure is a number on a paper: a stated fact, a derived value, or the sum of such.
type Figure struct {
	// Text is as printed.
	Text string
	// Paths are those of the facts or values: one, or those that are summed.
	Paths []string
}

// Block is one piece of a paper: a heading with what stands below it.
type Block struct {
	Heading string
	Paras   []string
	Table   *Table
	// Way is a drawing of a way of fuel or current; Chart, Bars, Outline, Clock, Plan and Net are pictures of other kinds.
	Way     *Way
	Chart   *Chart
	Bars    *Bars
	Outline *Outline
	Clock   *Clock
	Plan    *Plan
	Net     *Net
	// Half is set for what is narrow: printed, two such blocks stand side by side.
	Half bool
	// Again is set for a table that says in figures what is drawn above it: a page folds it, so that paper does not hold it twice.
	Again bool
	// Sign asks for a name and a day.
	Sign string
}

// Table is a table. On a narrow page its rows become cards, so each cell must be understood with its column's head alone.
type Table struct {
	Caption string
	Heads   []string
	Rows    []Row
	// NoteHead says what the notes of the rows are.
	NoteHead string
}

// Row is one row of a table: cells, or a heading over those that follow.
type Row struct {
	Over  string
	Cells []Cell
	// Note is a text of its own below the cells, over the whole width; "" for none.
	Note string
}

// Cell is what stands in one place of a table.
type Cell struct {
	Text string
	// Blank is a place to write, Tick one to tick; Text then says what is written, where it does not go without saying.
	Blank, Tick bool
	// Unknown marks what nobody stated, or cannot be worked out.
	Unknown bool
	// Bad is the number of the finding that is wrong here, 0 for none.
	Bad int
	// Was is what stood here on the paper of an earlier design, where that was something else.
	Was string
	// Fresh is set for the first cell of a row that the paper of an earlier design had not.
	Fresh bool
	// Fills are the paths of the facts that what is written or ticked here states.
	Fills []string
}

// Blanks are the facts that the places to write on a paper ask for, in the order they stand there, each once.
func (p *Paper) Blanks() []string {
	var out []string
	for i := range p.Blocks {
		if p.Blocks[i].Table == nil {
			continue
		}
		for _, r := range p.Blocks[i].Table.Rows {
			for _, c := range r.Cells {
				for _, path := range c.Fills {
					if !slices.Contains(out, path) {
						out = append(out, path)
					}
				}
			}
		}
	}
	return out
}

// Job is what papers are made of.
type Job struct {
	Design  *schema.Design
	Report  *engine.Report
	Session *derive.Session
	// Packs are those of the library, whose limits are the bands of the papers.
	Packs []*pack.Pack
	// Units are those of the papers: metric or US.
	Units quantity.System
	// Allowance is added to every wire and hose that is cut.
	Allowance quantity.Value
	// Library is the edition of the library, Day the day of the paper, Revision the mark of the design.
	Library, Day, Revision string
	// Brief leaves out of the way of the current the circuits that nothing is wrong with, but for that of the pump.
	Brief bool
	// Diagnose says what the readings point to; nil where nobody asks.
	Diagnose func() *diagnose.Diagnosis
	// Number is the number of a finding in the job sheet, 0 for none.
	Number func(*engine.Finding) int
}

// Kind is a kind of paper.
type Kind struct {
	Name, Title string
	make        func(*maker)
	// tells is set for one that tells its findings in full where it marks them.
	tells bool
}

// Kinds are the papers there are, in the order of their use.
func Kinds() []Kind {
	return []Kind{
		{"quote", "What is done, and what it takes", quotePaper, true},
		{"before", "The vehicle as it came", beforePaper, false},
		{"parts", "The order list", partsPaper, false},
		{"fuel", "The way of the fuel", fuelPaper, false},
		{"pump", "The pump's curve and the need", pumpPaper, false},
		{"wires", "The wires: cut list", wiresPaper, false},
		{"holes", "Holes, sensor and distances", holesPaper, false},
		{"current", "The way of the current", currentPaper, false},
		{"start-up", "Start-up, step by step", startUpPaper, false},
		{"measured", "Measured against computed", measuredPaper, false},
		{"hand-over", "Your vehicle, handed over", handOverPaper, true},
		{"card", "Card for the glove box", cardPaper, true},
	}
}

// Make makes the paper of a name; nil for none of that name.
func Make(name string, j *Job) *Paper {
	for _, k := range Kinds() {
		if k.Name == name {
			m := &maker{Job: j, paper: &Paper{Name: k.Name, Title: k.Title, About: about(j.Design)}}
			k.make(m)
			if !j.Brief && !k.tells {
				m.marked()
			}
			m.foot()
			return m.paper
		}
	}
	return nil
}

// about is what the design is called, or the vehicle in a few words.
func about(d *schema.Design) string {
	if title, ok := d.Title.Get(); ok {
		return title
	}
	return vehicle(d)
}

package words

import (
	"embed"
	"fmt"
	"slices"
	"strings"
	"sync"
)

//go:embed data/*.txt
var data embed.FS

// files are the tables in the order of the schema's design.
var files = []string{"vehicle", "fuel", "air", "sensing", "electrical", "work"}

// Where says where the answer to a question is found.
type Where string

// The places of answers; a part or a list has none.
const (
	Label  Where = "label"  // printed on the part or its box
	Eye    Where = "eye"    // seen on the vehicle
	Tape   Where = "tape"   // measured with a tape, caliper or feeler
	Meter  Where = "meter"  // measured with a meter or gauge
	Papers Where = "papers" // in the papers of the vehicle or of the conversion
	Sheet  Where = "sheet"  // in the maker's sheet
	Memory Where = "memory" // known to the customer
	Nobody Where = "-"
)

// asked are the places in the order in which answers come: what somebody remembers, sees, reads off; then what has to be
// brought, measured, and what only the maker tells.
var asked = []Where{Memory, Eye, Label, Papers, Tape, Meter, Sheet, Nobody}

// Words say where that is.
func (w Where) Words() string {
	return map[Where]string{
		Memory: "the customer knows it", Eye: "it is seen on the vehicle or the part", Label: "it is printed on the part or its box",
		Papers: "it is in the papers of the vehicle or of the conversion", Tape: "it is measured with a tape or caliper",
		Meter: "it is measured with a meter or gauge", Sheet: "only the maker's sheet tells",
	}[w]
}

// Rank orders the places by how soon an answer comes from there.
func (w Where) Rank() int { return slices.Index(asked, w) }

// AtCounter reports whether the answer is at hand where the parts and the customer are.
func (w Where) AtCounter() bool { return w == Memory || w == Eye || w == Label }

// Row is what is said of one fact, part or list.
type Row struct {
	// Part is the type it belongs to, Key its key there: Pump, rated_flow.
	Part, Key string
	// Label names it as people do.
	Label string
	// Spoken are further forms, as they are said; Asked those that only an answer to the question has, in brackets in the
	// table.
	Spoken, Asked []string
	// Bare says when a number without a name is this fact.
	Bare  Bare
	Where Where
	// Figure is set for the facts by which such a part is bought, in the table a star at the place: of those of a part one
	// must be known before anything can be said for it.
	Figure bool
	// How is one sentence: how to find the answer, where to look.
	How string
	// Normal is what a usual answer looks like.
	Normal string
	// Unknown is what happens while it is not known; "" where nothing more is to be said than that rules stay open.
	Unknown string
	// Values are the words it may take, or answers with a name of their own.
	Values []Value
}

// Value is one word that a fact may take.
type Value struct {
	// Word is as a design file writes it.
	Word string
	// Label, Spoken and Asked are as people say it.
	Label         string
	Spoken, Asked []string
}

// Bare says when a number that is said with its unit alone is meant for a fact.
type Bare struct {
	// Here holds where the fact's part is named, Anywhere also where no part is.
	Here, Anywhere bool
	// Low and High bound it, as texts with units; "" for no bound.
	Low, High string
	// After are keys of the same part: the number follows one of them.
	After []string
}

// Name is the row's name: Pump.rated_flow.
func (r *Row) Name() string { return r.Part + "." + r.Key }

// Value is what is said of a word; nil for one that the fact does not take.
func (r *Row) Value(word string) *Value {
	for i := range r.Values {
		if r.Values[i].Word == word {
			return &r.Values[i]
		}
	}
	return nil
}

// Figures are the rows of a type of part by one of which it is bought.
func Figures(part string) []*Row { return all().figures[part] }

// table is all rows with their index.
type table struct {
	rows   []*Row
	byName map[string]*Row
	// figures are those of a part by which it is bought.
	figures map[string][]*Row
	said    map[string][]Hit
	most    int
}

// Rows are all rows in the order of the tables. They are not to be changed.
func Rows() []*Row { return all().rows }

// Of is the row of a field of a type of part; nil when there is none.
func Of(part, key string) *Row { return all().byName[part+"."+key] }

var all = sync.OnceValue(func() *table {
	t := &table{byName: map[string]*Row{}, figures: map[string][]*Row{}, said: map[string][]Hit{}}
	for _, name := range files {
		text, err := data.ReadFile("data/" + name + ".txt")
		if err != nil {
			panic("words: " + err.Error())
		}
		if err := t.read(string(text)); err != nil {
			panic(fmt.Sprintf("words: data/%s.txt: %v", name, err))
		}
	}
	t.index()
	return t
})

// read adds the rows of one table.
func (t *table) read(text string) error {
	line := 0
	for row := range strings.Lines(text) {
		line++
		row = strings.TrimRight(row, "\n")
		if strings.TrimSpace(row) == "" || row[0] == '#' {
			continue
		}
		cells := strings.Split(row, "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		var err error
		if row[0] == ' ' {
			err = t.value(cells)
		} else {
			err = t.row(cells)
		}
		if err != nil {
			return fmt.Errorf("line %d: %w", line, err)
		}
	}
	return nil
}

func (t *table) row(cells []string) error {
	const columns = 8
	if len(cells) < 6 || len(cells) > columns {
		return fmt.Errorf("a row has six to eight columns, not %d", len(cells))
	}
	cells = append(cells, make([]string, columns-len(cells))...)
	part, key, named := strings.Cut(cells[0], ".")
	if !named || t.byName[cells[0]] != nil {
		return fmt.Errorf("%s is no new Part.key", cells[0])
	}
	bare, err := readBare(cells[3])
	if err != nil {
		return err
	}
	where, figure := strings.CutSuffix(cells[4], "*")
	r := &Row{Part: part, Key: key, Label: cells[1], Bare: bare, Where: Where(where), Figure: figure, How: cells[5], Normal: cells[6], Unknown: cells[7]}
	r.Spoken, r.Asked = forms(cells[2])
	if !slices.Contains(asked, r.Where) {
		return fmt.Errorf("%s is no place where an answer is found", cells[4])
	}
	t.rows = append(t.rows, r)
	t.byName[cells[0]] = r
	if r.Figure {
		t.figures[part] = append(t.figures[part], r)
	}
	return nil
}

func (t *table) value(cells []string) error {
	if len(t.rows) == 0 || len(cells) < 2 || len(cells) > 3 {
		return fmt.Errorf("a value stands below its row, in two or three columns")
	}
	v := Value{Word: cells[0], Label: cells[1]}
	if len(cells) == 3 {
		v.Spoken, v.Asked = forms(cells[2])
	}
	last := t.rows[len(t.rows)-1]
	if last.Value(v.Word) != nil {
		return fmt.Errorf("%s stands twice below %s", v.Word, last.Name())
	}
	last.Values = append(last.Values, v)
	return nil
}

// forms are the spoken forms of a cell, those in brackets apart.
func forms(cell string) (spoken, asked []string) {
	for form := range strings.SplitSeq(cell, ";") {
		form = strings.TrimSpace(form)
		if inside, bracket := strings.CutPrefix(form, "("); bracket {
			asked = append(asked, strings.TrimSuffix(inside, ")"))
		} else if form != "" {
			spoken = append(spoken, form)
		}
	}
	return spoken, asked
}

// readBare reads `here`, `anywhere 10 kW..900 kW`, `after rated_flow`.
func readBare(cell string) (Bare, error) {
	word, rest, _ := strings.Cut(cell, " ")
	b := Bare{Here: word == "here" || word == "anywhere", Anywhere: word == "anywhere"}
	switch {
	case cell == "":
		return b, nil
	case word == "after":
		for key := range strings.SplitSeq(rest, ",") {
			b.After = append(b.After, strings.TrimSpace(key))
		}
		return b, nil
	case !b.Here:
		return b, fmt.Errorf("%s: here, anywhere or after is expected", cell)
	case rest == "":
		return b, nil
	}
	low, high, both := strings.Cut(rest, "..")
	if !both {
		return b, fmt.Errorf("%s: a span is written low..high", rest)
	}
	b.Low, b.High = low, high
	return b, nil
}

package diagnose

import (
	"plumbline/engine"
	"plumbline/schema"
)

// Diagnosis is what readings say of a vehicle.
type Diagnosis struct {
	// Held are the readings taken, with what a sound vehicle would show.
	Held []Held `json:"readings"`
	// Seen are the signs that were seen.
	Seen []string `json:"seen,omitempty"`
	// BySigns are troubles that give the signs and that no reading is worked out with, where they are not among the first.
	BySigns []Fitted `json:"by_signs,omitempty"`
	// Skipped are readings taken that nothing can be expected for.
	Skipped []Skipped `json:"skipped,omitempty"`
	// Candidates are what may be wrong, the sound vehicle among them, the best first.
	Candidates []Candidate `json:"candidates"`
	// Explained is false where none of them explains the readings.
	Explained bool `json:"explained"`
	// Apart is how many of the first candidates the readings leave: these are to be told apart.
	Apart int `json:"left"`
	// Next is what to measure next, the best first.
	Next []Measurement `json:"next,omitempty"`
	// Cautions go with the work that is named.
	Cautions []engine.CautionFound `json:"cautions,omitempty"`
	// Tried counts the troubles that can befall the vehicle.
	Tried int `json:"tried"`
	// Unseen is what a sound vehicle's readings do not rule out; nil where it is not sound.
	Unseen *Unseen `json:"unseen,omitempty"`
	// Usual is what was taken as usual, as nobody stated it; nil where no reading rests on such.
	Usual *Taken `json:"usual,omitempty"`
}

// Taken is what was taken as usual.
type Taken struct {
	// Ways say how the vehicle is taken to be built, in words.
	Ways []string `json:"ways,omitempty"`
	// Facts are those whose spread widens what is expected of the readings; the first ones, stated, would sharpen the answer most.
	Facts []UsualFact `json:"facts"`
	// Others are other ways it may be built in which another answer comes first.
	Others []OtherWay `json:"others,omitempty"`
	// Built is the design with what was taken as usual in it, by which facts are named.
	Built *schema.Design `json:"-"`
}

// UsualFact is a fact that was taken as usual, or between the ends of a range.
type UsualFact struct {
	Path  string        `json:"path"`
	Low   engine.Number `json:"low"`
	Usual engine.Number `json:"usual"`
	High  engine.Number `json:"high"`
	// Stated is a range that the design states.
	Stated bool `json:"stated,omitempty"`
	// Sharpens is how much more the first candidates would differ, in the measure of the misfit, were it known.
	Sharpens float64 `json:"sharpens"`
}

// OtherWay is another way the vehicle may be built, with the troubles that would come first; none for a sound vehicle.
type OtherWay struct {
	Way      string   `json:"way"`
	Troubles []string `json:"troubles"`
	Titles   []string `json:"titles"`
}

// Held is one reading beside what a sound vehicle would show.
type Held struct {
	Fact     string        `json:"fact"`
	Title    string        `json:"title"`
	Measured engine.Number `json:"measured"`
	Sound    engine.Number `json:"sound"`
	// Margin is as far as nineteen of twenty sound vehicles and readings lie.
	Margin engine.Number `json:"margin"`
	// Off is how many margins it lies from the sound one.
	Off float64 `json:"off"`
	// Meant is what it was perhaps meant to be, where it lies far off: the number in another unit, or with its point moved, as a sound
	// vehicle would show it; "" for nothing.
	Meant string `json:"meant,omitempty"`
	// Own is the margin without what is usual of facts nobody stated, nil where nothing usual widens it.
	Own *engine.Number `json:"own_margin,omitempty"`
	// Beside is what a sound vehicle would show that shows all the other readings; nil with none, or where nothing usual widens
	// the margin.
	Beside *Beside `json:"beside,omitempty"`
}

// Beside is what a sound vehicle shows that shows the other readings, as they tell where usual values lie.
type Beside struct {
	Sound  engine.Number `json:"sound"`
	Margin engine.Number `json:"margin"`
	Off    float64       `json:"off"`
}

// Skipped is a reading that cannot be used.
type Skipped struct {
	Fact  string `json:"fact"`
	Title string `json:"title"`
	// Missing are the facts that what is expected waits for; Why is another reason.
	Missing []string `json:"missing,omitempty"`
	Why     string   `json:"why,omitempty"`
}

// Candidate is something that may be wrong; no trouble at all for the sound vehicle, two for two together.
type Candidate struct {
	Troubles []Fitted `json:"troubles"`
	// Misfit is the sum of squares of how far the readings are off, each over its standard deviation; Cost is what the freedom
	// of its sizes costs beside it. The least sum of both is the best.
	Misfit float64 `json:"misfit"`
	Cost   float64 `json:"cost"`
	// Explains is set where every reading lies within reach of what it would show.
	Explains bool `json:"explains"`
	// Alike names the candidates before it that would show all the readings taken within half a margin of this one.
	Alike []int `json:"alike,omitempty"`
	// Shows is what it would show, of the readings taken that are not as in a sound vehicle.
	Shows []Shown `json:"shows,omitempty"`
}

// Score is what candidates are ranked by.
func (c *Candidate) Score() float64 { return c.Misfit + c.Cost }

// Fitted is a trouble with its size.
type Fitted struct {
	ID      string        `json:"trouble"`
	Title   string        `json:"title"`
	Size    engine.Number `json:"size"` // none of one known by its signs alone, or without a reading
	Say     string        `json:"say"`
	Signs   string        `json:"signs"`
	Confirm string        `json:"confirm"`
	Mend    string        `json:"mend"`
	Danger  string        `json:"danger,omitempty"`
	// Cautions go with the work on its parts.
	Cautions []engine.CautionFound `json:"cautions,omitempty"`
	// Together is what is said of all of several troubles that readings do not tell apart, where they have it in common.
	Together string `json:"together,omitempty"`
	// Tells is what tells it from other candidates it is taken for.
	Tells []Tells `json:"tells,omitempty"`
}

// Tells is what tells a trouble from another one.
type Tells struct {
	From  string `json:"from"`
	Title string `json:"title"`
	Text  string `json:"text"`
}

// Shown is what a candidate would show on one reading.
type Shown struct {
	Fact  string        `json:"fact"`
	Title string        `json:"title"`
	Value engine.Number `json:"value"`
	// Off is how many margins the reading taken lies from it.
	Off float64 `json:"off"`
}

// Measurement is a reading that was not taken, with what each of the first candidates would show.
type Measurement struct {
	Fact   string `json:"fact"`
	Title  string `json:"title"`
	How    string `json:"how"`
	Effort int    `json:"effort"`
	Danger string `json:"danger,omitempty"`
	// Worth is the share of the doubt between the first candidates that it can settle.
	Worth float64 `json:"worth"`
	// Cautions go with taking it where fuel may burn.
	Cautions []engine.CautionFound `json:"cautions,omitempty"`
	// Would is what it shows with each candidate, by the candidate's place in the list.
	Would []Would `json:"would"`
}

// Would is what a measurement shows with one candidate, from the least to the most that its size leaves open.
type Would struct {
	Candidate int           `json:"candidate"`
	Least     engine.Number `json:"least"`
	Most      engine.Number `json:"most"`
}

// Sound is the candidate that the vehicle is sound; nil where nothing was compared.
func (d *Diagnosis) Sound() *Candidate {
	for i := range d.Candidates {
		if len(d.Candidates[i].Troubles) == 0 {
			return &d.Candidates[i]
		}
	}
	return nil
}

package whatif

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// Numbers are how the numbers of designs move: what is asked of first, what moves together, and how they scatter.
type Numbers struct {
	Headlines []Headline     `yaml:"headlines"`
	Together  []Together     `yaml:"together"`
	Scatter   []ScatterRow   `yaml:"scatter" jsonschema:"required"`
	Otherwise []OtherwiseRow `yaml:"otherwise"`
}

// Headline is what an installer asks of first: facts that move by the same amount.
type Headline struct {
	Name  string   `yaml:"name" jsonschema:"required"`
	Facts []string `yaml:"facts" jsonschema:"required"`
}

// Together are facts that move in proportion with one: those beside it of the same kinds, as the points of its curve.
type Together struct {
	Fact    string        `yaml:"fact" jsonschema:"required"`
	Move    []string      `yaml:"move" jsonschema:"required"`
	Because []pack.Reason `yaml:"because" jsonschema:"required"`
}

// ScatterRow is how real parts, work and fuel scatter about what is stated of some facts, by one of four measures.
type ScatterRow struct {
	Facts []string `yaml:"facts" jsonschema:"required"`
	// Kinds are the kinds of the part it holds for; none for any.
	Kinds []string `yaml:"kinds"`
	// Share and By are one standard deviation, of the value or in the fact's unit; Times is the factor of one.
	Share string `yaml:"share"`
	By    string `yaml:"by"`
	Times string `yaml:"times"`
	// Between are the ends of where it lies, alike anywhere, as shares of the value.
	Between []string `yaml:"between"`
	// Alike says who shares a draw: all of the row in a design, half of each, or, when it is empty, none.
	Alike   string        `yaml:"alike"`
	Because []pack.Reason `yaml:"because" jsonschema:"required"`

	share, by, times, low, high float64
}

// OtherwiseRow is how near a turn is for a dimension no row of scatter is about.
type OtherwiseRow struct {
	Dimension string `yaml:"dimension" jsonschema:"required"`
	Share     string `yaml:"share"`
	By        string `yaml:"by"`

	share, by float64
}

// ReadNumbers reads a file of how numbers move. The error is of type document.Problems.
func ReadNumbers(name string, data []byte) (*Numbers, error) {
	out := &Numbers{}
	r, ok := pack.ReadAs(name, data, out)
	known := func(section string, facts []string) {
		for _, fact := range facts {
			if _, is := fieldOf(fact); !is {
				r.Problem(nil, section, "there is no fact "+fact, "")
			}
		}
	}
	for _, h := range out.Headlines {
		known("headlines", h.Facts)
	}
	for _, t := range out.Together {
		known("together", append([]string{t.Fact}, t.Move...))
	}
	for i := range out.Scatter {
		s := &out.Scatter[i]
		known("scatter", s.Facts)
		if err := s.read(); err != nil {
			r.Problem(nil, "scatter", fmt.Sprintf("%s: %v", strings.Join(s.Facts, ", "), err), "")
		}
		if len(s.Because) == 0 {
			r.Problem(nil, "scatter", strings.Join(s.Facts, ", ")+": a scatter needs a because", "")
		}
	}
	for i := range out.Otherwise {
		o := &out.Otherwise[i]
		var err error
		if o.share, err = shareOf(o.Share); err == nil {
			o.by, err = amountOf(o.By)
		}
		if err != nil {
			r.Problem(nil, "otherwise", o.Dimension+": "+err.Error(), "")
		}
	}
	if !ok || len(r.Problems) > 0 {
		return nil, document.Problems(r.Problems).Tidy()
	}
	return out, nil
}

func (s *ScatterRow) read() (err error) {
	given := 0
	for _, text := range []string{s.Share, s.By, s.Times, strings.Join(s.Between, "")} {
		if text != "" {
			given++
		}
	}
	if given != 1 {
		return fmt.Errorf("say one of share, by, times and between")
	}
	if !slices.Contains([]string{"", "all", "half"}, s.Alike) {
		return fmt.Errorf("alike is all or half, not %q", s.Alike)
	}
	if s.share, err = shareOf(s.Share); err != nil {
		return err
	}
	if s.by, err = amountOf(s.By); err != nil {
		return err
	}
	if s.Times != "" {
		v, err := quantity.Parse(s.Times, quantity.DimRatio)
		if err != nil || v.SI() <= 1 {
			return fmt.Errorf("times is a factor above 1, such as 1.5, not %q", s.Times)
		}
		s.times = v.SI()
	}
	if len(s.Between) == 0 {
		return nil
	}
	if len(s.Between) != 2 {
		return fmt.Errorf("between has two ends, such as [0 %%, 15 %%]")
	}
	if s.low, err = shareOf(s.Between[0]); err != nil {
		return err
	}
	if s.high, err = shareOf(s.Between[1]); err == nil && s.high <= s.low {
		err = fmt.Errorf("the first end of between is below the second")
	}
	return err
}

func shareOf(text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	v, err := quantity.Parse(text, quantity.DimShare)
	return v.SI(), err
}

// amountOf is an amount in SI units; a step of temperature is one of kelvins.
func amountOf(text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	if v, err := quantity.Parse(text, quantity.DimTemperatureDifference); err == nil {
		return v.SI(), nil
	}
	v, err := quantity.ParseAny(text)
	return v.SI(), err
}

// scatterOf is the row about a fact of a design; nil for none.
func (n *Numbers) scatterOf(d *schema.Design, v schema.Visit) *ScatterRow {
	for i := range n.Scatter {
		s := &n.Scatter[i]
		if slices.Contains(s.Facts, v.Type+"."+v.Key) && (len(s.Kinds) == 0 || slices.Contains(s.Kinds, kindOf(d, strings.TrimSuffix(v.Path, v.Key)+"kind"))) {
			return s
		}
	}
	return nil
}

// usualShare is the scatter of what nothing is known about.
const usualShare = 0.05

// deviation is one usual scatter of a fact at a value, in SI units; drawn reports whether a row is about it.
func (n *Numbers) deviation(d *schema.Design, v schema.Visit, at float64) (sd float64, drawn bool) {
	if s := n.scatterOf(d, v); s != nil {
		return s.deviation(at), true
	}
	if v.Kind == schema.KindInt {
		return 1, false
	}
	for _, o := range n.Otherwise {
		if o.Dimension == v.Dimension.String() {
			return max(o.by, o.share*math.Abs(at)), false
		}
	}
	return usualShare * math.Abs(at), false
}

// deviation is one scatter in SI units at a value.
func (s *ScatterRow) deviation(at float64) float64 {
	at = math.Abs(at)
	switch {
	case s.share > 0:
		return s.share * at
	case s.by > 0:
		return s.by
	case s.times > 0:
		return math.Log(s.times) * at
	}
	return (s.high - s.low) / math.Sqrt(12) * at // of a value that lies anywhere between two ends
}

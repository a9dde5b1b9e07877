package schema

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"plumbline/schema/document"
	q "plumbline/schema/quantity"
	"plumbline/schema/words"
)

// quantityFacts are the types of facts that hold quantities.
var quantityFacts = []any{
	Fact[q.Length]{}, Fact[q.Area]{}, Fact[q.Volume]{}, Fact[q.Mass]{}, Fact[q.Time]{}, Fact[q.Velocity]{}, Fact[q.Acceleration]{}, Fact[q.Force]{}, Fact[q.Torque]{},
	Fact[q.Flow]{}, Fact[q.MassFlow]{}, Fact[q.Density]{}, Fact[q.KinematicViscosity]{}, Fact[q.Pressure]{}, Fact[q.AbsolutePressure]{}, Fact[q.Temperature]{},
	Fact[q.TemperatureDifference]{}, Fact[q.Angle]{}, Fact[q.RotationalSpeed]{}, Fact[q.Frequency]{}, Fact[q.Voltage]{}, Fact[q.Current]{}, Fact[q.Resistance]{},
	Fact[q.ResistancePerLength]{}, Fact[q.Inductance]{}, Fact[q.Capacitance]{}, Fact[q.Charge]{}, Fact[q.Energy]{}, Fact[q.Power]{}, Fact[q.SpecificConsumption]{},
	Fact[q.Share]{}, Fact[q.Ratio]{}, Fact[q.WireSize]{}, Fact[q.DashSize]{}, Fact[q.HeatingValue]{},
}

// factOf is the type of the facts of a kind, of a dimension for quantities; nil for what is no fact.
func factOf(kind Kind, dimension q.Dimension) reflect.Type {
	switch kind {
	case KindText:
		return reflect.TypeFor[Fact[string]]()
	case KindWord:
		return reflect.TypeFor[Fact[Word]]()
	case KindDate:
		return reflect.TypeFor[Fact[Date]]()
	case KindInt:
		return reflect.TypeFor[Fact[int]]()
	case KindBool:
		return reflect.TypeFor[Fact[bool]]()
	case KindQuantity:
		for _, fact := range quantityFacts {
			t := reflect.TypeOf(fact)
			if value := reflect.New(t).Interface().(factSetter).valuePointer(); dimensionOf(reflect.ValueOf(value).Elem()) == dimension {
				return t
			}
		}
	}
	return nil
}

// Type is the Go type of the fact, a Fact[T].
func (f *OwnFact) Type() reflect.Type { return factOf(f.Kind, f.Dimension) }

// plan is what reading the fact needs to know. The fact was checked.
func (f *OwnFact) plan() *factPlan {
	return &factPlan{of: factOf(f.Kind, f.Dimension), kind: f.Kind, dimension: f.Dimension, words: f.Words, example: f.Example,
		lowText: f.Low, highText: f.High, low: f.end(f.Low), high: f.end(f.High)}
}

// end is an end of the range, in SI units or whole; 0 where there is none.
func (f *OwnFact) end(text string) float64 {
	if f.Kind == KindInt {
		n, _ := strconv.Atoi(text)
		return float64(n)
	}
	v, _ := q.Parse(text, f.Dimension)
	return v.SI()
}

// readOtherwise are words that a design file reads as something else.
var readOtherwise = []string{"none", "true", "false", "null", "yes", "no", "on", "off", "y", "n"}

// Check says what is wrong with the declaration and at which key of it: is, words, range, example, name; "" for nothing.
func (f *OwnFact) Check() (key, message string) {
	switch {
	case !OwnName.MatchString(f.Key):
		return "name", document.Cut(f.Key) + " is no name of a fact: write small letters and digits, words joined by underscores"
	case factOf(f.Kind, f.Dimension) == nil:
		return "is", "there are no facts of this kind"
	case f.Kind == KindWord && len(f.Words) < 2:
		return "words", "a word needs two or more that it may be"
	case f.Doc == "":
		return "title", "say in a sentence what the fact means"
	}
	for i, w := range f.Words {
		if !OwnName.MatchString(w) || slices.Contains(f.Words[:i], w) || slices.Contains(readOtherwise, w) {
			return "words", document.Cut(w) + " is no new word: write small letters and digits, joined by underscores, each word once and none that means yes, no or nothing"
		}
	}
	if message := f.checkRange(); message != "" {
		return "range", message
	}
	if f.Example == "" {
		return "example", "give an example, written as in a design"
	}
	plan := f.plan()
	fact := reflect.New(plan.of).Interface().(factSetter)
	if wrong := readFact(scalar(f.Example), plan, fact.valuePointer()); wrong.message != "" {
		return "example", wrong.message
	}
	return "", ""
}

func (f *OwnFact) checkRange() string {
	if f.Kind != KindInt && f.Kind != KindQuantity {
		if f.Low != "" {
			return "only quantities, numbers and counts have a range"
		}
		return ""
	}
	example := "0..20"
	if f.Kind == KindQuantity {
		example = q.Example(f.Dimension) + ".." + q.Example(f.Dimension)
	}
	if f.Low == "" || f.High == "" {
		return "a quantity, number or count needs the ends of what it can be, least first, such as " + example
	}
	for _, text := range []string{f.Low, f.High} {
		if f.Kind == KindInt {
			if n, err := strconv.Atoi(text); err != nil || n < -1<<40 || n > 1<<40 {
				return fmt.Sprintf("%s is no whole number", document.Cut(text))
			}
		} else if _, err := q.Parse(text, f.Dimension); err != nil {
			return err.Error()
		}
	}
	switch low, high := f.end(f.Low), f.end(f.High); {
	case low > high:
		return fmt.Sprintf("the range is the wrong way round: write %s..%s", f.High, f.Low)
	case low == high:
		return "the range holds one value; write its least and its most"
	}
	return ""
}

// row is how people speak of the fact.
func (f *OwnFact) row(part string) *words.Row {
	out := &words.Row{Part: part, Key: f.Key, Label: f.Label, Spoken: f.Spoken, Where: f.Where, How: f.How}
	for _, w := range f.Words {
		label := f.Called[w]
		if label == "" {
			label = strings.ReplaceAll(w, "_", " ")
		}
		out.Values = append(out.Values, words.Value{Word: w, Label: label})
	}
	return out
}

package schema

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// complaint is what is wrong with one value and the text to put in its place; the zero complaint is none.
type complaint struct{ message, suggest string }

// fact reads one scalar into a fact.
func (d *decoder) fact(n *yaml.Node, plan *factPlan, into factSetter, path string) {
	if d.done(n) {
		return
	}
	if ranged, wrong := readRange(n, plan, into, d.place(n)); wrong.message != "" {
		d.add(n, path, wrong.message, wrong.suggest)
		return
	} else if ranged {
		return
	}
	if wrong := readFact(n, plan, into.valuePointer()); wrong.message != "" {
		d.add(n, path, wrong.message, wrong.suggest)
		return
	}
	into.state(n.Value, d.place(n))
}

func readFact(n *yaml.Node, plan *factPlan, into any) complaint {
	switch {
	case n.Kind != yaml.ScalarNode:
		return complaint{message: "one value is expected, such as " + plan.example + ", not a list or mapping"}
	case isNull(n), strings.TrimSpace(n.Value) == "":
		return complaint{message: emptyValue}
	case len(n.Value) > MaxTextBytes:
		return complaint{message: fmt.Sprintf("the text has %d bytes; at most %d are read", len(n.Value), MaxTextBytes)}
	}
	if text, is := into.(*string); is {
		return readText(n, text)
	}
	if words.NotKnown(n.Value) {
		return complaint{message: "leave the line out while it is not known: what is not stated counts as unknown"}
	}
	switch into := into.(type) {
	case *Word:
		return readWord(n, plan, into)
	case *Date:
		return readDate(n, plan, into)
	case *int:
		return readInt(n, plan, into)
	case *bool:
		return readBool(n, into)
	}
	return readQuantity(n, plan, into)
}

// bare reports whether n is an unquoted number, or an unquoted true or false.
func bare(n *yaml.Node) bool { return n.Tag == "!!int" || n.Tag == "!!float" || n.Tag == "!!bool" }

func readText(n *yaml.Node, into *string) complaint {
	if bare(n) {
		quoted := strconv.Quote(n.Value)
		return complaint{"a text is expected; put it in quotes: " + document.Cut(quoted), quoted}
	}
	*into = n.Value
	return complaint{}
}

func readWord(n *yaml.Node, plan *factPlan, into *Word) complaint {
	if slices.Contains(plan.words, n.Value) {
		*into = Word(n.Value)
		return complaint{}
	}
	near := document.Nearest(n.Value, plan.words)
	if word, said := plan.meant(n.Value); said && word != near {
		return complaint{document.Cut(n.Value) + " is not " + document.OneOf(plan.words) + "; for " + document.Cut(n.Value) + " write " + word, word}
	}
	message := document.Cut(n.Value) + " is not " + document.OneOf(plan.words)
	if near != "" {
		message += "; did you mean " + near + "?"
	}
	return complaint{message, near}
}

// meant is the word, or the text of the answer, that people mean by what was written; not ok where that is not one.
func (f *factPlan) meant(text string) (word string, ok bool) {
	if f.said == nil {
		return "", false
	}
	values := f.said.Meant(text)
	if len(values) != 1 {
		return "", false
	}
	return values[0].Word, true
}

func readDate(n *yaml.Node, plan *factPlan, into *Date) complaint {
	if _, err := time.Parse(time.DateOnly, n.Value); err != nil {
		return complaint{message: document.Cut(n.Value) + " is not " + Expected(KindDate, plan.example)}
	}
	*into = Date(n.Value)
	return complaint{}
}

func readInt(n *yaml.Node, plan *factPlan, into *int) complaint {
	value, err := strconv.Atoi(n.Value)
	switch {
	case err != nil && !errors.Is(err, strconv.ErrRange), n.Tag != "!!int" && n.Tag != "!!float" && err == nil:
		if number, said := plan.meant(n.Value); said && number != n.Value {
			return complaint{"a whole number is expected; for " + document.Cut(n.Value) + " write " + number, number}
		}
		return complaint{message: Expected(KindInt, plan.example)}
	case err != nil || float64(value) < plan.low || float64(value) > plan.high:
		return plan.outOfRange(n.Value)
	}
	*into = value
	return complaint{}
}

// Expected says what is written for a fact of some kinds, as messages say it; "" for the other kinds.
func Expected(kind Kind, example string) string {
	switch kind {
	case KindBool:
		return "write true or false"
	case KindInt:
		return "a whole number without unit or quotes is expected, such as " + example
	case KindDate:
		return "a day of the calendar written year-month-day, such as " + example
	}
	return ""
}

func readBool(n *yaml.Node, into *bool) complaint {
	if n.Tag == "!!bool" && (n.Value == "true" || n.Value == "false") {
		*into = n.Value == "true"
		return complaint{}
	}
	suggest := ""
	switch strings.ToLower(n.Value) {
	case "yes", "on", "y", "true":
		suggest = "true"
	case "no", "off", "n", "false", "none":
		suggest = "false"
	}
	if suggest == "" {
		return complaint{message: Expected(KindBool, "")}
	}
	return complaint{Expected(KindBool, "") + ", without quotes; for " + n.Value + " write " + suggest, suggest}
}

// readQuantity reads into a quantity.Of[D], whose embedded Value is set.
func readQuantity(n *yaml.Node, plan *factPlan, into any) complaint {
	v, err := quantity.Parse(n.Value, plan.dimension)
	if err != nil && plan.dimension == quantity.DimLength {
		if dash, notDash := quantity.Parse(n.Value, quantity.DimDashSize); notDash == nil {
			return complaint{message: fmt.Sprintf("%s is a dash number: it names the outside diameter of the tube it fits (%s), and no bore or length; write the length, such as %s",
				n.Value, quantity.MustNew(dash.SI(), quantity.DimLength).Format(quantity.Both), plan.example)}
		}
	}
	if err != nil {
		if text, said := plan.meant(n.Value); said {
			return complaint{plan.quantityMessage(err) + "; for " + document.Cut(n.Value) + " write " + text, text}
		}
		return complaint{message: plan.quantityMessage(err)}
	}
	if si := v.SI(); si < plan.low || si > plan.high {
		return plan.outOfRange(n.Value)
	}
	reflect.ValueOf(into).Elem().FieldByName("Value").Set(reflect.ValueOf(v))
	return complaint{}
}

// quantityMessage is the parser's message, with the fact's own example where the parser only has the dimension's.
func (f *factPlan) quantityMessage(err error) string {
	message := err.Error()
	general := quantity.Example(f.dimension)
	for _, lead := range []string{"write it like ", "e.g. "} {
		if before, ok := strings.CutSuffix(message, lead+general); ok {
			return before + lead + f.example
		}
	}
	return message
}

func (f *factPlan) outOfRange(text string) complaint {
	if f.lowText == f.highText {
		return complaint{document.Cut(text) + " is not known to this program; write " + f.lowText, f.lowText}
	}
	return complaint{message: fmt.Sprintf("%s is out of range; %s to %s is expected", document.Cut(text), f.lowText, f.highText)}
}

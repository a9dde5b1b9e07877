package vocabulary

import (
	"fmt"
	"testing"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// condition draws a condition on a few facts of a pump.
func condition(t *rapid.T, depth int) string {
	pick := func(of ...string) string { return rapid.SampledFrom(of).Draw(t, "pick") }
	number := func() string {
		return pick("design.pump.prime_time", "design.pump.prime_time", "s(0)", "s(2)", "s(30)", "s(60)", "s(90)",
			"design.pump.prime_time * 2.0", "(design.pump.prime_time - s(5))", "-design.pump.prime_time", "size_of_change(design.pump.prime_time - s(3))",
			"smaller(design.pump.prime_time, s(4))", "larger(design.pump.prime_time, s(4))", "(design.pump.check_valve ? s(1) : design.pump.prime_time)")
	}
	whole := func() string {
		return pick("design.engine.cylinders", "4", "1", "8", "16", "17", "design.engine.cylinders + 2", "design.engine.cylinders / 2")
	}
	words := func() string { return pick("'in_tank'", "'frame_rail'", "'boot'", "'engine_bay'") }
	order := func() string { return pick("<", "<=", ">", ">=") }
	if depth > 0 && rapid.IntRange(0, 3).Draw(t, "deep") > 0 {
		a, b := condition(t, depth-1), condition(t, depth-1)
		switch rapid.IntRange(0, 4).Draw(t, "join") {
		case 0, 1:
			return "(" + a + " && " + b + ")"
		case 2:
			return "(" + a + " || " + b + ")"
		case 3:
			return "!" + "(" + a + ")"
		default:
			return "(" + a + " ? " + b + " : " + condition(t, depth-1) + ")"
		}
	}
	names, purposes := func() string { return pick("'x'", "'y'") }, func() string { return pick("'fuel_pump'", "'injectors'") }
	item := func(a, b string) string {
		return pick(a+".name == "+names(), a+".name != "+names(), a+".purpose == "+purposes(), a+".name != "+b+".name", a+".name == "+b+".name", a+".purpose == "+b+".purpose",
			a+".name == "+names()+" && "+b+".purpose != "+purposes(), a+".name != "+b+".name || "+b+".name == "+names())
	}
	switch rapid.IntRange(0, 8).Draw(t, "atom") {
	case 6:
		return "design.circuits." + pick("all", "exists", "exists_one") + "(a, " + item("a", "a") + ")"
	case 7:
		return "design.circuits." + pick("all", "exists") + "(a, design.circuits." + pick("all", "exists", "exists_one") + "(b, " + item("a", "b") + "))"
	case 8:
		return "size(design.circuits" + pick("", ".filter(a, "+item("a", "a")+")", ".map(a, a.name)") + ") " + pick("==", "!=", ">", "<=") + " " + pick("0", "1", "2")
	case 0:
		return "design.pump.place " + pick("==", "!=") + " " + words()
	case 1:
		return "design.pump.place in [" + words() + ", " + words() + "]"
	case 2:
		return "design.pump.check_valve"
	case 3:
		return whole() + " " + pick("==", "!=", "<", "<=", ">", ">=") + " " + whole()
	case 4:
		return "within(" + number() + ", " + number() + ", s(" + pick("0", "2", "70") + "))"
	case 5:
		return "design.pump.check_valve == (design.pump.place == " + words() + ")"
	}
	return number() + " " + order() + " " + number()
}

// What reach rules out never happens: whatever is stated, no condition comes out a way it calls impossible, alone or where
// another holds.
func TestReachNeverRulesOutWhatHappens(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	refused := 0
	rapid.Check(t, func(t *rapid.T) {
		first, second := condition(t, 2), condition(t, 3)
		a, err := v.Compile(first, nil)
		require.NoError(t, err, first)
		b, err := v.Compile(second, nil)
		require.NoError(t, err, second)
		r := NewReach(nil)
		given := r.Assume(Everywhere(), a, true)
		can := map[bool]bool{true: r.Assume(given, b, true) != nil, false: r.Assume(given, b, false) != nil}
		if given == nil || !can[true] || !can[false] {
			refused++
		}
		for range 12 {
			text := fmt.Sprintf("engine: {cylinders: %d}\npump: {place: %s, check_valve: %t, prime_time: %s s}\n", rapid.IntRange(1, 16).Draw(t, "cylinders"),
				rapid.SampledFrom([]string{"in_tank", "in_surge_tank", "frame_rail", "engine_bay", "boot", "in_cabin"}).Draw(t, "place"), rapid.Bool().Draw(t, "valve"),
				rapid.SampledFrom([]string{"0", "1", "2", "3", "5", "30", "60"}).Draw(t, "prime"))
			text += "complete: all\ncircuits: ["
			for range rapid.IntRange(0, 3).Draw(t, "circuits") {
				text += fmt.Sprintf("{name: %s, purpose: %s}, ", rapid.SampledFrom([]string{"x", "y", "z"}).Draw(t, "name"), rapid.SampledFrom([]string{"fuel_pump", "injectors"}).Draw(t, "purpose"))
			}
			text += "]\n"
			d, err := schema.Load("d", []byte("plumbline: 1\n"+text))
			require.NoError(t, err)
			design, at := v.Root(NewScope(derive.NewSession(d, derive.Options{})))
			names, err := cel.NewActivation(map[string]any{"design": design, "at": at})
			require.NoError(t, err)
			if a.Eval(names) != types.True {
				continue
			}
			require.NotNil(t, given, "%s comes out true of %s", first, text)
			out := b.Eval(names)
			require.True(t, can[out == types.True], "where %s, %s comes out %v of %s", first, second, out, text)
		}
	})
	assert.Positive(t, refused)
}

package words_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/words"
)

func field(t *testing.T, name string) (schema.FieldInfo, bool) {
	t.Helper()
	part, key, _ := strings.Cut(name, ".")
	for _, f := range schema.FieldsOf(part) {
		if f.Key == key {
			return f, true
		}
	}
	return schema.FieldInfo{}, false
}

// The schema decides which facts and words there are; the table has a row for each, and none besides.
func TestARowForEveryFactAndWord(t *testing.T) {
	rows := 0
	for _, part := range schema.Types() {
		for _, f := range part.Fields {
			rows++
			r := words.Of(part.Name, f.Key)
			if !assert.NotNil(t, r, "%s.%s has no row in schema/words/data", part.Name, f.Key) {
				continue
			}
			for _, w := range f.Words {
				assert.NotNil(t, r.Value(w), "%s: no row for the word %s", r.Name(), w)
			}
		}
	}
	assert.Len(t, words.Rows(), rows)
	for _, r := range words.Rows() {
		f, known := field(t, r.Name())
		if !assert.True(t, known, "%s is no field of the schema", r.Name()) {
			continue
		}
		fact := f.Kind <= schema.KindQuantity || f.Kind == schema.KindList && f.Part == ""
		assert.Equal(t, fact, r.Where != words.Nobody, "%s: a fact has a place where it is found, a part has none", r.Name())
		assert.NotEmpty(t, r.How, r.Name())
		if fact {
			assert.NotEmpty(t, r.Normal, "%s: what is a normal answer?", r.Name())
		}
		for _, v := range r.Values {
			if len(f.Words) > 0 {
				assert.Contains(t, f.Words, v.Word, "%s: the schema has no such word", r.Name())
			} else if f.Kind <= schema.KindQuantity {
				_, err := schema.ParseIn(r.Part, r.Key, v.Word)
				assert.NoError(t, err, "%s: %s", r.Name(), v.Word)
			}
		}
	}
}

// A number said alone finds its fact by its dimension and the span.
func TestSpansAreOfTheFact(t *testing.T) {
	for _, r := range words.Rows() {
		for _, end := range []string{r.Bare.Low, r.Bare.High} {
			if end != "" {
				_, err := schema.ParseIn(r.Part, r.Key, end)
				assert.NoError(t, err, r.Name())
			}
		}
		for _, key := range r.Bare.After {
			_, known := field(t, r.Part+"."+key)
			assert.True(t, known, "%s comes after %s, which is no fact beside it", r.Name(), key)
		}
	}
}

// One form within a fact means one value, else nobody could say it.
func TestAFormMeansOneValueOfAFact(t *testing.T) {
	for _, r := range words.Rows() {
		seen := map[string]string{}
		for _, v := range r.Values {
			for _, form := range slices.Concat([]string{v.Label, v.Word}, v.Spoken, v.Asked) {
				form = words.Plain(form)
				assert.Contains(t, []string{"", v.Word}, seen[form], "%s: %s is said of two values", r.Name(), form)
				seen[form] = v.Word
			}
		}
		said := map[string]bool{}
		for _, form := range r.Spoken {
			assert.False(t, said[words.Plain(form)], "%s: %s stands twice", r.Name(), form)
			said[words.Plain(form)] = true
		}
	}
}

// capitals are the words with capitals that may stand inside a sentence: units, standards, places, signs of the trade.
var capitals = strings.Fields(`I UN UNF NPT BSP SAE DIN ISO ASTM ADR PTFE AWG CCA IP CO A V W L L/h C E EU US Q M R Ah
	Australian British European Regulation Ringelmann Reid Hall United States California`)

func TestPlainEnglishWithoutNames(t *testing.T) {
	for _, r := range words.Rows() {
		places := r.Name() == "Design.regions"
		texts := append([]string{r.Label, r.Normal, r.Unknown}, r.Spoken...)
		texts = append(texts, r.How)
		for _, v := range r.Values {
			if !places {
				texts = append(append(texts, v.Label), v.Spoken...)
			}
		}
		for _, text := range texts {
			assert.NotContains(t, text, "_", "%s: %s is written as a design file writes it", r.Name(), text)
			for _, c := range text {
				assert.Less(t, c, rune(0x7f), "%s: %q", r.Name(), text)
			}
			begins := true
			for _, word := range strings.Fields(text) {
				bare := strings.Trim(word, ".,;:()'\"?")
				if !begins && bare != "" && bare[0] >= 'A' && bare[0] <= 'Z' && !strings.ContainsAny(bare, "0123456789") {
					assert.Contains(t, capitals, bare, "%s: is %q a name?", r.Name(), text)
				}
				begins = strings.ContainsAny(word[len(word)-1:], ".:?")
			}
		}
		assert.True(t, strings.HasSuffix(r.How, ".") || strings.HasSuffix(r.How, "?"), "%s: %q is no sentence", r.Name(), r.How)
	}
}

// Every region that has rules can be named as people name it.
func TestEveryRegionHasAName(t *testing.T) {
	found, err := filepath.Glob("../../rules/regions/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, found)
	name := regexp.MustCompile(`(?m)^region:\n  name: (\S+)$`)
	seen := 0
	for _, file := range found {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		if m := name.FindSubmatch(text); m != nil {
			seen++
			assert.NotNil(t, words.Of("Design", "regions").Value(string(m[1])), "%s has no words", m[1])
		}
	}
	assert.Greater(t, seen, 15)
}

// What people typed at a counter and were refused.
func TestWhatPeopleSay(t *testing.T) {
	for form, want := range map[string]string{
		"Texas": "Design.regions us-tx", "England": "Design.regions gb", "quote": "Design.stage planned",
		"frame": "Pump.place frame_rail", "on the frame rail": "Pump.place frame_rail", "behind the seat": "Tank.location in_cabin",
		"stock": "Engine.camshaft stock", "street": "Vehicle.use road", "bypass": "Regulator.style return_style",
		"return": "Regulator.style return_style", "stock distributor": "Ignition.mode distributor_advance", "vacuum advance": "Ignition.mode distributor_advance",
		"coil minus": "SpeedSignal.source coil_negative", "coil -": "SpeedSignal.source coil_negative", "electronic": "Ignition.kind electronic_inductive",
		"firewall": "Controller.place engine_bay_body", "under dash": "Controller.place cabin", "NA": "Engine.aspiration natural",
		"above": "Injectors.location above_throttle", "points": "Ignition.kind points", "R9": "Run.mark sae_j30_r9",
	} {
		fact, word, _ := strings.Cut(want, " ")
		part, key, _ := strings.Cut(fact, ".")
		meant := words.Of(part, key).Meant(form)
		if assert.Len(t, meant, 1, "%s of %s", form, fact) {
			assert.Equal(t, word, meant[0].Word, form)
		}
	}
	for form, want := range map[string]string{
		"power brakes": "Vehicle.brake_booster", "spacer": "Intake.adapter", "sock": "Tank.strainer", "hp": "Engine.power",
		"cca": "Battery.cold_cranking", "year": "Vehicle.model_year", "cyl": "Engine.cylinders", "size": "Engine.displacement",
	} {
		var names []string
		for _, hit := range words.Said(form) {
			names = append(names, hit.Row.Name())
		}
		assert.Contains(t, names, want, form)
	}
}

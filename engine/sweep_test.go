package engine_test

import (
	"flag"
	"fmt"
	"hash/fnv"
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/planted"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/proofs"
)

// sweepEvery is one in how many changes is tried when the long proofs are asked for; otherwise fewer. All of them, some
// 360,000, take nearly three hours of two cores: -sweep-every 1.
var sweepEvery = flag.Uint("sweep-every", 300, "one in how many changes of TestNoFactBlindsTheLibrary is tried")

// shortSweep is how many times fewer are tried otherwise.
const shortSweep = 40

// changesOf are the other values of a stated fact: the ends of its range and points inside, or its words.
func changesOf(v schema.Visit, info schema.FieldInfo) []string {
	switch info.Kind {
	case schema.KindBool:
		return []string{"true", "false"}
	case schema.KindWord:
		return info.Words
	case schema.KindInt:
		return []string{info.Low, info.High}
	case schema.KindQuantity:
		low, err := quantity.Parse(info.Low, info.Dimension)
		high, err2 := quantity.Parse(info.High, info.Dimension)
		if err != nil || err2 != nil {
			return nil
		}
		out := []string{info.Low, info.High}
		for _, share := range []float64{0.03, 0.3, 0.7} {
			if q, err := quantity.New(low.SI()+share*(high.SI()-low.SI()), info.Dimension); err == nil {
				if text, err := q.Exact(); err == nil {
					out = append(out, text)
				}
			}
		}
		return out
	}
	return nil
}

// Every fact of every clean build over its whole range, ends and inside, and over its words: nothing goes blind. A finding may
// be left open only with a question, and a rule that needs what cannot be has another that fails.
func TestNoFactBlindsTheLibrary(t *testing.T) {
	t.Parallel()
	lib := library(t)
	tried, every, least := 0, uint32(*sweepEvery), 400
	if !proofs.Whole() {
		every, least = every*shortSweep, 10
	}
	for _, name := range cleanBuilds() {
		text := designText(t, name)
		d, err := schema.Load(name, []byte(text))
		require.NoError(t, err)
		schema.Walk(d, func(v schema.Visit) {
			if !v.Reading.Known() {
				return
			}
			for _, value := range changesOf(v, schema.Describe(v.Path).Field) {
				change := strings.TrimPrefix(v.Path, "design.") + "=" + value
				h := fnv.New32a()
				fmt.Fprint(h, name, change)
				if h.Sum32()%every != 0 {
					continue
				}
				changed, err := planted.Change([]byte(text), change)
				if err != nil {
					continue // the value that is there
				}
				other, err := schema.Load(name, changed)
				if err != nil {
					continue // two facts that exclude each other
				}
				tried++
				for _, f := range lib.Judge(other, engine.Options{Today: theDay}).Findings {
					if f.Outcome == engine.Open && len(f.Missing) == 0 {
						reason := strings.Join(f.Unreachable, "; ")
						assert.Fail(t, "open with nothing to ask", "%s %s: %s: %s", name, change, f.Rule, reason)
					}
				}
			}
		})
	}
	t.Logf("%d changes tried", tried)
	assert.Greater(t, tried, least)
}

// cleanBuilds are the designs that give no complaint.
func cleanBuilds() []string {
	names, _ := fs.Glob(os.DirFS("../designs"), "good/*.yaml")
	return append(names, "demo/six-return.yaml", "demo/van-v6-in-tank.yaml")
}

package derive

import (
	"crypto/md5"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

type goldenRow struct {
	Value                   string
	Missing, Assumed, Chain []string
	Absent, Reason, Inputs  string
}

func goldenRows(t *testing.T, d *schema.Design) map[string]goldenRow {
	out := map[string]goldenRow{}
	for _, r := range everything(NewSession(d, Options{})) {
		row := goldenRow{Missing: slices.Clone(r.Missing), Assumed: slices.Clone(r.Assumed), Absent: r.Absent, Reason: r.Reason}
		switch v := r.Value().(type) {
		case quantity.Value:
			row.Value = strconv.FormatFloat(v.SI(), 'g', 17, 64)
		case float64:
			row.Value = strconv.FormatFloat(v, 'g', 17, 64)
		default:
			row.Value = fmt.Sprint(v)
		}
		var in []string
		for _, i := range r.Inputs() {
			in = append(in, i.Path)
		}
		row.Inputs = fmt.Sprintf("%x", md5.Sum([]byte(strings.Join(in, ","))))
		out[r.Path] = row
	}
	return out
}

func TestGolden(t *testing.T) {
	file := os.Getenv("GOLDEN")
	if file == "" {
		t.Skip()
	}
	all := map[string]map[string]goldenRow{}
	var files []string
	for _, g := range []string{"/tmp/origmod/engine/derive/testdata/*.yaml", "/tmp/origmod/designs/*/*.yaml"} {
		m, _ := filepath.Glob(g)
		files = append(files, m...)
	}
	for _, f := range files {
		data, _ := os.ReadFile(f)
		d, err := schema.Load(f, data)
		if err != nil {
			t.Log(f, err)
			continue
		}
		all[f] = goldenRows(t, d)
	}
	const style = "style: return_style"
	texts := variants(t)
	for i, more := range [][]string{
		{"power: 90 kW", "power: 300 kW"}, {"power: 90 kW", "power: 900 kW"}, {"power: 90 kW", "power: 2000 kW"},
		{"power: 90 kW", "power: 900 kW", style, "style: dead_head"},
		{style, "style: dead_head", "dead_head_pressure: 700 kPa", "dead_head_pressure: 350 kPa"},
		{style, "style: in_tank", "place: frame_rail", "place: in_tank", "power: 90 kW", "power: 900 kW"},
		{"kind: roller_vane", "kind: turbine"}, {"kind: roller_vane", "kind: turbine", "power: 90 kW", "power: 400 kW"},
		{"kind: constant_current", "kind: electronic"}, {"length: 1", "length: 1000"}, {"length: 2", "length: 40"}, {"length: 1", "length: 10"},
	} {
		func() {
			defer func() { recover() }()
			data, _ := os.ReadFile("testdata/six.yaml")
			text := string(data)
			for j := 0; j < len(more); j += 2 {
				if !strings.Contains(text, more[j]) {
					t.Log("no", more[j])
				}
				text = strings.ReplaceAll(text, more[j], more[j+1])
			}
			texts[fmt.Sprint("more ", i)] = text
		}()
	}
	for name, text := range texts {
		n := len(removable(parse(t, text), nil))
		for i := -1; i < n; i += 29 {
			root := parse(t, text)
			if i >= 0 {
				removable(root, nil)[i].remove()
			}
			d, err := schema.LoadNode(name, root)
			if err != nil {
				if i < 0 {
					t.Log(name, err)
				}
				continue
			}
			all[fmt.Sprint(name, " without ", i)] = goldenRows(t, d)
		}
	}
	if os.Getenv("UPDATE") != "" {
		b, _ := json.Marshal(all)
		os.WriteFile(file, b, 0o644)
		return
	}
	b, _ := os.ReadFile(file)
	var want map[string]map[string]goldenRow
	if err := json.Unmarshal(b, &want); err != nil {
		t.Fatal(err)
	}
	worst, bad, count := 0.0, 0, 0
	num := regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?(e[-+]?[0-9]+)?`)
	for f, rows := range want {
		if len(rows) != len(all[f]) {
			t.Error(f, "rows", len(rows), len(all[f]))
		}
		for p, w := range rows {
			g := all[f][p]
			count++
			a, e1 := strconv.ParseFloat(w.Value, 64)
			b, e2 := strconv.ParseFloat(g.Value, 64)
			if e1 == nil && e2 == nil {
				// Ground branches near zero: a floor of 1e-9 of the unit's own scale is no help, so report them.
				rel := math.Abs(a-b) / math.Max(math.Abs(a), 1e-12)
				if math.Abs(a-b) > 0 && rel > worst {
					worst = rel
					t.Log("worst so far", f, p, w.Value, g.Value)
				}
				if rel > 1e-9 && math.Abs(a-b) > 1e-12 {
					bad++
					if bad < 40 {
						t.Error(f, p, w.Value, g.Value)
					}
				}
				w.Value, g.Value = "", ""
			}
			if fmt.Sprintf("%v", w) != fmt.Sprintf("%v", g) {
				strip := func(r goldenRow) string { r.Reason = num.ReplaceAllString(r.Reason, "#"); return fmt.Sprintf("%v", r) }
				if strip(w) == strip(g) && w.Reason != g.Reason {
					t.Log("reason", f, p, w.Reason, "|", g.Reason)
					continue
				}
				bad++
				if bad < 40 {
					t.Errorf("%s %s\n want %+v\n have %+v", f, p, w, g)
				}
			}
		}
	}
	t.Log("compared", count, "worst relative", worst, "bad", bad)
}

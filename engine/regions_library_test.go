package engine_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/engine/planted"
	"plumbline/testdata/proofs"
)

// allRegions are those the comparison of the same design runs through; "" is none.
var allRegions = []string{"", "us", "us-ca", "gb", "de", "au-sa", "nz", "ca-on", "jp", "sport"}

// somewhere reads a design with its own regions taken out.
func somewhere(t testing.TB, name string) string {
	t.Helper()
	text := string(designText(t, name))
	bare := regexp.MustCompile(`(?m)^regions: .*$`).ReplaceAllString(text, "regions: []")
	require.NotEqual(t, text, bare, name)
	return bare
}

var sameEverywhere = []string{"demo/six-return.yaml", "good/six-utility-south-australia.yaml", "good/rear-flat-four.yaml"}

// rulesHolding lists the rules that hold in a region: those of its packs and of the
// regions it lies in, without those that one of them takes the place of.
func rulesHolding(lib *engine.Library, region string) []string {
	within := map[string]string{}
	for _, r := range lib.Regions() {
		within[r.Name] = r.Within
	}
	places := map[string]bool{}
	for todo := []string{region}; len(todo) > 0; todo = todo[1:] {
		if name := todo[0]; name != "" {
			places[name] = true
			wider, _, narrower := strings.Cut(name, "-")
			if narrower {
				todo = append(todo, wider)
			}
			todo = append(todo, within[name])
		}
	}
	hold := map[string]bool{}
	var replaced []string
	for _, p := range lib.Packs() {
		if !slices.ContainsFunc(p.Regions, func(name string) bool { return places[name] }) {
			continue
		}
		for _, r := range p.Rules {
			hold[p.Pack+"."+r.ID] = true
			replaced = append(replaced, r.InsteadOf...)
		}
	}
	for _, name := range replaced {
		delete(hold, name)
	}
	return slices.Sorted(maps.Keys(hold))
}

// Another region changes the regional findings, all of them and nothing else.
func TestAnotherRegionChangesRegionalFindingsAlone(t *testing.T) {
	t.Parallel()
	lib := library(t)
	for _, name := range sameEverywhere {
		text := somewhere(t, name)
		general := ""
		for _, region := range allRegions {
			var elsewhere []engine.Finding
			regional := map[string]bool{}
			for _, f := range judgedIn(t, lib, text, region).Findings {
				if f.Region == "" {
					f.Because = slices.Clone(f.Because)
					for i := range f.Because {
						// A law is the law in its place and practice elsewhere; that may differ, and nothing else.
						if f.Because[i].Standing == "law_elsewhere" {
							f.Because[i].Standing = "law"
						}
					}
					elsewhere = append(elsewhere, f)
				} else {
					regional[f.Rule] = true
				}
			}
			written, err := json.Marshal(elsewhere)
			require.NoError(t, err)
			if region == "" {
				general = string(written)
				require.Greater(t, len(elsewhere), 400)
			}
			assert.Equal(t, general, string(written), "%s in %s", name, region)
			assert.Equal(t, rulesHolding(lib, region), slices.Sorted(maps.Keys(regional)), "%s in %s", name, region)
		}
	}
}

// Whatever comes out, a regional finding says where it holds, what it is there and what to confirm.
func TestRegionalFindingsSayWhatTheyAreAndWhatToConfirm(t *testing.T) {
	t.Parallel()
	lib := library(t)
	seen := map[engine.Outcome]int{}
	stripped, err := planted.Change([]byte(somewhere(t, "good/v6-controller-timing.yaml")),
		"vehicle.original_emission_equipment[1].after=removed; vehicle.original_emission_equipment[4].after=removed; papers.reasonable_basis=nothing")
	require.NoError(t, err)
	for _, text := range []string{string(stripped), somewhere(t, "demo/counter-half-known.yaml"), somewhere(t, "good/four-frame-pump.yaml")} {
		for _, region := range lib.Regions() {
			for _, f := range judgedIn(t, lib, text, region.Name).Findings {
				if !strings.HasPrefix(f.Rule, "regions/") {
					continue
				}
				seen[f.Outcome]++
				assert.NotEmpty(t, f.Region, f.Rule)
				assert.NotEmpty(t, f.Confirm, f.Rule)
				assert.Contains(t, []string{"duty", "inspection", "advice"}, f.Consequence, f.Rule)
			}
		}
	}
	for _, o := range []engine.Outcome{engine.Fail, engine.Warn, engine.Open, engine.Pass, engine.NotApplicable} {
		assert.NotZero(t, seen[o], o)
	}
}

// A must of a region rests on a text that was read, itself or in a copy; what is
// known from memory or from pages about it is a should, and advice binds nobody.
func TestRegionalMustsRestOnTextsThatWereRead(t *testing.T) {
	for _, p := range library(t).Packs() {
		if len(p.Regions) == 0 {
			continue
		}
		for _, r := range p.Rules {
			if r.Must == nil {
				continue
			}
			assert.NotEqual(t, "advice", r.Consequence, "%s.%s", p.Pack, r.ID)
			assert.True(t, slices.ContainsFunc(r.Because, func(b pack.Reason) bool {
				s, has := p.Sources.Get(b.Source)
				return has && s.Read != "secondary"
			}), "%s.%s", p.Pack, r.ID)
		}
	}
}

// verdicts are the words of a court, and amounts of money: a report has neither.
var verdicts = regexp.MustCompile(`(?i)\b(il|street[- ]?)?legal(ly|ity)?\b|\b(un)?lawful|[$€£¥]\s?\d|\b(usd|eur|gbp|aud|cad|nzd|jpy)\s?\d|\d[\d.,]*\s?(usd|eur|gbp|aud|cad|nzd|jpy|dollars?|euros?|pounds? sterling|yen)\b`)

// groundWords lists the words of reasons.
func groundWords(reasons []pack.Reason) (out []string) {
	for _, b := range reasons {
		out = append(out, b.Where, b.For, b.Practice, b.Memory, b.Physics)
	}
	return out
}

// No text says that something is within the law or against it, nor what it costs;
// the titles of cited documents are their own words, and none needs an exception.
func TestNoVerdictAndNoAmountIsPrinted(t *testing.T) {
	t.Parallel()
	for _, bad := range []string{"This is legal.", "ILLEGAL", "unlawful", "street-legal", "a fine of $ 300", "90 EUR", "2,500 dollars"} {
		require.Regexp(t, verdicts, bad)
	}
	lib := library(t)
	for _, p := range lib.Packs() {
		said := map[string][]string{"title": {p.Title}}
		for _, l := range p.Limits {
			said["limit "+l.Key] = groundWords(l.Value.Because)
		}
		for _, s := range p.Sources {
			said["source "+s.Key] = []string{s.Value.Title}
		}
		if p.Region != nil {
			said["region"] = []string{p.Region.Title, p.Region.DecidedBy, p.Region.Confirm}
		}
		for _, r := range p.Rules {
			said[r.ID] = slices.Concat([]string{r.Title, r.Say, r.Confirm}, r.Mend.Lines(), groundWords(r.Because))
		}
		for what, texts := range said {
			for _, text := range texts {
				assert.NotRegexp(t, verdicts, text, "%s, %s", p.Pack, what)
			}
		}
	}
	files, err := filepath.Glob("../rules/reference/*/*.md")
	require.NoError(t, err)
	for _, file := range append(files, "../README.md", "../rules/README.md") {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Empty(t, verdicts.FindAllString(string(text), -1), file)
	}
	seen := map[string]bool{}
	for _, region := range proofs.Sample(lib.Regions(), 4) {
		for _, f := range judgedIn(t, lib, somewhere(t, "demo/four-faulty.yaml"), region.Name).Findings {
			if said := fmt.Sprint(f.Title, f.Text, f.Remedy, f.Confirm, f.Because); !seen[said] {
				seen[said] = true
				assert.NotRegexp(t, verdicts, said, f.Rule)
			}
		}
	}
}

// datesOf are the days and years the rules of each region decide by, no more
// and no less: the model year in America, first use in Great Britain and
// Germany, first registration for historic status there and for the Union's
// limits, manufacture in Australia, New Zealand and Japan. The last passed test
// and the day of the work are facts of their own.
var datesOf = map[string]string{
	"us":     "engine.manufacture_year vehicle.manufacture_date vehicle.model_year",
	"us-ca":  "registration.last_emission_test today vehicle.first_registration_date vehicle.model_year",
	"us-co":  "registration.last_emission_test today vehicle.model_year",
	"us-md":  "vehicle.model_year",
	"us-ny":  "today vehicle.manufacture_date vehicle.model_year",
	"us-tx":  "engine.manufacture_year registration.last_emission_test today vehicle.model_year",
	"us-ut":  "",
	"gb":     "engine.manufacture_year today vehicle.first_registration_date vehicle.first_use_date",
	"eu":     "today vehicle.first_registration_date vehicle.manufacture_date",
	"de":     "papers.done_on today vehicle.first_use_date",
	"au":     "vehicle.manufacture_date",
	"au-nsw": "vehicle.manufacture_date",
	"au-sa":  "vehicle.manufacture_date",
	"au-vic": "vehicle.manufacture_date",
	"au-wa":  "vehicle.manufacture_date",
	"nz":     "papers.done_on registration.import_date vehicle.manufacture_date",
	"ca":     "registration.import_date vehicle.manufacture_date",
	"ca-on":  "engine.manufacture_year vehicle.model_year",
	"jp":     "registration.exhaust_rule_year vehicle.manufacture_date",
	"sport":  "",
}

var dateRead = regexp.MustCompile(`\bdesign\.((?:\w+\.)*(?:\w+_date|\w+_year|done_on|last_emission_test))\b|\b(today)\b`)

// expressions lists what a rule reads when it judges.
func expressions(r *pack.Rule) (out []string) {
	for _, named := range []pack.Named[pack.Expression]{r.Each, r.Let} {
		for _, e := range named {
			out = append(out, e.Value.Text)
		}
	}
	for _, e := range []*pack.Expression{r.Applies, r.Measure} {
		if e != nil {
			out = append(out, e.Text)
		}
	}
	for _, test := range []*pack.Test{r.Must, r.Should} {
		if test == nil {
			continue
		}
		if test.Condition != nil {
			out = append(out, test.Condition.Text)
		}
		for _, b := range test.Bounds {
			out = append(out, b.Value.Text)
		}
	}
	return out
}

// The rules of a region read the dates that decide there, and its line says which decide.
func TestTheDatesThatDecideInEachRegion(t *testing.T) {
	t.Parallel()
	lib := library(t)
	read := map[string]map[string]bool{}
	for _, r := range lib.Regions() {
		assert.NotEmpty(t, r.DecidedBy, r.Name)
		read[r.Name] = map[string]bool{}
	}
	for _, p := range lib.Packs() {
		for i := range p.Rules {
			for _, text := range expressions(&p.Rules[i]) {
				for _, m := range dateRead.FindAllStringSubmatch(text, -1) {
					for _, region := range p.Regions {
						read[region][m[1]+m[2]] = true
					}
				}
			}
		}
	}
	got := map[string]string{}
	for region, facts := range read {
		got[region] = strings.Join(slices.Sorted(maps.Keys(facts)), " ")
	}
	assert.Equal(t, datesOf, got)
}

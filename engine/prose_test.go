package engine_test

import (
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// proseRead is the day the texts of the library were last read for what time makes untrue. Who reads them again raises it.
var proseRead = time.Date(2026, 11, 27, 0, 0, 0, 0, time.UTC)

var (
	proseDate = regexp.MustCompile(`\b(?:(\d{1,2}) )?(January|February|March|April|May|June|July|August|September|October|November|December) ((?:19|20)\d\d)\b|\b((?:19|20)\d\d)-(\d\d)-(\d\d)\b`)
	toCome    = regexp.MustCompile(`(?i)\b(will|joins|begins|starts|ends|comes into force|is to (?:begin|end|join)|still in force until|not yet|due|scheduled|expected|planned|intends|upcoming|soon)\b`)
	undated   = regexp.MustCompile(`(?i)\b(soon|upcoming|next (?:year|month)|this (?:year|month)|is (?:about|due|planned|expected|scheduled) to)\b`)
	sentences = regexp.MustCompile(`[^.;]+`)
)

// aged tells what is wrong with a text on a day: it speaks of a day as still to come that has passed, or names
// one that nobody could know the outcome of when the texts were read and that has passed since.
func aged(text string, now time.Time) string {
	for _, part := range sentences.FindAllString(text, -1) {
		for _, m := range proseDate.FindAllStringSubmatch(part, -1) {
			layout, date := "2006-01-02", m[0]
			switch {
			case m[1] != "":
				layout = "2 January 2006"
			case m[2] != "":
				layout = "January 2006"
			}
			day, err := time.Parse(layout, date)
			if err != nil {
				continue
			}
			if layout == "January 2006" {
				day = day.AddDate(0, 1, -1)
			}
			switch {
			case day.After(proseRead) && day.Before(now):
				return date + " was still to come when the text was read"
			case day.Before(now) && day.Year() >= proseRead.Year()-1 && toCome.MatchString(part):
				return date + " has passed, the sentence speaks of it as to come"
			}
		}
	}
	return ""
}

// A sentence about a day to come fails this test once the day has passed, so that it is read again.
func TestProseDoesNotAge(t *testing.T) {
	joins := "One more joins in November 2026."
	require.Empty(t, aged(joins, time.Date(2026, 11, 29, 0, 0, 0, 0, time.UTC)))
	require.NotEmpty(t, aged(joins, time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC)))
	require.NotEmpty(t, aged("the test ends on 1 January 2027", time.Date(2027, 1, 2, 0, 0, 0, 0, time.UTC)))
	require.NotEmpty(t, aged("the count is three years from 2027-03-01", time.Date(2027, 3, 2, 0, 0, 0, 0, time.UTC)))
	require.Empty(t, aged("the inspection ended on 1 January 2025", time.Date(2030, 1, 1, 0, 0, 0, 0, time.UTC)))

	require.NotEmpty(t, aged("one more is due by 1 November 2026", time.Date(2026, 11, 2, 0, 0, 0, 0, time.UTC)))
	require.Regexp(t, undated, "the rule is due to change")

	now := time.Now().UTC()
	for _, p := range library(t).Packs() {
		said := map[string][]string{"title": {p.Title}}
		for _, l := range p.Limits {
			said["limit "+l.Key] = groundWords(l.Value.Because)
		}
		if p.Region != nil {
			said["region"] = []string{p.Region.Title, p.Region.DecidedBy, p.Region.Confirm}
			for _, w := range p.Region.Without {
				said["region"] = append(said["region"], w.Value)
			}
		}
		for _, r := range p.Rules {
			said[r.ID] = append([]string{r.Title, r.Say, r.Met, r.Confirm}, r.Mend.Lines()...)
			said[r.ID] = append(said[r.ID], groundWords(r.Because)...)
		}
		for what, texts := range said {
			for _, text := range texts {
				assert.Empty(t, aged(text, now), "%s, %s: %s", p.Pack, what, text)
				if len(p.Regions) > 0 {
					assert.NotRegexp(t, undated, text, "%s, %s: what is to come has a day", p.Pack, what)
				}
			}
		}
	}
}

// negativeOff tells people to undo the negative cable, which is the live one where the positive pole is on the chassis.
var negativeOff = regexp.MustCompile(`(?i)negative (cable|lead|terminal|pole)[^.;]*\b(first|off|last|undo|disconnect)|(disconnect|take off|undo)[^.;]*negative (cable|lead|terminal|pole)`)

// Only a caution with a condition, which knows the pole on the chassis, says which cable of the battery comes off first.
func TestNoRemedyNamesTheNegativeCable(t *testing.T) {
	require.Regexp(t, negativeOff, "Air the place and take the negative cable off first.")
	require.Regexp(t, negativeOff, "Disconnect the battery, negative cable first.")
	for _, p := range library(t).Packs() {
		for _, r := range p.Rules {
			for _, text := range append(r.Mend.Lines(), r.Say, r.Met) {
				assert.NotRegexp(t, negativeOff, text, "%s.%s", p.Pack, r.ID)
			}
		}
		for _, c := range p.Cautions {
			if c.When == nil {
				assert.NotRegexp(t, negativeOff, c.Say, "%s.%s", p.Pack, c.ID)
			}
		}
	}
}

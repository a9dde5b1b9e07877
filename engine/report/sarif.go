package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/url"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"plumbline/engine"
	"plumbline/schema"
)

func newSARIFRule(f *engine.Finding) sarifRule {
	full := sentence(capital(clean(f.Title)))
	if words := dangerWords(f.Danger); words != "" {
		full += " " + words + " when it is not met."
	}
	standing := []string{}
	for _, g := range f.Because {
		if !slices.Contains(standing, g.Standing) {
			standing = append(standing, g.Standing)
		}
	}
	return sarifRule{
		ID:    f.Rule,
		Short: sarifText{sentence(capital(clean(f.Title)))},
		Help: sarifText{fmt.Sprintf("%s Why: %s Due once the job is %s.", full,
			sentence(groundsWords(f.Because)), stageWords(f.Due))},
		Properties: sarifRuleDetails{Danger: string(f.Danger), Due: f.Due, Part: f.Part, Standing: standing},
	}
}

func newSARIFResult(f *engine.Finding, asked []engine.Question) sarifResult {
	kind, level := "fail", "error"
	switch f.Outcome {
	case engine.Warn:
		level = "warning"
	case engine.Open:
		kind, level = "open", "none"
	}
	measured, bounds := numbers(f)
	r := sarifResult{
		RuleID: f.Rule, Kind: kind, Level: level,
		Message:      sarifText{FindingWords(f, asked)},
		Locations:    []sarifLocation{{Physical: physical(f), Logical: []sarifLogical{{Name: clean(f.SubjectName), FullName: f.Subject}}}},
		Fingerprints: map[string]string{"ruleAndSubject/v1": fingerprint(f)},
		Properties: sarifResultDetails{Danger: string(f.Danger), Blocks: f.Blocks, Measured: measured, Bounds: bounds,
			Missing: f.Missing, Assumed: f.Assumed, Doubts: doubtsOf(f)},
		Suppressions: []sarifSuppression{},
	}
	for _, fact := range f.Facts {
		if fact.Place.Line > 0 && fact.Place != f.Place {
			id := len(r.Related) + 1
			r.Related = append(r.Related, sarifLocation{ID: &id, Physical: at(fact.Place, fact.Text),
				Message: &sarifText{factName(fact.Path) + ": " + clean(fact.Text)}})
		}
	}
	if c := f.Conceded; c != nil {
		s := sarifSuppression{Kind: "inSource", Status: "accepted",
			Justification: fmt.Sprintf("%s Granted by %s until %s.", sentence(c.Reason), clean(c.By), clean(c.Until))}
		if c.Place.Line > 0 {
			s.Location = &sarifLocation{Physical: at(c.Place, "")}
		}
		r.Suppressions = []sarifSuppression{s}
	}
	return r
}

// FindingWords are the finding in sentences; asked are the questions of its report.
func FindingWords(f *engine.Finding, asked []engine.Question) string {
	text := sentence(textWords(f))
	if f.Outcome == engine.Open {
		text = "Cannot be judged yet: " + sentence(f.Title)
	}
	if f.Danger.Hurts() {
		text = dangerWords(f.Danger) + ": " + text
	}
	if n := Numbers(f); n != "" {
		text += " " + n + "."
	}
	if c := f.Cause; c != nil {
		text += " This and other doubts may come of one fact: " + factName(c.Path) + " " + clean(c.Stated) + "."
	}
	if words := likelyWords(f); words != "" {
		text += " " + words
	}
	if len(f.Missing) > 0 {
		text += " Find out: " + findOut(f.Missing, len(f.Missing), asked) + "."
	}
	for _, u := range f.Unreachable {
		text += " Cannot be worked out: " + sentence(u)
	}
	if f.Remedy != "" {
		text += " Do: " + sentence(f.Remedy)
	}
	for _, doubt := range doubtWords(f) {
		text += " " + doubt
	}
	if f.Confirm != "" {
		text += " " + sentence(f.Confirm)
	}
	return text
}

// fingerprint stays the same while lines move: it is made of rule and subject.
func fingerprint(f *engine.Finding) string {
	sum := sha256.Sum256([]byte(f.Rule + "\n" + f.Subject))
	return hex.EncodeToString(sum[:16])
}

// physical is the finding's place; its end is known when a fact read stands there.
func physical(f *engine.Finding) *sarifPhysical {
	for _, fact := range f.Facts {
		if fact.Place == f.Place {
			return at(f.Place, fact.Text)
		}
	}
	return at(f.Place, "")
}

func at(p schema.Place, text string) *sarifPhysical {
	out := &sarifPhysical{Artifact: sarifArtifact{URI: fileURI(p.File)}}
	if p.Line > 0 {
		out.Region = &sarifRegion{StartLine: p.Line, StartColumn: p.Column}
		if text != "" && p.Column > 0 && !strings.Contains(text, "\n") {
			out.Region.EndColumn = p.Column + utf8.RuneCountInString(text)
		}
	}
	return out
}

// fileURI writes a file's name as a URI reference, relative when the name is.
func fileURI(file string) string {
	file = strings.ReplaceAll(file, "\\", "/")
	if len(file) > 2 && file[1:3] == ":/" {
		file = "/" + file
	}
	if strings.HasPrefix(file, "/") {
		u := url.URL{Scheme: "file", Path: path.Clean(file)}
		return u.String()
	}
	if file == "" {
		return "stdin"
	}
	u := url.URL{Path: path.Clean(file)}
	return u.String()
}

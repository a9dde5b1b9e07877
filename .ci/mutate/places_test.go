package main

import (
	"slices"
	"testing"
)

const sampleSource = `package p

import "fmt"

func f(a, b float64, s string) (float64, error) {
	if a < b && s != "" {
		return 0, fmt.Errorf("too little")
	}
	s = s + "x"
	return -a * 2.5, nil
}
`

// The changes are listed by hand from the kinds that doc.go names.
func TestPlaces(t *testing.T) {
	found, err := places([]byte(sampleSource))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range found {
		got = append(got, m.Change())
	}
	want := []string{
		`a < b && s != "" -> !(a < b && s != "")`, `a < b && s != "" -> false && (a < b && s != "")`,
		"< -> >", "< -> <=", "&& -> ||", "!= -> ==", "- -> +", "* -> /", "2.5 -> (2.5 * 1.1)",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
	if found[0].Line != 6 || found[0].Text != `if a < b && s != "" {` {
		t.Errorf("place: %+v", found[0])
	}
}

func TestAnEditElsewhereLeavesTheSampleAlone(t *testing.T) {
	before, _ := places([]byte(sampleSource))
	after, _ := places([]byte(sampleSource + "\nvar y = 7\n"))
	draw := func(all []mutant) (out []string) {
		for _, m := range shuffled(all, 3) {
			if m.Text != "var y = 7" {
				out = append(out, m.Text+m.Change())
			}
		}
		return out
	}
	if a, b := draw(before), draw(after); !slices.Equal(a, b) {
		t.Errorf("%q\n%q", a, b)
	}
}

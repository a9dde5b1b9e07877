package engine_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
)

// standingOf returns what a general rule says of a law it cites, for a design of which head tells the rest.
func standingOf(t *testing.T, cited, text string) func(head string) string {
	lib := library(t)
	return func(head string) string {
		for _, f := range judged(t, lib, "a.yaml", []byte("plumbline: 1\n"+text+head)).Findings {
			for _, g := range f.Because {
				if f.Region == "" && strings.Contains(g.Text, cited) {
					return g.Standing
				}
			}
		}
		return "not cited"
	}
}

// A law is one only where the vehicle is used and for whom it binds there: the inspection of buses in Maryland is
// practice for a car there, for a bus in Germany, and while nobody has said what the vehicle is.
func TestALawOfElsewhereIsPractice(t *testing.T) {
	standing := standingOf(t, "COMAR", "feed: {runs: [{name: hose, kind: hose, zone: cabin}]}\n")
	assert.Equal(t, "law", standing("regions: [us-md]\nvehicle: {class: bus}\n"))
	assert.Equal(t, "law_elsewhere", standing("regions: [us-md]\nvehicle: {class: passenger_car}\n"))
	assert.Equal(t, "law_elsewhere", standing("regions: [us-md]\n"))
	assert.Equal(t, "law_elsewhere", standing("regions: [de]\nvehicle: {class: bus}\n"))
}

// A German rule on tanks binds a road vehicle in Germany, not one that is only raced there, and nobody in Texas.
func TestALawBindsWhomItSays(t *testing.T) {
	standing := standingOf(t, "StVZO sections 45 to 47", "tank: {material: terne_steel}\n")
	assert.Equal(t, "law", standing("regions: [de]\nvehicle: {use: road}\n"))
	assert.Equal(t, "law_elsewhere", standing("regions: [de]\nvehicle: {use: competition}\n"))
	assert.Equal(t, "law_elsewhere", standing("regions: [de]\n"))
	assert.Equal(t, "law_elsewhere", standing("regions: [us-tx]\nvehicle: {use: road}\n"))
}

// Whom a law binds is checked where the source stands.
func TestWhomALawBindsIsChecked(t *testing.T) {
	for text, want := range map[string]string{
		`in: [us], binds: "design.vehicle.clas == 'bus'"`: "undefined field 'clas'",
		`in: [us], binds: "design.vehicle.model_year"`:    "must be true or false",
		`binds: "design.vehicle.class == 'bus'"`:          "name the regions where act is the law",
	} {
		pack := `pack: a/b
title: A
edition: 1
part: P
sources: {act: {kind: law, title: An act, edition: "2020", seen: 2026-01-01, read: text, ` + text + `}}
rules:
  - {id: a, title: a, danger: none, due: built, about: design.tank, must: design.tank.bonded, say: x, mend: y, because: [{source: act}]}
`
		_, err := engine.Load(fstest.MapFS{"a.yaml": {Data: []byte(pack)}})
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), want)
		assert.Contains(t, err.Error(), "a.yaml:5", text)
	}
}

package engine_test

import (
	"fmt"
	"testing/fstest"

	"plumbline/engine"
	"plumbline/schema"
)

// A Go program judges a design with a pack of its own.
func Example() {
	packs := fstest.MapFS{"shop.yaml": {Data: []byte(`
pack: shop/pump
title: What this shop wants of pumps
edition: 1
part: Fuel pump
rules:
  - id: flow
    title: The pump gives at least 150 L/h
    danger: engine
    due: ordered
    about: design.pump
    measure: design.pump.rated_flow
    must: {at_least: 150 L/h}
    say: "The pump gives {design.pump.rated_flow}."
    mend: Choose a larger pump.
    because: [{practice: "smaller ones come back"}]
`)}}
	lib, err := engine.Load(packs)
	if err != nil {
		fmt.Println(err)
		return
	}
	design, err := schema.Load("van.yaml", []byte("plumbline: 1\nstage: ordered\npump:\n  rated_flow: 120 L/h\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range lib.Judge(design, engine.Options{}).Findings {
		fmt.Println(f.Place, f.Outcome, f.Text, f.Remedy, f.Blocks)
	}
	// Output: van.yaml:4:15 fail The pump gives 120 L/h. Choose a larger pump. true
}

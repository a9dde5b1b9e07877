// Package proof holds no code, only tests: it runs the formulas of the physics
// packages against programs nobody here made, and keeps what was found.
//
//   - ngspice solves the same harness networks as package circuit;
//   - EPANET solves the same fuel supplies as package fluid;
//   - the Python library fluids computes the same friction factors, loss
//     coefficients, atmosphere and wire gauges.
//
// The inputs are generated from fixed seeds, lie under testdata and can be run
// by hand, without Go:
//
//	ngspice -b testdata/spice/ring-1.cir
//	PLUMBLINE_EPANET=DIR node testdata/epanet/run.mjs testdata/epanet/return-petrol-1.inp
//	/usr/bin/python3 testdata/fluids/reference.py
//
// DIR is a node_modules folder with the package epanet-js. A test whose tool is
// absent is skipped and says so; that the inputs are current is tested always.
//
// DEVIATIONS.md lists the worst difference found for each model. Run
//
//	go test ./engine/physics/proof -update
//
// to write the inputs anew and, for the tools that are present, the table.
package proof

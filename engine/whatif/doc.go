// Package whatif compares what the library finds when something about a job is
// different: here, the place where the vehicle is used.
//
//	places := whatif.Regions(lib, design, engine.Options{}, []string{"gb", "de"})
//	places.Everywhere // findings that do not depend on the place
//	places.Places[0].Own // findings of Great Britain's rules
package whatif

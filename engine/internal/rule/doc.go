// Package rule holds a rule ready to be judged, and the compiler that makes it from a pack.
//
//	c := rule.NewCompiler(vocabulary, pack, reader, shared)
//	c.Figures()                     // its limits and tables, which its expressions name
//	for _, r := range c.PackRules() // every rule compiled and linted; c.Problems has what was wrong
//
// It is the seam between what a pack says and whoever judges by it, proves it or explains it. It knows no design.
package rule

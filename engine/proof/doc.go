// Package proof says how far the cases of rules prove them: whether each case comes out as it must, which parts of a rule no
// case has seen both true and false, and which small mistakes in a rule no case notices.
//
//	for _, r := range proof.Cases(lib) { ... }  // r.Problem is empty when the case gave what it must
//	m, err := proof.Measure(lib, equals)        // parts and mistakes, rule by rule
//
// It changes nothing of the library.
package proof

// Package vocabulary is what rules may say: the CEL types for facts, derived
// values and quantities, the functions, and the checks a rule must pass before
// it may judge anything.
//
// Every struct of package schema becomes a CEL type whose fields carry their
// own types, so that an expression is checked against the design's shape and
// against physical dimensions when its pack loads:
//
//	env, _ := vocabulary.New(vocabulary.Tables{})
//	_, err := env.Compile("design.pump.rated_flow > psi(100)", nil) // refused: flow against pressure
//
// A fact that is not stated evaluates to a CEL unknown that carries its path;
// a part that the design says is not there makes the expression stop with
// ErrAbsent. The macro `has` does not exist: ignorance is never an answer.
package vocabulary

// Mutate makes small mistakes in the Go of the house and asks whether its tests
// notice. It is kept out of the build: a module of its own, standard library only.
//
//	cd .ci/mutate && go run . -dir ../.. -packages schema/quantity -sample 40 -seed 1
//
// A mutant is one change of one place: a comparison turned or shifted, && for ||,
// + for -, * for /, a sign turned, a whole constant one larger, a broken one a tenth
// larger, a condition negated, the early return of an error dropped. The sample is drawn by
// a hash of seed, file, line and change, so that an edit elsewhere leaves it alone.
// Each mutant is handed to go test as an overlay; nothing in the tree changes.
// A mutant that does not compile is no mutant: the next one is drawn.
//
// Exit codes: 0 at least the share asked for was noticed, 1 less was, 2 the tool
// could not do its work.
package main

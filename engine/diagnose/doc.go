// Package diagnose holds what was measured on a vehicle against what each trouble of the packs would make of it, and says which
// trouble explains the readings best, what cannot be told apart by them, and what to measure next.
//
//	found := diagnose.Run(library, design, engine.Options{})
//	found.Candidates[0].Troubles, found.Next
//
// Every trouble has one size, which is fitted to all readings together: the sum of squared differences, each over the margin of
// its reading, is made least. The margin is half of what the instrument may be off and half of what sound vehicles scatter, both
// stated as nineteen of twenty lie, added as squares. The sound vehicle is a candidate like the others, without a size. A
// candidate pays for its freedom: costTrouble for a trouble, which is one of many tried, and costSecond more for a second one.
//
// It judges nothing of the design: what is computed is taken to be right, so a wrong fact shows as a trouble.
package diagnose

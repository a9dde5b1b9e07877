// Package proofs tells tests whether to run whole. The long proofs (every fact moved, the law over thousands of designs,
// every planted mistake) are for the guard, which sets PLUMBLINE_PROOFS=all; anybody else gets a sample of them, so that
// go test ./... stays quick. One proof is a sample in the guard too: of all changes of all facts in all good builds,
// TestNoFactBlindsTheLibrary tries one in sixty.
package proofs

import (
	"os"
	"testing"
)

// Whole says whether the long proofs are asked for.
func Whole() bool { return os.Getenv("PLUMBLINE_PROOFS") == "all" }

// Only skips a test that cannot be sampled unless the long proofs are asked for.
func Only(t testing.TB) {
	t.Helper()
	if !Whole() {
		t.Skip("a long proof; set PLUMBLINE_PROOFS=all to run it")
	}
}

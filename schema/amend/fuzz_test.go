package amend_test

import (
	"testing"

	"plumbline/schema/amend"
	"plumbline/schema/document"
)

// FuzzMerge puts any three texts together. What nobody changed comes to what the other one said; what is put together reads as what
// each said, where the other did not touch it.
func FuzzMerge(f *testing.F) {
	f.Fuzz(func(t *testing.T, base, mine, theirs string) {
		read := func(text []byte) bool {
			root, err := document.Parse("f.yaml", text)
			return err == nil && root != nil
		}
		if !read([]byte(base)) || !read([]byte(mine)) || !read([]byte(theirs)) {
			return
		}
		alike := func(a, b []byte) bool {
			x, _ := document.Parse("f.yaml", a)
			y, err := document.Parse("f.yaml", b)
			return err == nil && len(amend.Diff(x, y)) == 0
		}
		if text, clashes, err := amend.Merge("f.yaml", []byte(base), []byte(base), []byte(theirs)); err != nil || len(clashes) > 0 || string(text) != theirs {
			t.Fatalf("nothing of mine makes %q of %q (%v, %v)", text, theirs, clashes, err)
		}
		text, clashes, err := amend.Merge("f.yaml", []byte(base), []byte(mine), []byte(base))
		if len(clashes) > 0 || err == nil && !alike(text, []byte(mine)) {
			t.Fatalf("mine alone makes %q of %q (%v)", text, mine, clashes)
		}
		text, clashes, err = amend.Merge("f.yaml", []byte(base), []byte(mine), []byte(theirs))
		if err != nil || len(clashes) > 0 {
			return
		}
		if !read(text) {
			t.Fatalf("%q cannot be read", text)
		}
		if again, clashes, err := amend.Merge("f.yaml", []byte(base), []byte(mine), text); err != nil || len(clashes) > 0 || !alike(again, text) {
			t.Fatalf("mine is not in %q: %v, %v", text, clashes, err)
		}
	})
}

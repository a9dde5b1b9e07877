// Package reference writes the pages of reference: an index, a page for each pack with its rules, the facts of each part
// of a design and the derived values with the rules that read them, the known failures, and the rule language by topics.
// All are made from the records of the glossary, which the explanations of the command print too.
//
//	for name, text := range reference.Pages(library, failures) {
//		os.WriteFile(filepath.Join(dir, name), text, 0o644)
//	}
package reference

// Package document reads the YAML and JSON files people write, strictly, and says what is wrong with them.
//
// Parse returns the root mapping of a file as a node tree with lines and columns. It refuses everything that makes
// two readers see different things in one file: anchors, aliases, merge keys, tags, several documents, duplicate
// keys, numbers such as 0755, 0x1F or 1_000. It also refuses what could exhaust the reader: a file over MaxBytes,
// nesting over MaxDepth, more than MaxNodes values.
//
//	root, err := document.Parse("van.yaml", data)
//	var problems document.Problems
//	errors.As(err, &problems)
//	fmt.Println(problems) // van.yaml:12:3: key pump is already on line 4; keep one of them
//
// All problems of a file come at once, in the order of the file. JSON is read as the subset of YAML it is; of JSON
// only character escapes in surrogate pairs (\ud83d\ude00) are not understood and reported as such.
package document

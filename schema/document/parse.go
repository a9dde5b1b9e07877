package document

import (
	"bytes"
	"errors"
	"io"

	"gopkg.in/yaml.v3"
)

// Parse reads the one document of a file and returns its root mapping.
//
// The error, when there is one, is of type Problems. The root is returned beside it when the tree is whole in spite
// of the problems, so that a caller can report its own problems in the same run; it must not be used otherwise. Its
// aliases are not followed, and a value a problem points at may be anything.
func Parse(file string, data []byte) (*yaml.Node, error) {
	if problem, ok := scan(file, data); !ok {
		return nil, Problems{problem}
	}
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var doc yaml.Node
	err := decoder.Decode(&doc)
	switch {
	case err != nil && !errors.Is(err, io.EOF):
		return nil, Problems{syntaxProblem(file, data)}
	case err != nil, doc.Content[0].Tag == "!!null" && doc.Content[0].Value == "":
		return nil, Problems{{Place: Place{file, 1, 1}, Message: "the file is empty; a mapping of keys to values is expected"}}
	}

	check := checker{file: file}
	root := doc.Content[0]
	whole := check.node(root, "", 1)
	if root.Kind != yaml.MappingNode {
		check.add(root, "", "a mapping of keys to values is expected, such as \"title: my truck\"", "")
		whole = false
	}
	check.single(decoder, data)
	if !whole {
		root = nil
	}
	return root, check.problems.Err()
}

// single reports a second document.
func (c *checker) single(decoder *yaml.Decoder, data []byte) {
	var second yaml.Node
	switch err := decoder.Decode(&second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		c.problems = append(c.problems, syntaxProblem(c.file, data))
	default:
		c.add(&second, "", "a second document begins here; a file holds one, without a line of ---", "")
	}
}

package schema

import (
	"errors"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

const (
	// MaxTextBytes is the longest text of a fact, about a page; longer ones belong in a file of their own.
	MaxTextBytes = 2000
	// MaxItems is the longest list; a vehicle with more than 64 circuits or runs is a mistake in the file, and circuits
	// that hang on each other are solved together.
	MaxItems = 64
	// MaxItemsInAll is how many list items a design may have in all; one with everything stated has some 300. It keeps
	// judging under about a second.
	MaxItemsInAll = 2000

	rootPath = "design"
)

// Load reads a design file, YAML or JSON. file is only used to say where something stands.
//
// The error is of type document.Problems and holds everything that is wrong with the file: what document.Parse
// refuses, unknown keys and words, values without or with the wrong unit, values out of range. It accepts nothing that the
// JSON Schema, which editors check by, refuses. A file must state `plumbline: 1`.
//
// No other file is read: a design that says `based_on` is refused here; LoadBased reads it.
func Load(file string, data []byte) (*Design, error) { return LoadBased(file, data, nil) }

// read reads one file by itself and collects what is wrong with it; above is how many lines of the file stand before data.
// Without a root it cannot be used at all.
func read(declared *Declared, file string, above int, data []byte) (d *decoder, root *yaml.Node, design *Design) {
	root, err := document.Parse(file, data)
	var problems document.Problems
	errors.As(err, &problems)
	for i := range problems {
		problems[i].Path = under(problems[i].Path)
		problems[i].Place.Line += above
	}
	if above > 0 && root != nil {
		lower(root, above)
	}
	d = newDecoder(declared, file, problems)
	if root == nil || len(problems) > document.MaxProblems {
		return d, nil, nil
	}
	design = d.design(root)
	if !design.Plumbline.Known() && !d.mentions(root, "plumbline") {
		d.add(root, rootPath+".plumbline", "the edition of the file format is missing; write plumbline: 1 as the first line", "plumbline: 1")
	}
	return d, root, design
}

// lower moves a node and all below it down by so many lines.
func lower(n *yaml.Node, lines int) {
	n.Line += lines
	for _, child := range n.Content {
		lower(child, lines)
	}
}

// LoadNode reads a partial design from inside another document that document.Parse returned, such as the case of a
// pack. Nothing is required in it, and its lists hold all there is unless it says by `complete` which do. The error is of type
// document.Problems.
func LoadNode(file string, node *yaml.Node) (*Design, error) {
	return (*Declared)(nil).LoadNode(file, node)
}

// LoadNode is LoadNode of a design that may state the declared facts too.
func (d *Declared) LoadNode(file string, node *yaml.Node) (*Design, error) {
	return newDecoder(d, file, nil).node(node)
}

func (d *decoder) node(node *yaml.Node) (*Design, error) {
	design := d.design(node)
	if !d.mentions(node, "complete") {
		design.close()
	}
	d.unbased(node)
	(&furnisher{decoder: d}).furnish(node, designPlan(), rootPath)
	if err := d.problems.Err(); err != nil {
		return nil, err
	}
	return design, nil
}

// Empty returns a design in which nothing is stated; every fact knows its path.
func Empty() *Design { return (*Declared)(nil).Empty() }

// Empty is Empty with places for the declared facts.
func (d *Declared) Empty() *Design {
	out := new(Design)
	out.declare(d)
	Stamp(out)
	return out
}

// under puts a path of the document under the root of the design.
func under(path string) string {
	switch {
	case path == "":
		return rootPath
	case path[0] == '[':
		return rootPath + path
	}
	return rootPath + "." + path
}

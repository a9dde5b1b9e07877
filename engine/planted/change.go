package planted

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// Change edits the text of a design: "path=value; path=value". A path goes down
// by keys; an item of a list is named by its index or by its own name:
// circuits[fuel pump].fuse.rating. Each fact must be stated, and otherwise.
func Change(text []byte, change string) ([]byte, error) {
	document, err := read(text)
	if err != nil {
		return nil, err
	}
	for one := range strings.SplitSeq(change, "; ") {
		path, value, ok := strings.Cut(one, "=")
		if !ok {
			return nil, fmt.Errorf("path=value is expected: %s", one)
		}
		var put yaml.Node
		if err := yaml.Unmarshal([]byte(value), &put); err != nil {
			return nil, fmt.Errorf("%s: %w", one, err)
		}
		at, err := nodeAt(document.Content[0], path)
		if err != nil {
			return nil, err
		}
		before, err := yaml.Marshal(at)
		if err != nil {
			return nil, err
		}
		after, err := yaml.Marshal(put.Content[0])
		if err != nil {
			return nil, err
		}
		if slices.Equal(before, after) {
			return nil, fmt.Errorf("%s changes nothing", one)
		}
		*at = *put.Content[0]
	}
	return yaml.Marshal(document)
}

// read reads the text of a design, which must hold something.
func read(text []byte) (*yaml.Node, error) {
	var document yaml.Node
	if err := yaml.Unmarshal(text, &document); err != nil {
		return nil, err
	}
	if len(document.Content) == 0 {
		return nil, errors.New("the design is empty")
	}
	return &document, nil
}

// without leaves out whole parts of a design.
func without(text []byte, parts ...string) ([]byte, error) {
	document, err := read(text)
	if err != nil {
		return nil, err
	}
	root := document.Content[0]
	for _, part := range parts {
		for i := 0; i < len(root.Content); i += 2 {
			if root.Content[i].Value == part {
				root.Content = slices.Delete(root.Content, i, i+2)
				break
			}
		}
	}
	return yaml.Marshal(document)
}

var step = regexp.MustCompile(`^([a-z_]+)(?:\[([^\]]+)\])?$`)

// nodeAt follows a path to its node.
func nodeAt(n *yaml.Node, path string) (*yaml.Node, error) {
	for key := range strings.SplitSeq(path, ".") {
		match := step.FindStringSubmatch(key)
		if match == nil {
			return nil, fmt.Errorf("%s: %s is not a step of a path", path, key)
		}
		if n = valueOf(n, match[1]); n == nil {
			return nil, fmt.Errorf("%s: the design does not state %s", path, match[1])
		}
		if match[2] == "" {
			continue
		}
		if n = itemOf(n, match[2]); n == nil {
			return nil, fmt.Errorf("%s: there is no item %s", path, match[2])
		}
	}
	return n, nil
}

func valueOf(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

func itemOf(n *yaml.Node, which string) *yaml.Node {
	if i, err := strconv.Atoi(which); err == nil && i < len(n.Content) {
		return n.Content[i]
	}
	for _, item := range n.Content {
		if name := valueOf(item, "name"); name != nil && name.Value == which {
			return item
		}
	}
	return nil
}

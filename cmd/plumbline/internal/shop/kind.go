package shop

import (
	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// OtherKind names the kind of a file that says it is something else than a design; "" when it does not.
func OtherKind(name string, data []byte) string {
	root, _ := document.Parse(name, data)
	if root == nil {
		return ""
	}
	kind := ""
	for i := 0; i+1 < len(root.Content); i += 2 {
		key := root.Content[i]
		if key.Kind != yaml.ScalarNode {
			continue
		}
		switch key.Value {
		case "plumbline":
			return ""
		case "pack", "sources", "catalogue", "shelf":
			kind = key.Value
		case "runs":
			kind = "CI action"
		}
	}
	return kind
}

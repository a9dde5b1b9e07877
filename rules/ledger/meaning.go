package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// library is what a folder of packs means, or meant when it was released.
type library struct {
	Edition int
	Day     string // of the release
	Packs   map[string]*pack
	at      where // the library's edition
}

// pack is one pack: its edition, and a digest of the meaning of each of its items, "rule flow" or "limit reserve".
type pack struct {
	Edition int
	Items   map[string]string
	at      where // its edition
}

// where is the place of a number in a file, counted from one.
type where struct {
	file         string
	line, column int
}

// texts are the keys that say something to people, or prove a rule, and decide nothing.
var texts = []string{"title", "say", "met", "mend", "because", "cases", "covers", "confirm", "unsure"}

// readLibrary reads every pack of a folder, cases beside them left out.
func readLibrary(folder fs.FS) (*library, error) {
	l := &library{Packs: map[string]*pack{}}
	err := fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(name) != ".yaml" || strings.HasSuffix(name, ".cases.yaml") {
			return err
		}
		data, err := fs.ReadFile(folder, name)
		if err != nil {
			return err
		}
		var doc yaml.Node
		if err := yaml.Unmarshal(data, &doc); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if len(doc.Content) == 0 {
			return nil
		}
		keys := pairs(doc.Content[0])
		edition := keys["edition"]
		if edition == nil {
			return nil
		}
		n, err := strconv.Atoi(edition.Value)
		if err != nil {
			return fmt.Errorf("%s:%d: edition must be a number", name, edition.Line)
		}
		at := where{name, edition.Line, edition.Column}
		if keys["pack"] == nil {
			l.Edition, l.at = n, at
			return nil
		}
		l.Packs[keys["pack"].Value] = &pack{Edition: n, Items: items(keys), at: at}
		return nil
	})
	return l, err
}

// items digests the meaning of everything a pack holds.
func items(keys map[string]*yaml.Node) map[string]string {
	out := map[string]string{}
	for key, node := range keys {
		switch kind := strings.TrimSuffix(key, "s"); key {
		case "rules", "assumptions", "cautions", "tighten", "raise", "loosen":
			for i, item := range node.Content {
				fields, name := pairs(item), strconv.Itoa(i+1)
				for _, id := range []string{"id", "fact", "limit", "rule"} {
					if fields[id] != nil {
						name = fields[id].Value
						break
					}
				}
				out[kind+" "+name] = digest(item)
			}
		case "limits", "tables":
			for name, item := range pairs(node) {
				out[kind+" "+name] = digest(item)
			}
		case "region", "regions":
			out[key] = digest(node)
		}
	}
	return out
}

// pairs are the values of a mapping by key.
func pairs(n *yaml.Node) map[string]*yaml.Node {
	out := map[string]*yaml.Node{}
	if n.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(n.Content); i += 2 {
			out[n.Content[i].Value] = n.Content[i+1]
		}
	}
	return out
}

// digest is six bytes of the SHA-256 of what a node means: without texts, whatever way it is laid out.
func digest(n *yaml.Node) string {
	text, err := json.Marshal(meaning(n))
	if err != nil {
		panic(err) // strings, lists and maps of strings always marshal
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:6])
}

func meaning(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		out := map[string]any{}
		for key, value := range pairs(n) {
			if !slices.Contains(texts, key) {
				out[key] = meaning(value)
			}
		}
		return out
	case yaml.SequenceNode:
		out := []any{}
		for _, item := range n.Content {
			out = append(out, meaning(item))
		}
		return out
	case yaml.AliasNode:
		return meaning(n.Alias)
	}
	return strings.Join(strings.Fields(n.Value), " ")
}

package proof

import (
	"fmt"
	"io/fs"
	"path"
	"strings"

	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
)

// equalsFile is the list of a rules folder.
const equalsFile = "survivors.txt"

// Equal is one line of survivors.txt: a mistake that makes no difference to
// any design, so that no case can notice it.
type Equal struct {
	Rule, Mutation, Reason string
	place                  schema.Place
}

func (e *Equal) problem(message string) document.Problem {
	return document.Problem{Place: e.place, Path: e.Rule, Message: e.Rule + ": " + message}
}

// Equals reads the files survivors.txt of a rules folder. A line is the rule's
// name, the mutation as Measure says it and the reason why it makes no
// difference, with tabs between; empty lines and those that begin with # are
// left out. The error is document.Problems when lines are wrong.
func Equals(folder fs.FS) ([]Equal, error) {
	var out []Equal
	var problems document.Problems
	err := fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Base(name) != equalsFile {
			return err
		}
		data, err := pack.ReadFile(folder, name)
		if err != nil {
			return err
		}
		seen := map[string]bool{}
		for i, line := range strings.Split(string(data), "\n") {
			line = strings.TrimRight(line, "\r")
			if strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#") {
				continue
			}
			place := schema.Place{File: name, Line: i + 1, Column: 1}
			fields := strings.Split(line, "\t")
			if len(fields) != 3 || strings.TrimSpace(fields[0]) == "" || strings.TrimSpace(fields[1]) == "" || strings.TrimSpace(fields[2]) == "" {
				problems = append(problems, document.Problem{Place: place, Message: fmt.Sprintf("write rule, mutation and reason with a tab between; this line has %d of them", len(fields))})
				continue
			}
			if key := fields[0] + "\t" + fields[1]; seen[key] {
				problems = append(problems, document.Problem{Place: place, Message: "this mutation is listed twice"})
				continue
			} else {
				seen[key] = true
			}
			out = append(out, Equal{fields[0], fields[1], fields[2], place})
		}
		return nil
	})
	if err == nil && len(problems) > 0 {
		return nil, problems.Tidy()
	}
	return out, err
}

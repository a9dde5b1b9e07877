package engine

import (
	"bytes"
	"io/fs"
	"slices"
)

// JudgingOnly marks a folder of packs whose rules are needed to judge but whose
// cases are not: loading leaves the cases out, which are nearly half of the
// text. It is for the built-in library, whose cases its own tests run.
func JudgingOnly(folder fs.FS) fs.FS { return judgingOnly{FS: folder} }

// JudgingIn is JudgingOnly for designs of the named regions: of packs of other
// regions only the head is read, which declares the region.
func JudgingIn(folder fs.FS, regions []string) fs.FS {
	return judgingOnly{FS: folder, some: true, regions: regions}
}

type judgingOnly struct {
	fs.FS
	some    bool
	regions []string
}

// withoutCases blanks the blocks that begin with a `cases:` key of a rule
// written in block style, keeping every line's number. A rule's keys stand four
// columns in; a block ends where a line stands no further in than its key.
func withoutCases(data []byte) []byte {
	out := make([]byte, 0, len(data))
	inside := false
	for line := range bytes.Lines(data) {
		indent := len(line) - len(bytes.TrimLeft(line, " "))
		blank := len(bytes.TrimSpace(line)) == 0
		switch {
		case bytes.Equal(bytes.TrimRight(line, " \r\n"), []byte("    cases:")):
			inside = true
		case inside && !blank && indent <= 4:
			inside = false
		}
		if inside {
			line = line[len(line)-1:]
			if line[0] != '\n' {
				line = nil
			}
		}
		out = append(out, line...)
	}
	return out
}

// bodyKeys begin the part of a pack that only its rules need.
var bodyKeys = []string{"limits", "tables", "assumptions", "sources", "rules", "tighten", "raise", "loosen"}

// regionalHead is the head of a pack of a region, before its figures and rules; nil when it is of none.
func regionalHead(data []byte) []byte {
	regional, end := false, 0
	for line := range bytes.Lines(data) {
		if key, _, ok := bytes.Cut(line, []byte(":")); ok {
			if slices.Contains(bodyKeys, string(key)) {
				break
			}
			regional = regional || string(key) == "region" || string(key) == "regions"
		}
		end += len(line)
	}
	if !regional {
		return nil
	}
	return data[:end]
}

// trim leaves only the head of packs whose regions no design is judged for.
func (l *Library) trim(files []*packFile, wanted []string) {
	heads := &Library{regions: map[string]*Region{}}
	packs := make([]*Pack, len(files))
	for i, f := range files {
		if f.head == nil {
			continue
		}
		p, r, err := readPack(f.name, f.head)
		if err != nil || p == nil || len(r.problems) > 0 {
			return // the whole is read, and says what is wrong
		}
		if p.Region != nil {
			heads.regions[p.Region.Name] = p.Region
			p.Regions = append(p.Regions, p.Region.Name)
		}
		packs[i] = p
	}
	needed := heads.withParents(wanted)
	for i, p := range packs {
		if p != nil && !slices.ContainsFunc(p.Regions, func(r string) bool { return slices.Contains(needed, r) }) {
			files[i].data = files[i].head
		}
	}
}

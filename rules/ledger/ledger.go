package main

import (
	"bufio"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

const (
	ledgerFile   = "ledger.txt"
	replacedFile = "replaced.txt"
	changesFile  = "CHANGES.md"
)

// String writes a library as a ledger.
func (l *library) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# What the library meant when it was released; written by go run ./rules/ledger -release DAY, never by hand.\nlibrary %d %s\n", l.Edition, l.Day)
	for _, name := range slices.Sorted(maps.Keys(l.Packs)) {
		p := l.Packs[name]
		fmt.Fprintf(&b, "pack %s %d\n", name, p.Edition)
		for _, item := range slices.Sorted(maps.Keys(p.Items)) {
			fmt.Fprintf(&b, "  %s %s\n", item, p.Items[item])
		}
	}
	return b.String()
}

// readLedger reads a ledger; without one nothing was released.
func readLedger(name string) (*library, error) {
	l := &library{Packs: map[string]*pack{}}
	file, err := os.Open(name)
	if os.IsNotExist(err) {
		return l, nil
	}
	if err != nil {
		return nil, err
	}
	defer file.Close()
	var p *pack
	lines := bufio.NewScanner(file)
	for at := 1; lines.Scan(); at++ {
		line := lines.Text()
		cells := strings.Fields(line)
		bad := fmt.Errorf("%s:%d: not a line of a ledger: %s", name, at, line)
		switch {
		case strings.HasPrefix(line, "#"):
		case len(cells) == 3 && cells[0] == "library":
			if l.Edition, err = strconv.Atoi(cells[1]); err != nil {
				return nil, bad
			}
			l.Day = cells[2]
		case len(cells) == 3 && cells[0] == "pack":
			p = &pack{Items: map[string]string{}}
			if p.Edition, err = strconv.Atoi(cells[2]); err != nil {
				return nil, bad
			}
			l.Packs[cells[1]] = p
		case p != nil && len(cells) >= 2 && strings.HasPrefix(line, "  "):
			last := len(cells) - 1
			p.Items[strings.Join(cells[:last], " ")] = cells[last]
		default:
			return nil, bad
		}
	}
	return l, lines.Err()
}

// change is what differs in one pack from its last release.
type change struct{ added, changed, gone []string }

// compare lists the packs that mean something else than when they were released; one that is gone has only gone items.
func compare(released, now *library) map[string]change {
	out := map[string]change{}
	names := maps.Clone(released.Packs)
	maps.Copy(names, now.Packs)
	for name := range names {
		var c change
		var old, new map[string]string
		if p := released.Packs[name]; p != nil {
			old = p.Items
		}
		if p := now.Packs[name]; p != nil {
			new = p.Items
		}
		for item, is := range new {
			if was, there := old[item]; !there {
				c.added = append(c.added, item)
			} else if was != is {
				c.changed = append(c.changed, item)
			}
		}
		for item := range old {
			if _, there := new[item]; !there {
				c.gone = append(c.gone, item)
			}
		}
		if len(c.added)+len(c.changed)+len(c.gone) > 0 {
			slices.Sort(c.added)
			slices.Sort(c.changed)
			slices.Sort(c.gone)
			out[name] = c
		}
	}
	return out
}

// due is the edition a pack must have: one more than the released one if it means something else. A pack that was never
// released has the one it states.
func due(released, now *library, name string, changes map[string]change) int {
	old := released.Packs[name]
	switch _, changed := changes[name]; {
	case old == nil:
		return now.Packs[name].Edition
	case changed:
		return old.Edition + 1
	default:
		return old.Edition
	}
}

// dueLibrary is the edition the library must have.
func dueLibrary(released *library, changes map[string]change) int {
	if len(changes) > 0 {
		return released.Edition + 1
	}
	return released.Edition
}

// settle writes the editions that are due into the files, and into now.
func settle(folder string, released, now *library, changes map[string]change) error {
	if n := dueLibrary(released, changes); n != now.Edition {
		if err := put(folder, now.at, n); err != nil {
			return err
		}
		now.Edition = n
	}
	for name, p := range now.Packs {
		if n := due(released, now, name, changes); n != p.Edition {
			if err := put(folder, p.at, n); err != nil {
				return err
			}
			p.Edition = n
		}
	}
	return nil
}

// put writes a number in place of the one at a place.
func put(folder string, at where, n int) error {
	name := filepath.Join(folder, filepath.FromSlash(at.file))
	data, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	lines := strings.SplitAfter(string(data), "\n")
	line := lines[at.line-1]
	rest := strings.TrimLeft(line[at.column-1:], "0123456789")
	lines[at.line-1] = line[:at.column-1] + strconv.Itoa(n) + rest
	return os.WriteFile(name, []byte(strings.Join(lines, "")), 0o644)
}

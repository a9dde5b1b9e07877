package main

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"runtime/debug"
	"slices"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
)

// version is set by the release build.
var version string

// programVersion is the version of the release, or of the module when there is none.
func programVersion() string {
	if version != "" {
		return version
	}
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		return info.Main.Version
	}
	return "development"
}

// head is what a pack file says of itself before its rules.
type head struct {
	name, edition, digest string
}

// printVersion prints the program's version, the library's edition and digest, and those of every pack. Only the heads of the
// packs are read: whoever asks which version this is does not wait for the rules.
func (c *Command) printVersion() error {
	sum, err := shop.Digest(c.Rules)
	if err != nil {
		return exit.Failure(err)
	}
	packs, edition, err := heads(c.Rules)
	if err != nil {
		return exit.Failure(err)
	}
	fmt.Fprintf(c.Stdout, "plumbline %s\nrule library edition %s, %s, digest %s\n", programVersion(), edition, shop.Counted(len(packs), "pack"), sum)
	for _, p := range packs {
		fmt.Fprintf(c.Stdout, "  %s edition %s, digest %s\n", p.name, p.edition, p.digest)
	}
	return nil
}

var (
	packLine    = regexp.MustCompile(`(?m)^pack: *["']?([^"'\s]+)`)
	editionLine = regexp.MustCompile(`(?m)^edition: *([0-9]+)`)
)

// heads are those of all packs of a folder by their names, and the edition that its sources state for the whole, 0 for none.
func heads(folder fs.FS) (packs []head, edition string, err error) {
	edition = "0"
	err = fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(name) != ".yaml" {
			return err
		}
		data, err := fs.ReadFile(folder, name)
		if err != nil {
			return err
		}
		stated := editionLine.FindSubmatch(data)
		switch pack := packLine.FindSubmatch(data); {
		case stated == nil:
		case pack == nil:
			edition = string(stated[1])
		default:
			sum := sha256.Sum256(data)
			packs = append(packs, head{string(pack[1]), string(stated[1]), hex.EncodeToString(sum[:])})
		}
		return nil
	})
	slices.SortFunc(packs, func(a, b head) int { return cmp.Compare(a.name, b.name) })
	return packs, edition, err
}

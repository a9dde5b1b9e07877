package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"path"
	"runtime/debug"
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

// printVersion prints the program's version, the library's edition and digest, and those of every pack.
func (c *Command) printVersion() error {
	lib, err := c.loadToJudge(nil)
	if err != nil {
		return err
	}
	sum, err := digest(c.Rules)
	if err != nil {
		return failure(err)
	}
	files, err := fileDigests(c.Rules)
	if err != nil {
		return failure(err)
	}
	fmt.Fprintf(c.Stdout, "plumbline %s\nrule library edition %d, %s, digest %s\n", programVersion(), lib.Edition(), counted(len(lib.Packs()), "pack"), sum)
	for _, p := range lib.Packs() {
		fmt.Fprintf(c.Stdout, "  %s edition %d, digest %s\n", p.Pack, p.Edition, files[p.Path])
	}
	return nil
}

// fileDigests is the SHA-256 of every pack file, by its name.
func fileDigests(folder fs.FS) (map[string]string, error) {
	out := map[string]string{}
	err := fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(name) != ".yaml" {
			return err
		}
		data, err := fs.ReadFile(folder, name)
		sum := sha256.Sum256(data)
		out[name] = hex.EncodeToString(sum[:])
		return err
	})
	return out, err
}

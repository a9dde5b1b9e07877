package main

import (
	"fmt"
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

func (c *Command) printVersion() error {
	sum, err := digest(c.Rules)
	if err != nil {
		return failure(err)
	}
	fmt.Fprintf(c.Stdout, "plumbline %s\nrule library %s\n", programVersion(), sum)
	return nil
}

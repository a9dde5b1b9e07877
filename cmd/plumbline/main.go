package main

import (
	"os"
	"runtime/debug"
	"time"

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/designs"
	"plumbline/rules"
)

// gcPercent lets the heap grow further between collections than Go's default:
// a check lives a tenth of a second and holds little.
const gcPercent = 400

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(gcPercent)
	}
	c := &Command{
		Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr,
		Now: time.Now, Getenv: os.Getenv, Built: shop.Built{Rules: rules.Files(), Image: rules.Image(), Patterns: designs.Patterns(), Series: designs.Series(), Numbers: designs.Numbers()},
	}
	os.Exit(c.Run(os.Args[1:]))
}

package main

import (
	"os"
	"time"

	"plumbline/rules"
)

func main() {
	c := &Command{
		Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr,
		Now: time.Now, Getenv: os.Getenv, Rules: rules.Files(),
	}
	os.Exit(c.Run(os.Args[1:]))
}

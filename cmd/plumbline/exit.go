package main

import (
	"errors"
	"fmt"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/schema/document"
)

// exit prints what is left to say and returns the exit code. Errors without a
// code come from the reading of the command line.
func (c *Command) exit(err error) int {
	if err == nil {
		return exit.Clear
	}
	var e *exit.Error
	if !errors.As(err, &e) {
		fmt.Fprintf(c.Stderr, "plumbline: %s\nplumbline help lists the verbs, plumbline help VERB the flags of one.\n", err.Error())
		return exit.Input
	}
	var problems document.Problems
	var wrong *shop.Problems
	switch {
	case errors.As(err, &wrong):
		c.showWrong(wrong)
		return c.exit(wrong.Closing)
	case errors.As(err, &problems):
		c.showProblems(problems, nil)
	case e.Cause != nil:
		fmt.Fprintf(c.Stderr, "plumbline: %s\n", e.Cause.Error())
	}
	return e.Code
}

// crash says that the program itself broke.
func crash(r any) string {
	return fmt.Sprintf("plumbline: the program failed: %v\nThis is a fault of the program, not of the design; nothing it printed may be relied on.", r)
}

// showWrong prints what is wrong with files, each problem with its line.
func (c *Command) showWrong(wrong *shop.Problems) {
	for _, p := range wrong.List {
		c.showProblems(document.Problems{p}, wrong.Text(p.Place.File))
	}
}

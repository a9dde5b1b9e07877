package main

import (
	"errors"
	"fmt"

	"plumbline/schema/document"
)

// The exit codes.
const (
	exitClear   = 0
	exitBlocked = 1
	exitInput   = 2
	exitFailed  = 3
)

// exitError ends the program with a code. Without a cause everything was said already.
type exitError struct {
	code  int
	cause error
}

// Error returns the cause's text.
func (e *exitError) Error() string {
	if e.cause == nil {
		return fmt.Sprintf("exit %d", e.code)
	}
	return e.cause.Error()
}

// Unwrap returns the cause.
func (e *exitError) Unwrap() error { return e.cause }

// inputError says that the input or the command line is wrong.
func inputError(format string, args ...any) error {
	return &exitError{exitInput, fmt.Errorf(format, args...)}
}

// failure says that a pack is wrong or the program failed.
func failure(err error) error { return &exitError{exitFailed, err} }

// exit prints what is left to say and returns the exit code. Errors without a
// code come from the reading of the command line.
func (c *Command) exit(err error) int {
	if err == nil {
		return exitClear
	}
	var e *exitError
	if !errors.As(err, &e) {
		fmt.Fprintf(c.Stderr, "plumbline: %s\nplumbline help lists the verbs, plumbline help VERB the flags of one.\n", err.Error())
		return exitInput
	}
	var problems document.Problems
	switch {
	case errors.As(err, &problems):
		c.showProblems(problems, nil)
	case e.cause != nil:
		fmt.Fprintf(c.Stderr, "plumbline: %s\n", e.cause.Error())
	}
	return e.code
}

// crash says that the program itself broke.
func crash(r any) string {
	return fmt.Sprintf("plumbline: the program failed: %v\nThis is a fault of the program, not of the design; nothing it printed may be relied on.", r)
}

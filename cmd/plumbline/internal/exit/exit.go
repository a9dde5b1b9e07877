// Package exit holds what a run comes to: the exit codes, and errors that end it with one.
//
//	return exit.InputError("%s cannot be read: %v", name, err) // the run ends with code 2
package exit

import "fmt"

// The exit codes.
const (
	// Clear: nothing blocks.
	Clear = 0
	// Blocked: a finding blocks.
	Blocked = 1
	// Input: the input or the command line is wrong.
	Input = 2
	// Failed: a pack is wrong or the program failed.
	Failed = 3
)

// Error ends the program with a code. Without a cause everything was said already.
type Error struct {
	Code  int
	Cause error
}

// Error returns the cause's text.
func (e *Error) Error() string {
	if e.Cause == nil {
		return fmt.Sprintf("exit %d", e.Code)
	}
	return e.Cause.Error()
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Cause }

// InputError says that the input or the command line is wrong.
func InputError(format string, args ...any) error {
	return &Error{Input, fmt.Errorf(format, args...)}
}

// Failure says that a pack is wrong or the program failed.
func Failure(err error) error { return &Error{Failed, err} }

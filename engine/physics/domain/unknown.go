package domain

import (
	"fmt"
	"strings"
)

// UnknownName says that a table has no row of this name, and which it has.
type UnknownName struct {
	Table string
	Name  string
	Known []string
}

// Error lists the names that may be written instead.
func (e *UnknownName) Error() string {
	return fmt.Sprintf("%s has no %q: write one of %s", e.Table, e.Name, strings.Join(e.Known, ", "))
}

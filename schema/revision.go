package schema

import (
	"fmt"
	"hash/fnv"
)

// Revision is a short mark of what a design states: it changes with any fact, and with nothing else. Papers carry it, so that
// two of one design can be told apart.
func Revision(d *Design) string {
	sum := fnv.New32a()
	WalkAll(d, func(v Visit) {
		if v.Reading != nil && IsStated(v.Reading) {
			fmt.Fprintln(sum, v.Path, v.Reading.Text())
		}
		if v.Optional != nil {
			fmt.Fprintln(sum, v.Path, v.Optional.Presence())
		}
	})
	return fmt.Sprintf("%08x", sum.Sum32())
}

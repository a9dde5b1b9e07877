package circuit

import (
	"testing"
)

// ABYC E-11: CM = K I L / E with K = 10.75.
func TestABYCArea(t *testing.T) {
}

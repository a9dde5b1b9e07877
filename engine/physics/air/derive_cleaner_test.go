package air_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine/physics/air"
)

func TestSoundSpeedFollowsFromTheGasConstant(t *testing.T) {
	assert.InDelta(t, math.Sqrt(1.4*air.GasConstant*293.15), air.SoundSpeed, 0.1)
}

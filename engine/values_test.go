package engine

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Noughts before the point belong to the number, those behind it do not.
func TestPlainNumber(t *testing.T) {
	for f, want := range map[float64]string{
		320.4: "320", 399.99999: "400", 1250.4: "1250", 25.04: "25", 2.5: "2.5", 0.1004: "0.1", 100: "100", -320.4: "-320", 0.0123: "0.0123", 99999.6: "100000",
	} {
		assert.Equal(t, want, plainNumber(f))
	}
}

func TestSpoken(t *testing.T) {
	for word, want := range map[string]string{
		"sae_j30_r9": "SAE J30 R9", "iso_19013_2": "ISO 19013-2", "din_73379": "DIN 73379", "astm_a254": "ASTM A254",
		"flare_37deg": "flare 37 deg", "engine_bay": "engine bay", "square_wave_5v": "square wave 5v", "unmarked": "unmarked",
		"flare_45deg_nut": "flare 45 deg nut", "unf_9_16_18": "9/16-18 UNF", "un_1_1_16_12": "1 1/16-12 UN", "m8_1": "M8 x 1", "m14_1_5": "M14 x 1.5", "npt_1_4": "1/4 NPT",
	} {
		assert.Equal(t, want, spoken(word))
	}
}

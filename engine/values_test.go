package engine

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPlainNumber(t *testing.T) {
	for want, of := range map[string]float64{
		"220": 220.4, "10": 10.04, "9.9": 9.9, "120": 119.8, "0.05": 0.05, "7.5": 7.5, "-150": -149.7, "100": 100, "3.33": 10.0 / 3,
	} {
		assert.Equal(t, want, plainNumber(of), of)
	}
}

func TestSpoken(t *testing.T) {
	for word, want := range map[string]string{
		"sae_j30_r9": "SAE J30 R9", "iso_19013_2": "ISO 19013-2", "din_73379": "DIN 73379", "astm_a254": "ASTM A254",
		"flare_37deg": "flare 37 deg", "engine_bay": "engine bay", "square_wave_5v": "square wave 5v", "unmarked": "unmarked",
	} {
		assert.Equal(t, want, spoken(word))
	}
}

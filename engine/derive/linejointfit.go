package derive

import "strings"

// The ways two ends go together. noFit is what two ends do that do not: an
// adapter is needed between them.
const (
	hoseOnSpigot   = "hose_on_spigot"
	flared         = "flared"
	screwed        = "screwed"
	banjoBolted    = "banjo_bolted"
	quickConnected = "quick_connected"
	compressed     = "compressed"
	solderedFit    = "soldered"
	noFit          = "no_fit"
)

func fits() []string {
	return []string{hoseOnSpigot, flared, screwed, banjoBolted, quickConnected, compressed, solderedFit, noFit}
}

// fitOf says how two ends go together, by what each joins by. The order of the
// two does not matter. A nut and a cone count as flared whatever their systems:
// whether the angles agree is a question of its own.
func fitOf(a, b string) string {
	for _, x := range [][2]string{{a, b}, {b, a}} {
		switch one, other := x[0], x[1]; {
		case one == "hose" && other == "spigot":
			return hoseOnSpigot
		case isNut(one) && isCone(other):
			return flared
		case one == "thread_male" && other == "thread_female":
			return screwed
		case one == "banjo" && other == "thread_female":
			return banjoBolted
		case one == "quick_connector" && other == "quick_connector_pipe":
			return quickConnected
		case one == "compression" && other == "spigot":
			return compressed
		case one == "soldered" && other == "soldered":
			return solderedFit
		}
	}
	return noFit
}

func isNut(kind string) bool {
	return strings.HasSuffix(kind, "flare_nut") || strings.HasSuffix(kind, "deg_nut")
}

func isCone(kind string) bool {
	return strings.HasSuffix(kind, "deg_cone") || strings.HasSuffix(kind, "flare_seat")
}

// zoneOrder ranks the places a line lies in by the way from tank to engine;
// false for cabin and boot, which may lie anywhere on it.
func zoneOrder(zone string) (int, bool) {
	rank, ok := map[string]int{"in_tank": 0, "tank_side": 1, "frame": 2, "engine_bay": 3}[zone]
	return rank, ok
}

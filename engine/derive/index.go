package derive

import (
	"slices"
	"strings"
	"sync"
)

// Index holds all entries by part and name.
type Index struct {
	entries []*Entry
	byName  map[string]map[string]*Entry
	byPart  map[string][]*Entry
	// slots counts the results that each family, the entries of one part, can
	// have; that of family 0 is for entries of no index.
	slots []int
}

// All returns the index of every derived value there is.
func All() *Index { return all() }

var all = sync.OnceValue(func() *Index {
	x := &Index{byName: map[string]map[string]*Entry{}, byPart: map[string][]*Entry{}, slots: []int{0}}
	for _, family := range [][]Entry{
		lineJointEntries(), jointPressureEntries(),
		demandEntries(), fuelEntries(), airEntries(), engineEntries(),
		supplyEntries(), slowedEntries(), secondTankEntries(), vapourEntries(), runEntries(),
		batteryEntries(), crankingEntries(), conversionEntries(), chargingEntries(), chargeCableEntries(), wireEntries(), jointEntries(), groundPathEntries(), circuitEntries(), connectorEntries(), protectionEntries(), poweredEntries(), wireVoltageEntries(), offsetEntries(),
		injectorEntries(), oxygenEntries(), ignitionEntries(), passageEntries(), sensingEntries(), thermistorEntries(), deviationEntries(),
		correctionEntries(), stillEntries(), fuelPathEntries(), pumpWayEntries(), vehicleEntries(), heldEntries(),
	} {
		for i := range family {
			e := &family[i]
			for _, p := range Points() {
				e.at[p] = e.below(p)
			}
			if x.byName[e.On] == nil {
				x.byName[e.On] = map[string]*Entry{}
				x.slots = append(x.slots, 0)
				e.family = len(x.slots) - 1
			} else {
				e.family = x.byPart[e.On][0].family
			}
			e.slot = x.slots[e.family]
			x.slots[e.family]++
			if e.PerPoint {
				x.slots[e.family] += len(Points()) - 1
			}
			x.byName[e.On][e.Name] = e
			x.entries = append(x.entries, e)
			x.byPart[e.On] = append(x.byPart[e.On], e)
		}
	}
	return x
})

// Entries lists every derived value in the order of declaration.
func (x *Index) Entries() []*Entry { return x.entries }

// Of lists the derived values of one schema type.
func (x *Index) Of(on string) []*Entry { return slices.Clip(x.byPart[on]) }

// Find returns one entry, or nil.
func (x *Index) Find(on, name string) *Entry { return x.byName[on][name] }

// Called is what a value of the whole design is in words, with its operating point: of at.idle.pump_voltage "voltage at the
// pump, at idle". Of a name there is not, the name.
func Called(path string) string {
	rest := strings.TrimPrefix(path, "at.")
	point, name, at := strings.Cut(rest, ".")
	if !at {
		name = rest
	}
	e := All().Find("Design", name)
	if e == nil {
		return path
	}
	words, _, _ := strings.Cut(e.Meaning, ";")
	if at {
		words += ", at " + strings.ReplaceAll(point, "_", " ")
	}
	return words
}

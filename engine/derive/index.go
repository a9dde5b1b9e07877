package derive

import "sync"

// Index holds all entries by part and name.
type Index struct {
	entries []*Entry
	byName  map[string]map[string]*Entry
}

// All returns the index of every derived value there is.
func All() *Index { return all() }

var all = sync.OnceValue(func() *Index {
	x := &Index{byName: map[string]map[string]*Entry{}}
	for _, family := range [][]Entry{
		demandEntries(), fuelEntries(), airEntries(),
		supplyEntries(), vapourEntries(), runEntries(),
		chargingEntries(), wireEntries(), circuitEntries(), protectionEntries(), poweredEntries(), offsetEntries(),
		injectorEntries(), oxygenEntries(), ignitionEntries(), passageEntries(), sensingEntries(), deviationEntries(),
	} {
		for i := range family {
			e := &family[i]
			if x.byName[e.On] == nil {
				x.byName[e.On] = map[string]*Entry{}
			}
			x.byName[e.On][e.Name] = e
			x.entries = append(x.entries, e)
		}
	}
	return x
})

// Entries lists every derived value in the order of declaration.
func (x *Index) Entries() []*Entry { return x.entries }

// Of lists the derived values of one schema type.
func (x *Index) Of(on string) []*Entry {
	var out []*Entry
	for _, e := range x.entries {
		if e.On == on {
			out = append(out, e)
		}
	}
	return out
}

// Find returns one entry, or nil.
func (x *Index) Find(on, name string) *Entry { return x.byName[on][name] }

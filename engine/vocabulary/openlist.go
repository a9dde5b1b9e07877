package vocabulary

import (
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/common/types/traits"
)

// openList is a list of which some items are not known yet: they stand in it as
// unknowns. What goes through its items sees them; how many there are and which
// stands where nobody knows.
type openList struct {
	traits.Lister
	missing ref.Val // every unknown item
}

// listOf makes a list of items; open when some are unknown.
func listOf(items []ref.Val) ref.Val {
	list := types.NewRefValList(types.DefaultTypeAdapter, items)
	var missing *types.Unknown
	for _, x := range items {
		if u, ok := x.(*types.Unknown); ok {
			missing = types.MergeUnknowns(missing, u)
		}
	}
	if missing == nil {
		return list
	}
	return &openList{list, missing}
}

// Size is unknown.
func (l *openList) Size() ref.Val { return l.missing }

// Get is unknown, wherever it looks.
func (l *openList) Get(ref.Val) ref.Val { return l.missing }

// ItemsOf lists the items of a list, those not known yet as unknowns; not ok
// for what is no list.
func ItemsOf(v ref.Val) (items []ref.Val, ok bool) {
	list, ok := v.(traits.Lister)
	if !ok {
		return nil, false
	}
	for it := list.Iterator(); it.HasNext() == types.True; {
		items = append(items, it.Next())
	}
	return items, true
}

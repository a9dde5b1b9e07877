package page

import "plumbline/schema/quantity"

// UnitKeys are the units that there are keys for.
func UnitKeys() map[quantity.Dimension][]string { return unitKeys }

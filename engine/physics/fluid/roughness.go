package fluid

import (
	"sync"

	"plumbline/engine/physics/domain"
)

// Wall is the absolute roughness of a pipe material: the figure to compute
// with and the range published for it, m.
type Wall struct {
	Material  string
	Roughness float64
	Low, High float64
	Source    string
}

var walls = sync.OnceValue(func() []Wall {
	const moody = "Moody chart tables, as in White, Fluid Mechanics (table number 6.1 from memory)"
	return []Wall{
		{"drawn_tube", 1.5e-6, 1e-6, 2e-6, moody + " (drawn brass, copper, aluminium, glass)"},
		{"plastic", 1.5e-6, 1.5e-6, 7e-6, "handbook roughness tables (plastic, PVC)"},
		{"stainless_drawn", 2e-6, 1.5e-6, 3e-6, moody + " (drawn stainless steel); range from memory"},
		{"steel_drawn", 3e-6, 1.5e-6, 1e-5, moody + " (drawn tubing 0.0015 mm); twice that for brazed double-wall tube is practice"},
		{"rubber_smooth", 1e-5, 0.4e-5, 1.6e-5, moody + " (rubber, smoothed, 60 per cent); range from memory"},
		{"rubber_hose", 3e-5, 0.6e-5, 7e-5, "process handbook table (rubber hose); range from memory"},
		{"steel_welded", 4.5e-5, 4.5e-5, 9e-5, moody + " (commercial and welded steel)"},
		{"steel_galvanized", 1.5e-4, 1e-4, 2e-4, moody + " (galvanised iron); range from memory"},
		{"cast_iron", 2.6e-4, 1.3e-4, 3.9e-4, moody + " (cast iron); range from memory"},
	}
})

// WallOf returns the row of a material, or *domain.UnknownName with the
// materials there are. Convoluted hose has no row: its loss is two to four
// times that of a smooth bore (from memory), so state its own data, or use
// Element.FrictionMultiplier.
func WallOf(material string) (Wall, error) {
	for _, wall := range walls() {
		if wall.Material == material {
			return wall, nil
		}
	}
	var known []string
	for _, wall := range walls() {
		known = append(known, wall.Material)
	}
	return Wall{}, &domain.UnknownName{Table: "the table of pipe walls", Name: material, Known: known}
}

package schema

// Ranges lists the facts that are stated as ranges.
func (d *Design) Ranges() []Reading {
	var out []Reading
	Walk(d, func(v Visit) {
		if v.Reading.Ranged() {
			out = append(out, v.Reading)
		}
	})
	return out
}

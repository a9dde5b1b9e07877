// Package jsonschemagen makes the committed JSON Schemas from Go types.
//
// Make reflects one root type: descriptions come from the Go comments, facts and quantities become strings with the
// pattern of their dimension, parts that may be absent become "none or the part". A schema of plain Go types, such as
// a report, needs nothing but its entry; quantities in it (quantity.Of) are understood.
//
//	text, err := jsonschemagen.Make("/src/plumbline", jsonschemagen.Entry{
//		File: "schema/design.schema.json", Title: "A conversion design", Root: schema.Design{}, Required: []string{"plumbline"},
//	})
//
// It reads the Go sources, so it is for the generator and its test, not for the program.
package jsonschemagen

// Package words says how people speak of the facts of a design: a row for every fact and for every word a fact may
// take.
//
// A row holds a short label, the forms people say, how a number said without a name finds its fact, where the answer is
// found (in the customer's memory, by eye, on a label, in papers, by tape or meter, in the maker's sheet), how to find it, what a
// normal answer looks like and what happens while it stays unknown:
//
//	row := words.Of("Pump", "rated_flow")
//	row.Label  // pump flow on the label
//	row.Where  // label
//	for _, hit := range words.Said("frame rail") { ... }  // frame_rail of Pump.place, Regulator.place and others
//
// A fact is named by the type of its part and its key, so that one row serves the same fact everywhere: Run.bore is
// that of every hose and tube of suction, feed and return. The rows are data, data/*.txt, one a line, in the order of
// the schema:
//
//	Part.key | label | spoken; spoken | bare | where | how to find it | a normal answer | while it is unknown
//	  value | label | spoken; spoken
//
// bare says when a number said with its unit alone is this fact: `here`, where its part is named; `anywhere`, also
// where no part is; either with the span it must lie in; `after` other facts, where it follows one of these. A value is
// a word of the schema, or the text of an answer that has a name of its own: `8 | eight | v8` of the cylinders.
//
// A star behind the place where the answer is found marks the figures by which such a part is bought: a pump by its flow.
//
// A form in brackets is one that answers the question and is not taken for the fact in a list of parts: (installed) of
// the stage.
//
// The package knows nothing of the schema, which uses it; a test of it holds the two together.
package words

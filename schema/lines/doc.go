// Package lines reads a list of parts as people write it, one thing a line, into a design:
//
//	r := lines.Read("pump 255 lph @ 43 psi in tank\nhose 3/8 R9 15 ft\nno return\n")
//	r.Lines[0].Understood // pump.rated_flow = 255 lph, pump.rated_pressure = 43 psi, pump.place = in_tank
//	r.YAML()              // the text of a design that schema.Load reads
//
// The table of package words is all it knows of the trade. A noun names the part, a number goes to the fact of that
// part that has its dimension, a word to the fact whose spoken form it is. Commas part the line; what names no part of
// its own goes on about the part before. A piece of hose or tube without another word is one of the feed.
//
// Nothing is guessed and nothing is dropped: a number that fits two facts is left with both named, and every character
// of the text is in one of the pieces of its line, understood, left, or of no meaning (the, a comma). What is taken by
// custom, inches of a bare 3/8 and AWG of 18 gauge, says so.
package lines

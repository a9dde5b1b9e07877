// Package drawing draws what papers hold as SVG: ways as profiles along a path, scales of a number against its limit.
//
//	svg := drawing.Way(way, drawing.Options{Width: 760, ID: "fuel"})
//
// A drawing is black on white, or whatever the text around it is: it uses the colour of the text and no other, so it reads the
// same on paper, on a dark screen and where colours are forced. Symbols show what the parts are. What is not known is drawn with
// broken lines and a question mark, what is wrong is hatched and bears the number of the finding. Text is text, and each drawing
// has a title and a description; the same figures stand in a table on the paper.
package drawing

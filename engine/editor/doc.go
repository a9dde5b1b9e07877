// Package editor answers what an editor asks of a text: what is wrong with it and where, what the thing under the cursor
// is, and what could be written there. It knows no protocol and opens no file.
//
//	shop := editor.NewShop(library, failures)
//	marks := editor.Judged(report, design)           // findings, at their places
//	hover := shop.Hover(editor.Design, text, offset) // what stands there
//	items := shop.Complete(editor.Design, text, offset)
//
// While somebody types the text is broken most of the time. So nothing here needs the whole of it: what stands at the
// cursor is found in the text up to it, closed as it would have to be (Spot).
//
// Offsets count bytes. What is told stands in the records of package glossary and in the JSON Schemas.
package editor

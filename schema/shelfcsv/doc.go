// Package shelfcsv reads a supplier's list of parts, a table in CSV, into a file of a shelf.
//
// The first line names the columns. A column is a fact of the part's kind by any of the forms that package words has for it, with its
// unit in brackets where the cells hold numbers alone; or it is the part's name, title, kind, price, stock, or where and when it was
// read. What is not understood is told with its place, and stands in the file as a remark.
//
//	out, err := shelfcsv.Read("pumps.csv", data, shelfcsv.Options{Kind: "pump", ReadFrom: "list", ReadOn: "2026-11-28"})
//	out.Files[0]   // text of a file of a shelf
//	out.NotUnderstood // with line and column
package shelfcsv

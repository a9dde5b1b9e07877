// Package pack is what a file of rules says: its types, and reading one strictly, with the place of every part and every
// problem of the file at once. It knows nothing of how rules are compiled or judged.
//
//	p, r := pack.Read("house/pumps.yaml", data)
//	r.Problems // what is wrong with it
package pack

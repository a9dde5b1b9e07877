// Package explain says what a name means and how it came out in a design.
//
// An explanation has three depths: one sentence; the working, which is the
// formula with the numbers put in, ten lines at most; and the tree of all that
// was read, which [derive.Session.Explain] and [engine.Library.Account] give.
//
//	s := lib.Session(design, options)
//	v := explain.NewWorkings(s, quantity.Both).Value(entry, part, point, explain.MostLines)
//	for _, line := range v.Working {
//		fmt.Println(line)
//	}
//
// Words that name nothing are searched for with [Index.Search].
package explain

// Package interview fills in a design by questions: first those whose answers
// decide most.
//
// A Session holds the text of one design file. It judges the design so far,
// asks for the missing fact that matters most, takes an answer in the words a
// design file would use, puts it into the text and judges again:
//
//	s, err := interview.Begin(interview.Options{File: "van.yaml", Text: text, Judge: judge})
//	for q := s.Question(); q != nil; q = s.Question() {
//		reply := s.Answer(line)
//		if reply.Changed {
//			save(s.Text())
//		}
//	}
//
// The order is that of engine.Rank. Of a planned job judged with patterns first
// comes what decides on the parts that are bought: what somebody remembers,
// sees, reads off a label, in this order. Then the few questions each design
// begins with, and the rest: what is due by the job's next stage before what
// can only be known later, grave dangers first, then what settles most; what
// has to be brought or measured after what is at hand. What only the maker's
// sheet tells is not asked of a planned job, unless all is asked for. A part
// that may be absent is asked for before its facts, a list before those of its
// items.
//
// An answer may say more than was asked, as a label or a parts list does: 255
// lph @ 43 psi. It is read by package lines, and what was understood is told.
//
// Whatever is answered, the text loads: an answer the file's reader refuses
// is refused here, in the reader's words. The package opens no files and
// knows no terminal.
package interview

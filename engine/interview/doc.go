// Package interview fills in a design by questions: the ones whose answers
// settle most rules first.
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
// What is due by the job's next stage is asked before what can only be known
// later; within each, dangers of fire and of losing control come first, then
// what settles most. A part that may be absent is asked for before its facts,
// a list before those of its items.
//
// Whatever is answered, the text loads: an answer the file's reader refuses
// is refused here, in the reader's words. The package opens no files and
// knows no terminal.
package interview

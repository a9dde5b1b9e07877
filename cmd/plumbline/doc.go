// Plumbline judges conversion designs: arguments in, reports out.
//
// Command is the program as a value; its streams, clock and rule library are
// fields, so tests run it in process. Each verb has a file of its own.
//
// Exit codes:
//
//	0  nothing blocks
//	1  a finding blocks
//	2  the input or the command line is wrong
//	3  a pack is wrong or the program failed
//
// When several hold, the highest is returned.
package main

// Package report writes what the engine found, for people and for programs.
//
// Every writer is a function from reports to bytes: the same reports give the
// same bytes. None reads a clock, a terminal or a file.
//
//	report.Text(w, reports, report.TextOptions{Width: 80})
//	report.JSON(w, reports, about)
//	report.SARIF(w, reports, about)
//	report.Markdown(w, reports)
//	report.NewProgress("before.json", stored, reports, about).Text(w, report.TextOptions{})
//
// Texts that come from a design are stripped of control characters before they
// are printed, so a design cannot drive the reader's terminal.
package report

package main

import (
	"io"
	"os"
	"strconv"

	"plumbline/cmd/plumbline/internal/plain"
	"plumbline/engine/report"
)

// isTerminal reports whether a stream is a terminal.
func isTerminal(stream io.Writer) bool {
	f, ok := raw(stream).(*os.File)
	if !ok {
		return false
	}
	return columns(f) > 0
}

// raw is the stream below the writer that everything goes through.
func raw(stream io.Writer) io.Writer {
	if w, ok := stream.(*plain.Writer); ok {
		return w.Raw()
	}
	return stream
}

// width is the line length to print at: the one asked for, the terminal's, or the default.
func (c *Command) width(asked int) int {
	if asked > 0 {
		return asked
	}
	if f, ok := raw(c.Stdout).(*os.File); ok {
		if n := columns(f); n > 0 {
			return min(n, report.DefaultWidth)
		}
	}
	if n, err := strconv.Atoi(c.Getenv("COLUMNS")); err == nil && n > 0 {
		return n
	}
	return report.DefaultWidth
}

// coloured decides between always, never and auto.
func (c *Command) coloured(choice string) bool {
	switch choice {
	case "always":
		c.mode.Colours = true
	case "auto":
		c.mode.Colours = isTerminal(c.Stdout) && c.Getenv("NO_COLOR") == "" && c.Getenv("TERM") != "dumb"
	}
	return c.mode.Colours
}

//go:build !linux && !darwin

package main

import "os"

// columns gives the usual width of a character device; 0 when the file is none.
func columns(f *os.File) int {
	if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
		return 80
	}
	return 0
}

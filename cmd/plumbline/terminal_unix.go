//go:build linux || darwin

package main

import (
	"os"
	"syscall"
	"unsafe"
)

// columns asks a terminal for its width; 0 when the file is no terminal.
func columns(f *os.File) int {
	var size struct{ rows, columns, x, y uint16 }
	_, _, errno := syscall.Syscall(syscall.SYS_IOCTL, f.Fd(), syscall.TIOCGWINSZ, uintptr(unsafe.Pointer(&size)))
	if errno != 0 {
		return 0
	}
	if size.columns == 0 {
		return 80
	}
	return int(size.columns)
}

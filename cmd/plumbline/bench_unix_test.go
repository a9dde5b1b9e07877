//go:build linux

package main

import (
	"os"
	"runtime/debug"
	"syscall"
)

// forgetPeak gives memory back and forgets the most that was held: Linux counts what a process held when it started another to
// the other one.
func forgetPeak() {
	debug.FreeOSMemory()
	_ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0)
}

// maxResident is the largest memory the process held, in bytes.
func maxResident(p *os.ProcessState) int64 {
	if u, ok := p.SysUsage().(*syscall.Rusage); ok {
		return u.Maxrss * 1024
	}
	return 0
}

//go:build linux

package main

import (
	"os"
	"syscall"
)

// maxResident is the largest memory the process held, in bytes.
func maxResident(p *os.ProcessState) int64 {
	if u, ok := p.SysUsage().(*syscall.Rusage); ok {
		return u.Maxrss * 1024
	}
	return 0
}

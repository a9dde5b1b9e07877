//go:build unix

package shop

import (
	"io/fs"
	"os"
	"syscall"
)

// lockFile takes a file for this process alone, until it is closed or the process ends.
func lockFile(f *os.File) error {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
}

// fileID tells a file from the one that took its place.
func fileID(info fs.FileInfo) uint64 {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return s.Ino
	}
	return 0
}

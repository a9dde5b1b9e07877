//go:build unix

package shop

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// lockFile takes a file for this process alone, until it is closed or the process ends; the error says that another has it. Where
// the file system knows no locks it takes nothing.
func lockFile(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return err
	}
	return nil
}

// fileID tells a file from the one that took its place.
func fileID(info fs.FileInfo) uint64 {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return s.Ino
	}
	return 0
}

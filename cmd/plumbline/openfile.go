package main

import (
	"fmt"
	"io/fs"
	"os"
)

// openFile opens a plain file. A pipe or a device would keep the program waiting, or never end.
func openFile(name string) (*os.File, error) {
	info, err := os.Stat(name)
	if err == nil {
		err = plainFile(name, info)
	}
	if err != nil {
		return nil, err
	}
	return os.Open(name)
}

// plainFile refuses what is no plain file; the error reads like those of the system.
func plainFile(name string, info fs.FileInfo) error {
	what := ""
	switch mode := info.Mode(); {
	case mode.IsRegular():
		return nil
	case mode.IsDir():
		what = "it is a folder"
	case mode&fs.ModeNamedPipe != 0:
		what = "it is a pipe"
	case mode&fs.ModeDevice != 0:
		what = "it is a device"
	case mode&fs.ModeSocket != 0:
		what = "it is a socket"
	default:
		what = "it is no plain file"
	}
	return &fs.PathError{Op: "open", Path: name, Err: fmt.Errorf("%s, and only files are read", what)}
}

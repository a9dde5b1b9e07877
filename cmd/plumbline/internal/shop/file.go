package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// OpenFile opens a plain file. A pipe or a device would keep the program waiting, or never end.
func OpenFile(name string) (*os.File, error) {
	info, err := os.Stat(name)
	if err == nil {
		err = PlainFile(name, info)
	}
	if err != nil {
		return nil, err
	}
	return os.Open(name)
}

// PlainFile refuses what is no plain file; the error reads like those of the system.
func PlainFile(name string, info fs.FileInfo) error {
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

// Reason is the system's reason without the operation and the name.
func Reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

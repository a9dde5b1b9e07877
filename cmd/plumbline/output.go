package main

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/plain"
	"plumbline/cmd/plumbline/internal/shop"
)

// into hands write where the report goes: the standard output, or a file beside the one of that name, which takes its
// place once everything is written. A run that breaks off leaves what was there.
func (c *Command) into(name string, write func(w io.Writer) error) error {
	if name == "" {
		return written(write(told{c.Stdout}), "the report")
	}
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real // what a link leads to is replaced, not the link
	}
	mode := fs.FileMode(0o644)
	switch info, err := os.Stat(name); {
	case err == nil && info.IsDir():
		return exit.InputError("%s cannot be written: is a directory", name)
	case err == nil && !info.Mode().IsRegular():
		return c.intoDevice(name, write)
	case err == nil:
		if f, err := os.OpenFile(name, os.O_WRONLY, 0); err != nil {
			return exit.InputError("%s cannot be written: %v", name, shop.Reason(err))
		} else if err := f.Close(); err != nil {
			return exit.InputError("%s cannot be written: %v", name, shop.Reason(err))
		}
		mode = info.Mode().Perm()
	}
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+"-*")
	if err != nil {
		return exit.InputError("%s cannot be written: %v", name, shop.Reason(err))
	}
	b := bufio.NewWriter(plain.New(told{f}, &c.mode))
	err = write(b)
	if err = cmp.Or(err, b.Flush(), f.Chmod(mode), f.Close()); err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		_ = f.Close()
		_ = os.Remove(f.Name())
	}
	return written(err, name)
}

// intoDevice writes to what cannot be replaced, such as a pipe.
func (c *Command) intoDevice(name string, write func(w io.Writer) error) error {
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return exit.InputError("%s cannot be written: %v", name, shop.Reason(err))
	}
	b := bufio.NewWriter(plain.New(told{f}, &c.mode))
	return written(cmp.Or(write(b), b.Flush(), f.Close()), name)
}

// told marks what goes wrong in writing, to tell it from what goes wrong in judging.
type told struct{ io.Writer }

type writeError struct{ error }

// Write writes.
func (t told) Write(p []byte) (int, error) {
	n, err := t.Writer.Write(p)
	if err != nil {
		err = writeError{err}
	}
	return n, err
}

// written says what could not be written.
func written(err error, name string) error {
	if w, failed := err.(writeError); failed {
		return exit.Failure(fmt.Errorf("%s cannot be written: %w", name, shop.Reason(w.error)))
	}
	return err
}

package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"iter"
	"path/filepath"
	"strconv"
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/schema/document"
)

// designs goes through the designs of inputs, one after the other: a file with a design on each line is several.
func (c *Command) designs(list []shop.Input) iter.Seq[shop.Input] {
	return func(yield func(shop.Input) bool) {
		for _, in := range list {
			switch {
			case in.Err == nil && in.Path == "":
				if !fromStdin(in, c.Stdin, yield) {
					return
				}
			case in.Err == nil && strings.EqualFold(filepath.Ext(in.Path), ".jsonl"):
				if !fromFile(in, yield) {
					return
				}
			case !yield(in):
				return
			}
		}
	}
}

// fromFile goes through the lines of a file.
func fromFile(in shop.Input, yield func(shop.Input) bool) bool {
	f, err := shop.OpenFile(in.Path)
	if err != nil {
		in.Err = exit.InputError("%s cannot be read: %v", in.Name, shop.Reason(err))
		return yield(in)
	}
	defer f.Close()
	return lines(in, bufio.NewReader(f), yield)
}

// fromStdin goes through the lines of the standard input when the first of them is a whole object of JSON; anything else
// is one design.
func fromStdin(in shop.Input, stdin io.Reader, yield func(shop.Input) bool) bool {
	r := bufio.NewReaderSize(stdin, document.MaxBytes+2)
	first, err := r.Peek(1)
	for n := 1; err == nil && first[len(first)-1] != '\n' && n < r.Size(); n = max(n+1, r.Buffered()) {
		if first, err = r.Peek(n); bytes.IndexByte(first, '\n') >= 0 {
			first = first[:bytes.IndexByte(first, '\n')+1]
		}
	}
	if trimmed := bytes.TrimSpace(first); bytes.HasPrefix(trimmed, []byte("{")) && json.Valid(trimmed) {
		return lines(in, r, yield)
	}
	in.Data, err = io.ReadAll(io.LimitReader(r, document.MaxBytes+1))
	if err != nil {
		in.Err = exit.InputError("%s cannot be read: %v", in.Name, shop.Reason(err))
	}
	return yield(in)
}

// lines goes through the lines that are not blank; each is called by its file and number.
func lines(in shop.Input, r *bufio.Reader, yield func(shop.Input) bool) bool {
	for n := 1; ; n++ {
		text, err := line(r)
		if err != nil && !errors.Is(err, io.EOF) {
			in.Err = exit.InputError("%s cannot be read: %v", in.Name, shop.Reason(err))
			return yield(in)
		}
		if len(bytes.TrimSpace(text)) > 0 && !yield(shop.Input{Name: in.Name + ":" + strconv.Itoa(n), Path: in.Path, File: in.Name, Line: n, Data: text}) {
			return false
		}
		if err != nil {
			return true
		}
	}
}

// line reads a line, but keeps no more of it than a design may be long and one byte.
func line(r *bufio.Reader) ([]byte, error) {
	var out []byte
	for {
		part, err := r.ReadSlice('\n')
		out = append(out, part[:min(len(part), document.MaxBytes+1-len(out))]...)
		if !errors.Is(err, bufio.ErrBufferFull) {
			return bytes.TrimRight(out, "\r\n"), err
		}
	}
}

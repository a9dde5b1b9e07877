package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"slices"
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine/report"
	"plumbline/schema/document"
)

// mostReport is how long a stored report may be: a complete design makes about 80 kB.
const mostReport = 64 << 20

// sinceLong is what check says of --since.
const sinceLong = "\n\nWith --since, check compares with a report that check --format json wrote earlier and shows what is new, what is mended and how much " +
	"stays. A finding is known again by the design's path, the rule and the name of what was judged (its place in the list when it has no name). " +
	"The exit code is 1 only when a new or worse finding blocks, with one exception: an old blocking finding with a danger of fire, poisoning or loss of " +
	"control keeps blocking and is shown under a heading of its own, because a stored report must not hide a fire."

// storedReport reads the report that --since names; nil when it names none.
func storedReport(name string) (*report.Document, error) {
	if name == "" {
		return nil, nil
	}
	f, err := shop.OpenFile(name)
	if err != nil {
		return nil, exit.InputError("the stored report %s cannot be read: %v", name, shop.Reason(err))
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.Size() > mostReport {
		return nil, exit.InputError("the stored report %s is longer than the %d bytes that are read", name, mostReport)
	}
	doc, err := report.Read(io.LimitReader(f, mostReport))
	var other report.OtherFormat
	switch {
	case errors.As(err, &other):
		return nil, exit.InputError("%s cannot be compared with: %w; store a new one with this program", name, err)
	case errors.Is(err, report.ErrTooLarge):
		return nil, exit.InputError("%s cannot be compared with: %w; store one of fewer designs", name, err)
	case err != nil:
		return nil, noReport(name, err.Error())
	}
	seen := map[string]bool{}
	for _, r := range doc.Reports {
		if file := path.Clean(strings.ReplaceAll(r.File, "\\", "/")); seen[file] {
			return nil, noReport(name, fmt.Sprintf("it holds %q twice", document.Cut(r.File)))
		} else {
			seen[file] = true
		}
	}
	return doc, nil
}

func noReport(name, why string) error {
	return exit.InputError("%s is no stored report: %s; write one with plumbline check --format json --output FILE", name, why)
}

// apart leaves a report out of the designs found in a folder.
func apart(list []shop.Input, name string) []shop.Input {
	stored, err := os.Stat(name)
	if name == "" || err != nil {
		return list
	}
	return slices.DeleteFunc(list, func(in shop.Input) bool {
		info, err := os.Stat(in.Path)
		return in.Found && err == nil && os.SameFile(info, stored)
	})
}

// spareStored refuses to write the report over the stored one.
func spareStored(output, since string) error {
	if output == "" || since == "" {
		return nil
	}
	out, err := os.Stat(output)
	if err != nil {
		return nil
	}
	if stored, err := os.Stat(since); err == nil && os.SameFile(out, stored) {
		return exit.InputError("--output names the stored report %s; write the report elsewhere", since)
	}
	return nil
}

package main

import (
	"errors"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/document"
)

// result is what became of one input: a report, or an error.
type result struct {
	input
	report *engine.Report
	err    error
	// files are those that were read: the design and what it is based on.
	files files
	// other is the kind of file it is when it is no design: pack, sources or catalogue.
	other string
}

// judgeAll reads and judges the inputs, several at once; results keep the order of the inputs.
func (c *Command) judgeAll(lib *engine.Library, list []input, o engine.Options) []result {
	results := make([]result, len(list))
	var next, done atomic.Int64
	progress := len(list) > 1 && isTerminal(c.Stderr)
	var wg sync.WaitGroup
	var printing sync.Mutex
	for range min(runtime.GOMAXPROCS(0), len(list)) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(list) {
					return
				}
				results[i] = c.judgeOne(lib, list[i], o)
				if n := done.Add(1); progress {
					printing.Lock()
					fmt.Fprintf(c.Stderr, "\r%d of %d designs judged", n, len(list))
					printing.Unlock()
				}
			}
		})
	}
	wg.Wait()
	if progress {
		fmt.Fprint(c.Stderr, "\r\x1b[K")
	}
	return results
}

// judgeOne reads and judges one input; a panic becomes an error of this input.
func (c *Command) judgeOne(lib *engine.Library, in input, o engine.Options) (r result) {
	r.input = in
	defer func() {
		if p := recover(); p != nil {
			r.report, r.err = nil, failure(fmt.Errorf("%s: %s", in.name, crash(p)))
		}
	}()
	var design *schema.Design
	if design, r.files, r.err = c.readDesign(in); r.err != nil {
		if in.found && len(r.files) > 0 {
			r.other = otherKind(in.name, r.files[0].data)
		}
		return r
	}
	r.report = lib.Judge(design, c.defaults(design, o))
	r.files.forget()
	return r
}

// otherKind names the kind of a file that says it is something else than a design; "" when it does not.
func otherKind(name string, data []byte) string {
	root, _ := document.Parse(name, data)
	if root == nil {
		return ""
	}
	kind := ""
	for i := 0; i+1 < len(root.Content); i += 2 {
		key := root.Content[i]
		if key.Kind != yaml.ScalarNode {
			continue
		}
		switch key.Value {
		case "plumbline":
			return ""
		case "pack", "sources", "catalogue":
			kind = key.Value
		case "runs":
			kind = "CI action"
		}
	}
	return kind
}

// showResult prints what is wrong with an input and returns its exit code.
func (c *Command) showResult(r *result) int {
	var problems document.Problems
	switch {
	case r.err == nil:
		return exitClear
	case r.other != "":
		fmt.Fprintf(c.Stderr, "%s is not judged: it is no design but a file of a %s\n", visible(r.name), r.other)
		return exitClear
	case errors.As(r.err, &problems):
		fmt.Fprintf(c.Stderr, "%s is not judged: it has %s\n", visible(r.name), counted(len(problems), "problem"))
		for _, p := range problems {
			c.showProblems(document.Problems{p}, r.files.text(p.Place.File))
		}
		return exitInput
	}
	return c.exit(r.err)
}

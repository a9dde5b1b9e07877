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

// result is what became of one input: a design, then its report, or an error.
type result struct {
	input
	design *schema.Design
	report *engine.Report
	err    error
	// files are those that were read: the design and what it is based on.
	files files
	// other is the kind of file it is when it is no design: pack, sources, catalogue, CI action or stored report.
	other string
}

// readAll reads the inputs, several at once; results keep the order of the inputs.
func (c *Command) readAll(list []input) []result {
	results := make([]result, len(list))
	c.inParallel(len(list), "read", func(i int) { results[i] = c.readOne(list[i]) })
	return results
}

// judgeAll judges what was read, several at once.
func (c *Command) judgeAll(lib *engine.Library, results []result, o engine.Options) {
	c.inParallel(len(results), "judged", func(i int) { c.judgeOne(lib, &results[i], o) })
}

// inParallel does n pieces of work on all cores; on a terminal it says how far it is.
func (c *Command) inParallel(n int, done string, do func(i int)) {
	var next, finished atomic.Int64
	progress := n > 1 && isTerminal(c.Stderr)
	var wg sync.WaitGroup
	var printing sync.Mutex
	for range min(runtime.GOMAXPROCS(0), n) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				do(i)
				if k := finished.Add(1); progress {
					printing.Lock()
					fmt.Fprintf(c.Stderr, "\r%d of %d designs %s", k, n, done)
					printing.Unlock()
				}
			}
		})
	}
	wg.Wait()
	if progress {
		fmt.Fprint(c.Stderr, "\r\x1b[K")
	}
}

// readOne reads one input.
func (c *Command) readOne(in input) (r result) {
	r.input = in
	defer r.caught()
	r.design, r.files, r.err = c.readDesign(in)
	switch {
	case r.err == nil || !in.found:
	case isReport(in.path):
		r.other = storedKind
	case len(r.files) > 0:
		r.other = otherKind(in.name, r.files[0].data)
	}
	return r
}

// judgeOne judges one input that could be read.
func (c *Command) judgeOne(lib *engine.Library, r *result, o engine.Options) {
	if r.design == nil {
		return
	}
	defer r.caught()
	r.report = lib.Judge(r.design, c.defaults(r.design, o))
	r.design = nil
	r.files.forget()
}

// caught makes a panic an error of its input.
func (r *result) caught() {
	if p := recover(); p != nil {
		r.design, r.report, r.err = nil, nil, failure(fmt.Errorf("%s: %s", r.name, crash(p)))
	}
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
	case r.other == storedKind:
		fmt.Fprintf(c.Stderr, "%s is not judged: it is a stored report\n", visible(r.name))
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

package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	dir := flag.String("dir", "../..", "root of the module to change")
	packages := flag.String("packages", "", "folders below the root, parted by commas")
	sample := flag.Int("sample", 40, "how many mutants to try; 0 for all")
	seed := flag.Int("seed", 1, "another seed draws another sample")
	timeout := flag.Duration("timeout", time.Minute, "of the tests on one mutant")
	within := flag.Duration("within", 0, "start no mutant after this time; 0 for no limit")
	least := flag.Float64("least", 100, "percent that must be noticed")
	only := flag.String("only", "", "only places whose file:line or line text contains this")
	bare := flag.Bool("bare", false, "without the tests of other packages")
	list := flag.Bool("list", false, "list the sample, run nothing")
	flag.Parse()
	root, err := filepath.Abs(*dir)
	if err != nil || *packages == "" {
		fmt.Fprintln(os.Stderr, "write -packages and folders below -dir, such as -packages schema/quantity")
		os.Exit(2)
	}
	t := trial{packages: strings.Split(*packages, ","), sample: *sample, seed: *seed, within: *within, only: *only, list: *list,
		bench: bench{root: root, timeout: *timeout, bare: *bare}}
	share, err := t.run()
	switch {
	case err != nil:
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	case share < *least:
		fmt.Fprintf(os.Stderr, "%.1f %% noticed, at least %g %% are asked for: add a test that fails on a survivor, or write it down in equal.txt with the reason why it makes no difference\n", share, *least)
		os.Exit(1)
	}
}

// trial is one run of the tool.
type trial struct {
	bench
	packages []string
	sample   int
	seed     int
	within   time.Duration
	only     string
	list     bool
}

// run tries the sample and returns the percentage noticed.
func (t *trial) run() (float64, error) {
	mutants, err := t.draw()
	if err != nil || t.list {
		return 100, err
	}
	if t.scratch, err = os.MkdirTemp("", "mutate"); err != nil {
		return 0, err
	}
	defer os.RemoveAll(t.scratch)
	start, clean := time.Now(), map[string]bool{}
	count := map[outcome]int{}
	tried := func() int { return count[survived] + count[noticed] + count[timedOut] }
	for _, m := range mutants {
		if t.sample > 0 && tried() == t.sample || t.within > 0 && time.Since(start) > t.within {
			break
		}
		if !clean[m.Package] {
			if err := t.clean(m.Package); err != nil {
				return 0, err
			}
			clean[m.Package] = true
		}
		result, err := t.try(m)
		if err != nil {
			return 0, err
		}
		count[result]++
		switch result {
		case survived:
			fmt.Printf("survived: %s:%d: %s\n    %s\n", m.File, m.Line, m.Change(), m.Text)
		case timedOut:
			fmt.Printf("timed out: %s:%d: %s\n", m.File, m.Line, m.Change())
		}
	}
	if tried() == 0 {
		return 0, fmt.Errorf("no mutant was tried: widen -packages, -only or -within")
	}
	fmt.Printf("%d mutants, %d noticed (%d of them by running out of time), seed %d\n", tried(), count[noticed]+count[timedOut], count[timedOut], t.seed)
	return 100 * float64(count[noticed]+count[timedOut]) / float64(tried()), nil
}

// draw lists the mutants in the order they are tried, those that make no
// difference left out.
func (t *trial) draw() ([]mutant, error) {
	same, err := readEquals("equal.txt")
	if err != nil {
		return nil, err
	}
	var all []mutant
	for _, folder := range t.packages {
		found, err := packagePlaces(t.root, folder)
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	if stale := same.stale(all, t.packages); len(stale) > 0 {
		return nil, fmt.Errorf("equal.txt: these fit no place any more: %s", strings.Join(stale, "; "))
	}
	var out []mutant
	for _, m := range shuffled(all, t.seed) {
		where := fmt.Sprintf("%s:%d: %s", m.File, m.Line, m.Text)
		if same.has(m) || !strings.Contains(where, t.only) {
			continue
		}
		out = append(out, m)
		if t.list && (t.sample == 0 || len(out) <= t.sample) {
			fmt.Printf("%s: %s\n", where, m.Change())
		}
	}
	fmt.Printf("%d places to change in %d packages\n", len(all), len(t.packages))
	return out, nil
}

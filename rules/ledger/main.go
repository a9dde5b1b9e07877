// Command ledger holds the editions of the library's packs to what they mean.
//
// rules/ledger.txt says what every rule, limit, table and assumption meant when the library was last released: a digest
// of the expressions, values and conditions, not of the texts, cases and sources. Run by go generate ./rules, the command
// raises the edition of each pack that means something else now (once, whatever happens until the next release), and the
// library's, and lists the changes in rules/CHANGES.md. A rule that is gone needs a line in rules/replaced.txt.
//
//	go run ./rules/ledger -release 2026-11-30    what stands now is released
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

func main() {
	folder := flag.String("folder", ".", "the rules folder")
	release := flag.String("release", "", "release the library as it stands, on this day")
	flag.Parse()
	if err := run(*folder, *release); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// run settles the editions and writes what follows from them; on a release it writes the ledger anew.
func run(folder, release string) error {
	if release != "" {
		if _, err := time.Parse(time.DateOnly, release); err != nil {
			return errors.New("write the day of the release as 2026-11-30")
		}
	}
	released, err := readLedger(filepath.Join(folder, ledgerFile))
	if err != nil {
		return err
	}
	now, err := readLibrary(os.DirFS(folder))
	if err != nil {
		return err
	}
	changes := compare(released, now)
	if err := settle(folder, released, now, changes); err != nil {
		return err
	}
	replaced, err := readReplaced(filepath.Join(folder, replacedFile))
	if err != nil {
		return err
	}
	if problems := check(released, now, changes, replaced); len(problems) > 0 {
		return errors.New(strings.Join(problems, "\n"))
	}
	log := filepath.Join(folder, changesFile)
	text, err := os.ReadFile(log)
	if err != nil {
		return err
	}
	if release == "" {
		return write(log, listed(string(text), summary(released, now, changes, replaced)))
	}
	now.Day = release
	if err := write(filepath.Join(folder, ledgerFile), now.String()); err != nil {
		return err
	}
	return write(log, closed(string(text), fmt.Sprintf("## Edition %d, %s\n\n%s", now.Edition, release, summary(released, now, changes, replaced)), now.Edition))
}

// write writes a file that has changed.
func write(name, text string) error {
	if old, err := os.ReadFile(name); err == nil && string(old) == text {
		return nil
	}
	return os.WriteFile(name, []byte(text), 0o644)
}

var block = regexp.MustCompile(`(?s)(<!-- changes -->\n).*?(<!-- end of changes -->\n)`)

// listed puts the changes since the last release into the change log.
func listed(log, changes string) string {
	return block.ReplaceAllLiteralString(log, "<!-- changes -->\n"+changes+"<!-- end of changes -->\n")
}

// closed makes the changes listed so far a section of their own.
func closed(log, section string, edition int) string {
	return block.ReplaceAllLiteralString(log, "<!-- changes -->\n"+nothing(edition)+"<!-- end of changes -->\n\n"+strings.TrimSpace(section)+"\n")
}

func nothing(edition int) string {
	return fmt.Sprintf("Nothing has changed its meaning since edition %d.\n", edition)
}

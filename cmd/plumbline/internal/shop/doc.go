// Package shop is a folder of a shop, opened: its settings, the packs and patterns it judges by, its designs with the
// templates they rest on, and the drafts it writes. It is all that the faces of the program share and the only package
// beside them that touches files; it prints nothing.
//
//	s := shop.New(shop.Built{Rules: rules.Files(), Image: rules.Image()}, os.Stdin)
//	lib, err := s.Open(nil)
//	design, read, err := s.Design(shop.Input{Name: "truck.yaml", Path: "truck.yaml"})
//	report := lib.Judge(design, s.Defaults(design, engine.Options{}))
package shop

import (
	"fmt"
	"io"
	"io/fs"
	"sync"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Built is what the program brings along.
type Built struct {
	// Rules is the built-in rule library.
	Rules fs.FS
	// Image is the library compiled beforehand; without it the packs are.
	Image []byte
	// Patterns are the built-in usual ways to build something; nil for none.
	Patterns fs.FS
	// Series are the sizes that things are made in, a file of them.
	Series []byte
	// Numbers are how the numbers of designs move and scatter, a file of it.
	Numbers []byte
}

// Shop is a shop with what the program brings along.
type Shop struct {
	Built
	// Settings are the shop's defaults; none hold until they are read.
	Settings Settings
	// ShelfDir is the folder of the parts that designs may name, "" for none.
	ShelfDir string
	// In is the folder whose designs are worked on where they lie, nil for none: names of templates are paths in it then.
	In *Folder
	// Wrong takes what is wrong with files of the shelf, once; the designs that name a part are told of it in a sentence.
	Wrong func(*Problems)
	// Warn takes what is to be told though the work goes on.
	Warn func(text string)

	stdin    io.Reader
	shelf    func() (*schema.Shelf, error)
	declared *schema.Declared
}

// Declared are the facts that the packs declare which were opened last; they count in the designs read after that.
func (s *Shop) Declared() *schema.Declared { return s.declared }

// New is a shop without settings. Designs called - are read from stdin.
func New(built Built, stdin io.Reader) *Shop {
	s := &Shop{Built: built, Wrong: func(*Problems) {}, Warn: func(string) {}, stdin: stdin}
	s.shelf = sync.OnceValues(s.readShelf)
	return s
}

// Again is another shop with the same settings; what it opens is its own.
func (s *Shop) Again() *Shop {
	again := New(s.Built, s.stdin)
	again.Settings, again.ShelfDir, again.Wrong, again.Warn = s.Settings, s.ShelfDir, s.Wrong, s.Warn
	return again
}

// Problems is what is wrong with files, with their texts at hand to show.
type Problems struct {
	List document.Problems
	// Text returns the text of a file of theirs, nil when it is not at hand.
	Text func(file string) []byte
	// Closing says what that means for the run, with its exit code.
	Closing error
}

// Error returns the closing words.
func (p *Problems) Error() string { return p.Closing.Error() }

// Unwrap returns the closing words and the problems.
func (p *Problems) Unwrap() []error { return []error{p.Closing, p.List} }

// wrongPacks says what is wrong with packs or patterns.
func wrongPacks(what string, list document.Problems, folders []fs.FS) error {
	return &Problems{List: list, Text: func(file string) []byte { return textIn(folders, file) },
		Closing: exit.Failure(fmt.Errorf("%s have %s", what, Counted(len(list), "problem")))}
}

// Counted writes a number with a noun that takes an s.
func Counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

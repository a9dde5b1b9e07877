package engine

import (
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"

	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/vocabulary"
	"plumbline/schema/document"
)

// Library is a set of packs, checked and compiled. It is safe for concurrent use.
type Library struct {
	packs       []*Pack
	rules       []*compiled
	cautions    []caution
	bindings    []*binding // of laws that rules for everywhere cite
	vocabulary  *vocabulary.Vocabulary
	assumptions map[string]any
	assumedBy   map[string]string // the pack of each
	// houseAssumed are the facts that local packs assume.
	houseAssumed []string
	grounds      map[string][]Ground // of assumptions
	files        map[string]*reader  // by pack name
	compilers    map[string]*compiler
	regions      map[string]*Region
	steps        map[string][]LimitStep // changes of limits, by full name
	loosened     []Loosened
	shared       Named[Source] // the sources every pack may cite, from sources.yaml
	edition      int           // of the library, from sources.yaml
	order        []string      // the names of all rules, sorted
}

// Packs lists the packs in order of their names.
func (l *Library) Packs() []*Pack { return l.packs }

// Shared lists the sources every pack may cite, those of sources.yaml.
func (l *Library) Shared() Named[Source] { return l.shared }

// Edition is the edition of the library, which its sources.yaml states; 0 when it states none.
func (l *Library) Edition() int { return l.edition }

// Only returns a library of the named rules alone.
func (l *Library) Only(rules ...string) *Library {
	out := *l
	out.rules = slices.DeleteFunc(slices.Clone(l.rules), func(r *compiled) bool { return !slices.Contains(rules, r.id) })
	return &out
}

// maxPackFiles bounds a rules folder; the library has some thirty.
const maxPackFiles = 500

// Load reads every .yaml file of the given file systems as a pack (a file named
// sources.yaml holds only sources, shared by all) and compiles all rules. The first
// file system is the library, packs of the others are local. The
// error holds every problem found, as document.Problems.
func Load(folders ...fs.FS) (*Library, error) {
	l := &Library{assumptions: map[string]any{}, assumedBy: map[string]string{}, grounds: map[string][]Ground{}, files: map[string]*reader{}, compilers: map[string]*compiler{}, regions: map[string]*Region{}}
	shared, readers, err := l.read(folders)
	if err != nil {
		return nil, err
	}
	var problems document.Problems
	for _, r := range readers {
		problems = append(problems, r.problems...)
	}
	slices.SortFunc(l.packs, func(a, b *Pack) int { return strings.Compare(a.Pack, b.Pack) })
	problems = append(problems, l.declareRegions()...)
	l.shared = shared
	more, err := l.compile(shared)
	if err != nil {
		return nil, err
	}
	problems = append(problems, more...)
	if len(l.packs) == 0 && len(problems) == 0 {
		problems = append(problems, document.Problem{Message: "there is no pack here: no .yaml file holds rules"})
	}
	if len(problems) > 0 {
		return nil, problems.Tidy()
	}
	return l, nil
}

// packFile is one file of a rules folder, read and decoded.
type packFile struct {
	name   string
	data   []byte
	local  bool
	head   []byte // of a pack of a region, when only some regions are judged for
	pack   *Pack
	reader *reader
	err    error
}

// read reads the files of all folders in order and decodes them in parallel.
func (l *Library) read(folders []fs.FS) (shared Named[Source], readers []*reader, err error) {
	var files []*packFile
	for at, folder := range folders {
		first := len(files)
		lean, isLean := folder.(judgingOnly)
		err = fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || path.Ext(name) != ".yaml" {
				return err
			}
			if len(files) >= maxPackFiles {
				return fmt.Errorf("more than %d rule files", maxPackFiles)
			}
			data, err := readLimited(folder, name)
			f := &packFile{name: name, data: data, local: at > 0}
			if isLean {
				f.data = withoutCases(data)
			}
			if lean.some {
				f.head = regionalHead(f.data)
			}
			files = append(files, f)
			return err
		})
		if err != nil {
			return nil, nil, err
		}
		if lean.some {
			l.trim(files[first:], lean.regions)
		}
	}
	inParallel(len(files), func(_, i int) { f := files[i]; f.pack, f.reader, f.err = readPack(f.name, f.data) })
	for _, f := range files {
		if f.err != nil {
			return nil, nil, f.err
		}
		readers = append(readers, f.reader)
		switch p := f.pack; {
		case p == nil:
		case path.Base(f.name) == "sources.yaml":
			l.edition = max(l.edition, p.Edition)
			shared = append(shared, p.Sources...)
			f.reader.problems = slices.DeleteFunc(f.reader.problems, func(x document.Problem) bool { return strings.Contains(x.Message, "a pack lacks") })
		default:
			if p.Pack != "" {
				region := ""
				if p.Region != nil {
					region = p.Region.Name
				}
				if err := CheckNames(p.Pack, region); err != nil {
					f.reader.problem(nil, "pack", err.Error(), "")
				}
			}
			if other := l.files[p.Pack]; other != nil && p.Pack != "" {
				f.reader.problem(nil, "pack", fmt.Sprintf("%s is already the name of %s", p.Pack, other.file), "")
			}
			p.file, p.local = f.name, f.local
			l.files[p.Pack] = f.reader
			l.packs = append(l.packs, p)
		}
	}
	return shared, readers, nil
}

// inParallel does n pieces of work on all cores; do is told which worker it is.
func inParallel(n int, do func(worker, i int)) {
	jobs := make(chan int)
	var wg sync.WaitGroup
	for w := range workers(n) {
		wg.Go(func() {
			for i := range jobs {
				do(w, i)
			}
		})
	}
	for i := range n {
		jobs <- i
	}
	close(jobs)
	wg.Wait()
}

// workers is how many goroutines share n pieces of work.
func workers(n int) int { return min(runtime.GOMAXPROCS(0), max(1, n)) }

// readLimited reads a file, but no more than a pack may be.
func readLimited(folder fs.FS, name string) ([]byte, error) {
	f, err := folder.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, document.MaxBytes+1))
}

// compile compiles all packs: limits and tables first, which extend the
// vocabulary, then the rules in parallel.
func (l *Library) compile(shared Named[Source]) (document.Problems, error) {
	v, err := vocabulary.New()
	if err != nil {
		return nil, err
	}
	l.vocabulary = v
	type result struct {
		rules    []*compiled
		cautions []caution
		problems document.Problems
	}
	results := make([]result, len(l.packs))
	compilers := make([]*compiler, len(l.packs))
	for i, p := range l.packs {
		compilers[i] = l.compiler(v, p, shared)
		compilers[i].figures()
		l.compilers[p.Pack] = compilers[i]
	}
	clones := make([]*vocabulary.Vocabulary, runtime.GOMAXPROCS(0))
	for i := range clones {
		clones[i] = v.Clone()
	}
	inParallel(len(l.packs), func(worker, i int) {
		c := compilers[i]
		c.vocabulary = clones[worker]
		results[i] = result{rules: c.packRules(), cautions: c.cautions()}
		results[i].problems = c.problems
	})
	var problems document.Problems
	for i := range results {
		problems = append(problems, results[i].problems...)
		l.rules = append(l.rules, results[i].rules...)
		l.cautions = append(l.cautions, results[i].cautions...)
		for _, name := range slices.Sorted(maps.Keys(compilers[i].bindings)) {
			l.bindings = append(l.bindings, compilers[i].bindings[name])
		}
	}
	l.number()
	for _, p := range l.packs {
		problems = append(problems, l.assume(p, shared)...)
	}
	if len(problems) == 0 {
		problems = slices.Concat(l.adjust(), l.checkInsteadOf(), l.checkTopics())
	}
	return problems, nil
}

func (l *Library) compiler(v *vocabulary.Vocabulary, p *Pack, shared Named[Source]) *compiler {
	own := *l.files[p.Pack]
	own.problems = nil
	return &compiler{reader: &own, vocabulary: v, pack: p, sources: shared, names: map[string]ref.Val{}, base: map[string]ref.Val{}, used: map[string]bool{}, bindings: map[string]*binding{}}
}

// packRules compiles the rules of a pack.
func (c *compiler) packRules() []*compiled {
	var out []*compiled
	seen := map[string]bool{}
	for i := range c.pack.Rules {
		r := &c.pack.Rules[i]
		path := "rules." + r.ID
		if seen[r.ID] {
			c.problemAt(r.place, path, "the pack has two rules named "+r.ID, "")
		}
		seen[r.ID] = true
		if rule := c.rule(r, path); rule != nil {
			out = append(out, rule)
		}
	}
	for i := range c.pack.Assumptions {
		c.reasons(c.pack.Assumptions[i].Because, "assumptions", nil)
	}
	if len(c.problems) == 0 {
		c.lintPack()
	}
	return out
}

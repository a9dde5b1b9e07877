package engine

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"plumbline/engine/internal/cores"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Library is a set of packs, checked and compiled. It is safe for concurrent use.
type Library struct {
	packs       []*pack.Pack
	rules       []*rule.Rule
	cautions    []rule.Caution
	troubles    []rule.Trouble
	readings    []rule.Reading
	bindings    []*rule.Binding // of laws that rules for everywhere cite
	vocabulary  *vocabulary.Vocabulary
	assumptions map[string]any
	assumedBy   map[string]string // the pack of each
	// houseAssumed are the facts that local packs assume.
	houseAssumed []string
	grounds      map[string][]rule.Ground    // of assumptions
	files        map[string]*document.Reader // by pack name
	compilers    map[string]*rule.Compiler
	regions      map[string]*pack.Region
	steps        map[string][]LimitStep // changes of limits, by full name
	loosened     []Loosened
	overrides    map[string][]*override  // by region
	placed       *placedIn               // what was made of them
	shared       pack.Named[pack.Source] // the sources every pack may cite, from sources.yaml
	edition      int                     // of the library, from sources.yaml
	order        []string                // the names of all rules, sorted
	// clones are the vocabularies the expressions were compiled with.
	clones []*vocabulary.Vocabulary
	// declared are the facts that packs declare, valued their derived values.
	declared *schema.Declared
	valued   []*rule.Valued
	// compiling is held while a rule of an image is compiled.
	compiling *sync.Mutex
}

func newLibrary(v *vocabulary.Vocabulary) *Library {
	return &Library{placed: newPlaces(), vocabulary: v, compiling: &sync.Mutex{}, assumptions: map[string]any{}, assumedBy: map[string]string{}, grounds: map[string][]rule.Ground{}, files: map[string]*document.Reader{}, compilers: map[string]*rule.Compiler{}, regions: map[string]*pack.Region{}}
}

// Packs lists the packs in order of their names.
func (l *Library) Packs() []*pack.Pack { return l.packs }

// Shared lists the sources every pack may cite, those of sources.yaml.
func (l *Library) Shared() pack.Named[pack.Source] { return l.shared }

// Edition is the edition of the library, which its sources.yaml states; 0 when it states none.
func (l *Library) Edition() int { return l.edition }

// Only returns a library of the named rules alone.
func (l *Library) Only(rules ...string) *Library {
	out := *l
	out.rules = slices.DeleteFunc(slices.Clone(l.rules), func(r *rule.Rule) bool { return !slices.Contains(rules, r.ID) })
	return &out
}

// maxPackFiles bounds a rules folder; the library has some fifteen.
const maxPackFiles = 500

// maxLocalBytes bounds the packs of others together; the library has half as much.
const maxLocalBytes = 4 << 20

// Their rules, cautions, and troubles with readings; the library has some seven hundred, some fifteen and some eighty.
const maxLocalRules, maxLocalCautions, maxLocalTroubles = 1000, 200, 200

// Load reads every .yaml file of the given file systems as a pack (a file named
// sources.yaml holds only sources, shared by all) and compiles all rules. The first
// file system is the library, packs of the others are local. The
// error holds every problem found, as document.Problems.
func Load(folders ...fs.FS) (*Library, error) {
	v, err := vocabulary.New()
	if err != nil {
		return nil, err
	}
	return newLibrary(v).load(nil, folders)
}

// load reads the packs of folders beside those the library has, and compiles all. Of the latter, those of an image, the
// expressions were checked.
func (l *Library) load(checked *vocabulary.Checked, folders []fs.FS) (*Library, error) {
	readers, err := l.read(folders)
	if err != nil {
		return nil, err
	}
	var problems document.Problems
	for _, r := range readers {
		problems = append(problems, r.Problems...)
	}
	slices.SortFunc(l.packs, func(a, b *pack.Pack) int { return strings.Compare(a.Pack, b.Pack) })
	if many := l.tooMany(); len(many) > 0 {
		return nil, many
	}
	problems = append(problems, l.declareRegions()...)
	if own := l.declareOwn(); len(own) > 0 {
		return nil, append(problems, own...).Tidy() // what reads them would only repeat it
	}
	problems = append(problems, l.compile(checked)...)
	if len(l.packs) == 0 && len(problems) == 0 {
		problems = append(problems, document.Problem{Message: "there is no pack here: no .yaml file holds rules"})
	}
	if len(problems) > 0 {
		return nil, problems.Tidy()
	}
	return l, nil
}

// tooMany refuses more rules of local packs than a machine should have to go through.
func (l *Library) tooMany() document.Problems {
	n, cautions, troubles := 0, 0, 0
	for _, p := range l.packs {
		if !p.Local {
			continue
		}
		if cautions += len(p.Cautions); cautions > maxLocalCautions {
			first := p.Cautions[len(p.Cautions)-(cautions-maxLocalCautions)]
			return document.Problems{{Place: first.Place, Path: "cautions", Message: fmt.Sprintf("with this caution the local packs have more than %d cautions in all", maxLocalCautions)}}
		}
		if troubles += len(p.Troubles) + len(p.Readings); troubles > maxLocalTroubles {
			return document.Problems{{Place: document.Place{File: p.Path, Line: 1, Column: 1}, Path: "troubles", Message: fmt.Sprintf("with this pack the local packs have more than %d troubles and readings in all", maxLocalTroubles)}}
		}
		if n += len(p.Rules); n > maxLocalRules {
			first := p.Rules[len(p.Rules)-(n-maxLocalRules)]
			return document.Problems{{Place: first.Place, Path: "rules", Message: fmt.Sprintf("with this rule the local packs have more than %d rules in all", maxLocalRules)}}
		}
	}
	return nil
}

// packFile is one file of a rules folder, read and decoded.
type packFile struct {
	name   string
	data   []byte
	local  bool
	pack   *pack.Pack
	reader *document.Reader
}

// read reads the files of all folders in order and decodes them in parallel.
func (l *Library) read(folders []fs.FS) (readers []*document.Reader, err error) {
	var files []*packFile
	local := 0
	for at, folder := range folders {
		if folder == nil {
			continue // the library, which came from an image
		}
		err = fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || path.Ext(name) != ".yaml" {
				return err
			}
			if len(files) >= maxPackFiles {
				return fmt.Errorf("more than %d rule files", maxPackFiles)
			}
			data, err := pack.ReadFile(folder, name)
			if at > 0 {
				local += len(data)
			}
			if local > maxLocalBytes {
				return document.Problems{{Place: document.Place{File: name, Line: 1, Column: 1}, Message: fmt.Sprintf("with this file the local packs have more than %d bytes in all; no more are read", maxLocalBytes)}}
			}
			files = append(files, &packFile{name: name, data: data, local: at > 0})
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	cores.Do(len(files), func(_, i int) { f := files[i]; f.pack, f.reader = pack.Read(f.name, f.data) })
	for _, f := range files {
		readers = append(readers, f.reader)
		switch p := f.pack; {
		case p == nil:
		case path.Base(f.name) == "sources.yaml":
			l.edition = max(l.edition, p.Edition)
			l.shared = append(l.shared, p.Sources...)
			f.reader.Problems = slices.DeleteFunc(f.reader.Problems, func(x document.Problem) bool { return strings.Contains(x.Message, "a pack lacks") })
		default:
			if p.Pack != "" {
				region := ""
				if p.Region != nil {
					region = p.Region.Name
				}
				if err := pack.CheckNames(p.Pack, region); err != nil {
					f.reader.Problem(nil, "pack", err.Error(), "")
				}
			}
			if other := l.files[p.Pack]; other != nil && p.Pack != "" {
				f.reader.Problem(nil, "pack", fmt.Sprintf("%s is already the name of %s", p.Pack, other.Path), "")
			}
			p.Path, p.Local = f.name, f.local
			l.files[p.Pack] = f.reader
			l.packs = append(l.packs, p)
		}
	}
	return readers, nil
}

// compile compiles all packs: limits and tables first, which extend the
// vocabulary, then the rules in parallel.
func (l *Library) compile(checked *vocabulary.Checked) document.Problems {
	type result struct {
		rules    []*rule.Rule
		cautions []rule.Caution
		troubles []rule.Trouble
		readings []rule.Reading
		problems document.Problems
	}
	results := make([]result, len(l.packs))
	compilers := make([]*rule.Compiler, len(l.packs))
	room := &rule.Room{}
	for i, p := range l.packs {
		compilers[i] = l.compiler(l.vocabulary, p)
		if p.Local {
			compilers[i].Room = room
		}
		compilers[i].Trusted, compilers[i].Compiling = checked != nil && !p.Local, l.compiling
		compilers[i].Figures()
		l.compilers[p.Pack] = compilers[i]
	}
	l.knowFigures(compilers)
	overridden := l.override()
	if l.declared != nil {
		l.computeOwn(compilers)
	}
	// What was checked before holds for the library's packs alone.
	n := cores.Workers(len(l.packs))
	trusting := make([]*vocabulary.Vocabulary, n)
	for i := range n {
		l.clones = append(l.clones, l.vocabulary.Clone())
		trusting[i] = l.clones[i].Trusting(checked)
	}
	if checked != nil {
		l.bindTrusted(compilers, trusting[0])
	}
	cores.Do(len(l.packs), func(worker, i int) {
		c := compilers[i]
		c.Vocabulary = l.clones[worker]
		if c.Trusted {
			c.Vocabulary = trusting[worker]
		}
		results[i] = result{rules: c.PackRules(), cautions: c.Cautions(), troubles: c.Troubles(), readings: c.Readings()}
		results[i].problems = c.Problems
	})
	problems := overridden
	known := map[*rule.Binding]bool{}
	for i := range results {
		problems = append(problems, results[i].problems...)
		l.rules = append(l.rules, results[i].rules...)
		l.cautions = append(l.cautions, results[i].cautions...)
		l.troubles = append(l.troubles, results[i].troubles...)
		l.readings = append(l.readings, results[i].readings...)
		for _, b := range compilers[i].Bindings {
			if !known[b] {
				known[b] = true
				l.bindings = append(l.bindings, b)
			}
		}
	}
	l.number()
	for _, p := range l.packs {
		problems = append(problems, l.assume(p)...)
	}
	if len(problems) == 0 && slices.ContainsFunc(compilers, func(c *rule.Compiler) bool { return !c.Trusted }) {
		problems = slices.Concat(l.adjust(), l.checkOverrides(), l.checkInsteadOf(), l.checkTopics(), l.checkTroubles())
	}
	return problems
}

func (l *Library) compiler(v *vocabulary.Vocabulary, p *pack.Pack) *rule.Compiler {
	c := rule.NewCompiler(v, p, l.files[p.Pack], l.shared)
	c.Declared = l.declared
	return c
}

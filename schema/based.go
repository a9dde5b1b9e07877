package schema

import (
	"fmt"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// MaxTemplates is how many templates a design may rest on, one based on the next; a shop has one for a kind of engine
// and one for a kind of fuel system, and deeper stacks hide where a fact comes from.
const MaxTemplates = 8

// ownFacts are the keys of a design that are never taken from its template: what says which file it is, and what was
// found, done, measured or granted at one vehicle. No template can say that of another.
func ownFacts() []string {
	return []string{"plumbline", "title", "notes", "based_on", "leave_out", "stage", "registration", "papers", "condition", "procedure", "measured", "concessions"}
}

// LoadBased reads a design file like Load; one that says `based_on` takes from that template every fact it does not
// state itself. open returns the bytes of a template; its error is shown as it is, and should name the file.
//
// A template is a design file of its own and may be based on another, up to MaxTemplates. Its name is taken from the
// folder of the file that names it, and reaches open cleaned, with slashes. Every fact keeps the place it was written at.
//
// Mappings are put together key by key. Lists whose items have names are put together by name: an item of a name
// the template has changes that item, a new name comes at the end. Everything else that the design states replaces
// what the template states, `none` and the other way to say the same included. `leave_out` first takes facts away
// from the template. Stage, registration, papers, condition, procedure, measured values, concessions, title and notes belong
// to one vehicle and are not taken.
//
// The error is of type document.Problems, with the problems of all files of the chain.
func LoadBased(file string, data []byte, open func(name string) ([]byte, error)) (*Design, error) {
	return LoadLine(file, 1, data, open)
}

// LoadLine reads like LoadBased a design that begins on a line of its file, the first one being 1: a file may hold one design
// in JSON on each line.
func LoadLine(file string, line int, data []byte, open func(name string) ([]byte, error)) (*Design, error) {
	design, err := LoadPartly(file, line, data, open)
	if err != nil {
		return nil, err
	}
	return design, nil
}

// Whole is the text of a design file with what it takes from its templates written out, in YAML; a file that is based
// on none comes back as it is. The text means the same design, but its comments and where its facts stood are lost.
func Whole(file string, data []byte, open func(name string) ([]byte, error)) ([]byte, error) {
	c := chain{open: open}
	c.load(file, data)
	if err := c.problems.Err(); err != nil {
		return nil, err
	}
	if len(c.links) == 1 {
		return data, nil
	}
	d, root := c.join()
	if d.design(root); len(d.problems) > 0 {
		return nil, d.problems.Err()
	}
	var content []*yaml.Node
	for i := 0; i+1 < len(root.Content); i += 2 {
		if key := root.Content[i].Value; key != "based_on" && key != "leave_out" {
			content = append(content, root.Content[i], root.Content[i+1])
		}
	}
	root.Content = content
	uncomment(root)
	return yaml.Marshal(root)
}

// uncomment drops the comments of a node and all below it: one of a block that came into a flow mapping would hide
// what follows it on its line.
func uncomment(n *yaml.Node) {
	n.HeadComment, n.LineComment, n.FootComment = "", "", ""
	for _, child := range n.Content {
		uncomment(child)
	}
}

// chain is a design file and the templates it rests on, each based on the next.
type chain struct {
	open func(name string) ([]byte, error)
	// shelf returns the parts that the design may name.
	shelf func() (*Shelf, error)
	// declared are the facts that packs declare.
	declared *Declared
	// above is how many lines of the first file stand above the design.
	above    int
	links    []link
	problems document.Problems
	// unclear is true when the text of a file itself can be read in two ways.
	unclear bool
}

type link struct {
	file string
	root *yaml.Node
}

// load reads one file and what it is based on. It returns the design of the file alone.
func (c *chain) load(file string, data []byte) *Design {
	above := 0
	if len(c.links) == 0 {
		above = c.above
	}
	d, root, design := read(c.declared, file, above, data)
	c.links = append(c.links, link{file, root})
	if root != nil {
		c.follow(d, root, design)
	}
	c.problems = append(c.problems, d.problems...)
	c.unclear = c.unclear || d.unclear
	return design
}

// follow loads the template that a file names. It complains at the name.
func (c *chain) follow(d *decoder, root *yaml.Node, design *Design) {
	if !design.BasedOn.Known() {
		if key, _ := entry(root, "leave_out"); key != nil && !d.mentions(root, "based_on") {
			d.add(key, rootPath+".leave_out", "leave_out takes facts of a template away, and this file is based on none; say based_on: FILE, or leave these facts unstated", "")
		}
		return
	}
	_, n := entry(root, "based_on")
	at := rootPath + ".based_on"
	if c.open == nil {
		d.add(n, at, notFollowed, "")
		return
	}
	if strings.Contains(n.Value, `\`) {
		slashed := strings.ReplaceAll(n.Value, `\`, "/")
		d.add(n, at, "folders are parted by slashes; write "+document.Cut(slashed), slashed)
		return
	}
	if strings.ContainsFunc(n.Value, unicode.IsControl) {
		d.add(n, at, "a file's name on one line is expected, such as ../templates/six-return.yaml", "")
		return
	}
	name := template(d.file, n.Value)
	switch i := slices.IndexFunc(c.links, func(l link) bool { return cleaned(l.file) == name }); {
	case i == len(c.links)-1:
		d.add(n, at, "this file is based on itself; name another one, or take the line out", "")
	case i >= 0:
		d.add(n, at, "the templates go round in a circle: "+c.words(name, i), "")
	case len(c.links) > MaxTemplates:
		d.add(n, at, fmt.Sprintf("at most %d templates may rest on each other; here are more: %s", MaxTemplates, c.words(name, 0)), "")
	default:
		data, err := c.open(name)
		if err != nil {
			message := "the template " + err.Error()
			if len(c.links) > 1 {
				message += "; " + c.words(name, 0)
			}
			d.add(n, at, message, "")
			return
		}
		if !saysDesign.Match(data) {
			// Nothing of the file is told: a design may name any file, and a log is read by many.
			d.add(n, at, name+" is no design: it does not say plumbline: 1", "")
			return
		}
		c.load(name, data)
	}
}

// saysDesign finds the key that makes a file a design.
var saysDesign = regexp.MustCompile(`(?m)^\x{FEFF}?\s*[{]?\s*["']?plumbline["']?\s*:`)

const notFollowed = "no other file is read here, so a design may not be based on one; write the facts of the template out"

// words tells the chain from a link on, with the next name at its end.
func (c *chain) words(next string, from int) string {
	var b strings.Builder
	b.WriteString(c.links[from].file)
	for _, l := range c.links[from+1:] {
		b.WriteString(" is based on " + l.file + ", which")
	}
	return b.String() + " is based on " + next
}

// template is the name of the file that a file's based_on means.
func template(file, basedOn string) string {
	if path.IsAbs(basedOn) || filepath.IsAbs(basedOn) {
		return cleaned(basedOn)
	}
	return path.Join(path.Dir(filepath.ToSlash(file)), basedOn)
}

func cleaned(file string) string { return path.Clean(filepath.ToSlash(file)) }

// join puts the files of a chain, of which only one by itself may have problems, together. It returns the root of the whole, and a
// decoder that knows where each node is from.
func (c *chain) join() (*decoder, *yaml.Node) {
	d := newDecoder(c.declared, c.links[0].file, c.problems)
	d.files = map[*yaml.Node]string{}
	for _, l := range c.links[1:] {
		d.from(l.file, l.root)
	}
	for i := len(c.links) - 2; i >= 0; i-- {
		own, base := c.links[i].root, c.links[i+1].root
		if _, paths := entry(own, "leave_out"); paths != nil {
			leaveOut{decoder: d, base: base, file: c.links[i+1].file, gone: map[*yaml.Node]bool{}}.apply(paths)
		}
		d.mergePart(own, base, c.declared.plan(), rootPath)
	}
	return d, c.links[0].root
}

// furnished reads a design with the facts of the parts of the shelf that it names.
func (c *chain) furnished(d *decoder, root *yaml.Node) *Design {
	f := furnisher{decoder: d, shelf: c.shelf}
	f.furnish(root, c.declared.plan(), rootPath)
	design := d.design(root)
	design.shelved = f.found
	return design
}

// from notes the file of a node and all below it.
func (d *decoder) from(file string, n *yaml.Node) {
	d.files[n] = file
	for _, child := range n.Content {
		d.from(file, child)
	}
}

// entry finds a key of a mapping and its value; nil when it is not there.
func entry(n *yaml.Node, key string) (at, value *yaml.Node) {
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i], n.Content[i+1]
		}
	}
	return nil, nil
}

// unbased complains about a design that is read where no template can be.
func (d *decoder) unbased(root *yaml.Node) {
	for _, key := range []string{"based_on", "leave_out"} {
		if at, _ := entry(root, key); at != nil {
			d.add(at, rootPath+"."+key, notFollowed, "")
		}
	}
}

package shop

import (
	"plumbline/schema"
)

// TextFile is a file that was read: its name as printed and its text. Mark is that of a template in a folder that is worked in, taken
// before it was read.
type TextFile struct {
	Name string
	Data []byte
	Mark string
}

// Files are the files a design was read from: its own, then the templates it rests on.
type Files []TextFile

// Text is the text of one of the files; nil when it is none of them.
func (f Files) Text(name string) []byte {
	for _, one := range f {
		if one.Name == name {
			return one.Data
		}
	}
	return nil
}

// Forget drops the texts and keeps the names.
func (f Files) Forget() {
	for i := range f {
		f[i].Data = nil
	}
}

// Templates lists the templates among them.
func (f Files) Templates() []Input {
	var out []Input
	for i, one := range f {
		if i > 0 {
			out = append(out, Input{Name: one.Name, Path: one.Name})
		}
	}
	return out
}

// Design reads a design with the templates it rests on. What was read of them is returned also with an error, and the
// design of what could be read where its problems leave one.
func (s *Shop) Design(in Input) (*schema.Design, Files, error) {
	data, err := s.Read(in)
	if err != nil {
		return nil, nil, err
	}
	file := in.Name
	if in.Line > 0 {
		file = in.File
	}
	read := Files{{Name: file, Data: data}}
	design, err := s.loader(&read).Partly(file, max(in.Line, 1), data)
	return design, read, err
}

// LoadText reads the text of a design with the templates and parts of the shelf that it names.
func (s *Shop) LoadText(file string, text []byte) (*schema.Design, error) {
	design, _, err := s.LoadNoting(file, text)
	return design, err
}

// LoadNoting is LoadText with the templates that were read.
func (s *Shop) LoadNoting(file string, text []byte) (*schema.Design, Files, error) {
	read := Files{}
	design, err := s.loader(&read).Load(file, text)
	return design, read, err
}

// loader reads designs with their templates, whose texts it notes, the parts of the shelf, and the facts that packs declare.
func (s *Shop) loader(read *Files) schema.Loader {
	return schema.Loader{Shelf: s.Shelf, Declared: s.declared, Open: func(name string) ([]byte, error) {
		mark := ""
		if s.In != nil {
			mark = s.In.SeenTemplate(name)
		}
		data, err := s.Template(name)
		if err == nil || s.In != nil {
			*read = append(*read, TextFile{name, data, mark})
		}
		return data, err
	}}
}

// Template reads a template; where the shop works in a folder, one that lies in it.
func (s *Shop) Template(name string) ([]byte, error) {
	if s.In != nil {
		return s.In.Template(name)
	}
	return s.Read(Input{Name: name, Path: name})
}

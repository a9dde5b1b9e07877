package main

import (
	"plumbline/schema"
)

// textFile is a file that was read: its name as printed and its text.
type textFile struct {
	name string
	data []byte
}

// files are the files a design was read from: its own, then the templates it rests on.
type files []textFile

// text is the text of one of the files; nil when it is none of them.
func (f files) text(name string) []byte {
	for _, one := range f {
		if one.name == name {
			return one.data
		}
	}
	return nil
}

// forget drops the texts and keeps the names.
func (f files) forget() {
	for i := range f {
		f[i].data = nil
	}
}

// readDesign reads a design with the templates it rests on. What was read of them is returned also with an error, and the
// design of what could be read where its problems leave one.
func (c *Command) readDesign(in input) (*schema.Design, files, error) {
	data, err := c.read(in)
	if err != nil {
		return nil, nil, err
	}
	file := in.name
	if in.line > 0 {
		file = in.file
	}
	read := files{{file, data}}
	design, err := c.declared.LoadPartly(file, max(in.line, 1), data, func(name string) ([]byte, error) {
		data, err := c.readTemplate(name)
		if err == nil {
			read = append(read, textFile{name, data})
		}
		return data, err
	})
	return design, read, err
}

// readTemplate reads a template.
func (c *Command) readTemplate(name string) ([]byte, error) {
	return c.read(input{name: name, path: name})
}

// templates lists the templates that a design rests on.
func (r *result) templates() []input {
	var out []input
	for i, f := range r.files {
		if i > 0 {
			out = append(out, input{name: f.name, path: f.name})
		}
	}
	return out
}

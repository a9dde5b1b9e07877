package main

import (
	"fmt"
	"io"
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/schema/document"
	plain "plumbline/schema/lines"
)

// fromLines begins a design with what a list of plain lines says, and shows how it was understood.
func (c *Command) fromLines(name string, f newFlags) error {
	text, err := c.readLines(f.lines)
	if err != nil {
		return err
	}
	d, err := shop.OpenDraft(name)
	if err != nil {
		return err
	}
	if d.Began {
		return exit.InputError("%s is there already; --lines begins a new file", d.Name)
	}
	r := plain.Read(string(text))
	c.echo(r)
	if r.Facts() == 0 {
		return exit.InputError("nothing in %s was understood; %s was not begun", f.lines, d.Name)
	}
	d.Text = r.YAML()
	if err := c.begin(d, f); err != nil {
		return err
	}
	if err := d.Save(d.Text); err != nil {
		return err
	}
	left := 0
	for _, l := range r.Lines {
		left += len(l.Left)
	}
	fmt.Fprintf(c.Stdout, "%s states %s. Judge it: plumbline check %s. Go on by questions: plumbline new %s\n",
		d.Name, shop.Counted(r.Facts(), "fact"), shop.Quoted(d.Name), shop.Quoted(d.Name))
	if left > 0 {
		fmt.Fprintf(c.Stdout, "Not understood: %s; they stand as remarks at the top of the file.\n", shop.Counted(left, "text"))
		return &exit.Error{Code: exit.Input}
	}
	return nil
}

// readLines reads the list from a file, or from the standard input.
func (c *Command) readLines(name string) ([]byte, error) {
	source := c.Stdin
	if name != "-" {
		file, err := shop.OpenFile(name)
		if err != nil {
			return nil, exit.InputError("the list %s cannot be read: %v", name, shop.Reason(err))
		}
		defer file.Close()
		source = file
	}
	text, err := io.ReadAll(io.LimitReader(source, document.MaxBytes+1))
	if err != nil {
		return nil, exit.InputError("the list %s cannot be read: %v", name, shop.Reason(err))
	}
	if len(text) > document.MaxBytes {
		return nil, exit.InputError("the list %s is longer than the %d bytes that are read", name, document.MaxBytes)
	}
	return text, nil
}

// echo shows line by line what was understood and what was not.
func (c *Command) echo(r *plain.Reading) {
	for _, l := range r.Lines {
		if strings.TrimSpace(l.Text) == "" {
			continue
		}
		fmt.Fprintln(c.Stdout, strings.TrimSpace(l.Text))
		for _, u := range l.Understood {
			fmt.Fprintf(c.Stdout, "    %s = %s", u.Path, u.Value)
			if u.Taken != "" {
				fmt.Fprintf(c.Stdout, "  (%s)", u.Taken)
			}
			fmt.Fprintln(c.Stdout)
		}
		for _, x := range l.Left {
			fmt.Fprintf(c.Stdout, "    not understood: %s (%s)\n", x.Text, x.Why)
		}
	}
}

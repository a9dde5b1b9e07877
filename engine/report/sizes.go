package report

import (
	"io"
	"strings"

	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// Sizes writes the least that works, a paragraph for each thing.
func Sizes(w io.Writer, d *schema.Design, list []whatif.Size, o TextOptions) error {
	p := NewPrinter(w, o.Width, o.Colour)
	for i := range list {
		x := &list[i]
		text := clean(sheet.NameOf(d, x.Of)) + ", now " + clean(x.Stated) + ": "
		switch {
		case x.Never != nil:
			text += "no size alone will do; with " + x.Never.Size + ", the nearest" + wrongWords(x.Never)
		case x.Least == "":
			text += "nothing that is known decides it"
		default:
			text += "least that works " + x.Least
			if x.Usual {
				text += " (with what is usual)"
			}
			if x.Below != nil {
				text += "; with " + x.Below.Size + wrongWords(x.Below)
			}
			if x.Most != "" {
				text += "; most that works " + x.Most + ", with " + x.Above.Size + wrongWords(x.Above)
			}
		}
		p.Para(0, indent, strings.TrimSuffix(text, ".")+".")
	}
	return p.Flush()
}

// wrongWords say what is wrong with a size.
func wrongWords(x *whatif.Wrong) string {
	if x.Worst {
		return ", at the usual worst: " + reason(x.Text)
	}
	return ": " + reason(x.Text)
}

// reason is a sentence within another: the reason stands in its second half.
func reason(text string) string { return uncapital(strings.TrimSuffix(clean(text), ".")) }

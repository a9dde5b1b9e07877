package report

import (
	"io"

	"plumbline/engine/sheet"
)

func paperHTML(w io.Writer, p *sheet.Paper) error { return nil }
func paperSVG(w io.Writer, p *sheet.Paper) error  { return nil }

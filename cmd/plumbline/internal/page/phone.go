package page

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/qr"
)

// Link is the way in for whoever has the token: from the address the page is reached at, to a job, or to the list of them for "".
func Link(address, token, job string) string {
	v := url.Values{}
	if token != "" {
		v.Set("token", token)
	}
	if job != "" {
		v.Set("job", job)
	}
	return address + enterPath + "?" + v.Encode()
}

// quiet is the margin of a code, in modules, that a reader needs (ISO/IEC 18004).
const quiet = 4

// modules are the dark fields of the code of a text.
func modules(text string) (barcode.Barcode, func(x, y int) bool, error) {
	code, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return nil, nil, err
	}
	return code, func(x, y int) bool {
		r, _, _, _ := code.At(x, y).RGBA()
		return r == 0
	}, nil
}

// CodeText is the code of a text for a terminal, two rows in a line; dark fields are drawn as gaps, for terminals that are dark as a rule.
func CodeText(text string) (string, error) {
	code, dark, err := modules(text)
	if err != nil {
		return "", err
	}
	n := code.Bounds().Dx()
	at := func(x, y int) bool { return x >= 0 && y >= 0 && x < n && y < n && dark(x, y) }
	var b strings.Builder
	for y := -quiet; y < n+quiet; y += 2 {
		for x := -quiet; x < n+quiet; x++ {
			b.WriteString([]string{"█", "▀", "▄", " "}[btoi(at(x, y))*2+btoi(at(x, y+1))])
		}
		b.WriteString("\n")
	}
	return b.String(), nil
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// codeSVG is the code of a text as a drawing, black on white whatever is around it: readers need that.
func codeSVG(text string) (template.HTML, error) {
	code, dark, err := modules(text)
	if err != nil {
		return "", err
	}
	n := code.Bounds().Dx()
	var b strings.Builder
	size := n + 2*quiet
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="code" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-label="The code of the link below"><rect width="%d" height="%d" fill="#fff"/><path fill="#000" d="`, size, size, size*6, size*6, size, size)
	for y := range n {
		for x := range n {
			if dark(x, y) {
				fmt.Fprintf(&b, "M%d %dh1v1h-1z", x+quiet, y+quiet)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return template.HTML(b.String()), nil
}

// phoneBody hands a job to a phone.
type phoneBody struct {
	Head
	Code template.HTML
	Link string
}

// phone shows the code of a job's address.
func (s *Server) phone(w http.ResponseWriter, r *http.Request) {
	_, view, ok := s.opened(w, r)
	if !ok {
		return
	}
	b := &phoneBody{Head: s.headOf(r, view, "phone", nil)}
	if s.Address != "" && s.Token != "" {
		b.Link = Link(s.Address, s.Token, view.Name)
		var err error
		if b.Code, err = codeSVG(b.Link); err != nil {
			s.fail(w, r, http.StatusInternalServerError, "The code cannot be drawn: "+err.Error())
			return
		}
	}
	s.show(w, r, http.StatusOK, frame{Title: "On the phone: " + b.Called, Page: "phone", Body: b})
}

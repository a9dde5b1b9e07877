package report

import (
	"fmt"
	"strings"

	"plumbline/engine/diagnose"
)

// mostSharper is how many facts are named that would sharpen the answer, leastSharper by how much more the candidates would have to
// differ for one to be named.
const (
	mostSharper  = 3
	leastSharper = 0.5
)

// usual says what was taken as usual, and what would be worth stating.
func (s *diagnosis) usual() {
	u := s.found.Usual
	if u == nil {
		return
	}
	s.Blank()
	if len(u.Ways) > 0 {
		s.Para(0, 0, "Taken as usual where nothing is stated: "+clean(strings.Join(u.Ways, "; "))+". How far such vehicles differ is counted in the margins.")
	}
	s.sharpen()
	s.otherwise(u.Others)
}

// otherwise tells the other ways it may be built in which another answer comes first, those with one answer together.
func (s *diagnosis) otherwise(others []diagnose.OtherWay) {
	var firsts []string
	ways := map[string][]string{}
	for _, x := range others {
		first := "a sound vehicle"
		if len(x.Titles) > 0 {
			first = uncapital(clean(strings.Join(x.Titles, " with ")))
		}
		if ways[first] == nil {
			firsts = append(firsts, first)
		}
		ways[first] = append(ways[first], ""+clean(x.Way)+"")
	}
	for _, first := range firsts {
		s.Para(0, 0, fmt.Sprintf("Built as: %s; it would most likely be: %s.", strings.Join(ways[first], "; or "), first))
	}
}

// sharpen names the facts that, stated, would sharpen the answer most.
func (s *diagnosis) sharpen() {
	if s.found.Usual == nil || s.sharpened {
		return
	}
	s.sharpened = true
	var list []string
	for _, f := range s.found.Usual.Facts {
		if len(list) == mostSharper || f.Sharpens < leastSharper {
			break
		}
		if f.Stated {
			list = append(list, fmt.Sprintf("%s, stated as %s to %s", factLabel(s.found.Usual.Built, f.Path), f.Low.Text, f.High.Text))
		} else {
			list = append(list, fmt.Sprintf("%s (usually %s, from %s to %s)", factLabel(s.found.Usual.Built, f.Path), f.Usual.Text, f.Low.Text, f.High.Text))
		}
	}
	if len(list) > 0 {
		s.Para(0, 0, "State these first, they would sharpen the answer most: "+strings.Join(list, "; ")+".")
	}
}

// mostUnseen is how many troubles are named that readings would not show.
const mostUnseen = 5

// unseen tells what the readings of a vehicle that is called sound do not rule out.
func (s *diagnosis) unseen() {
	u := s.found.Unseen
	if u == nil {
		return
	}
	var names []string
	for _, t := range u.Troubles {
		if len(names) == mostUnseen && !s.verbose && len(u.Troubles) > mostUnseen+1 {
			names = append(names, fmt.Sprintf("%d more", len(u.Troubles)-mostUnseen))
			break
		}
		names = append(names, uncapital(clean(t.Title)))
	}
	s.Blank()
	text := "Within what gauge and meter can tell these readings would not show, as large as each is often found: " + joined(names, "and") + "."
	if u.Shows > 0 {
		text += fmt.Sprintf(" %s would show %d of them.", capital(clean(u.Title)), u.Shows)
	}
	s.Para(0, 0, text)
}

package desk

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
)

// kind says what a line of a journal tells.
type kind string

// The kinds: the text a journal begins with; a change; one that another program made; the last change taken back, and made again;
// that the last one is in the file too; that the last one was given up.
const (
	base    kind = "base"
	edit    kind = "edit"
	outside kind = "outside"
	undo    kind = "undo"
	redo    kind = "redo"
	kept    kind = "kept"
	void    kind = "void"
)

// entry is one line of a journal. A change is told by the stretch of the text that is another one, so that it can be followed both
// ways.
type entry struct {
	Kind kind   `json:"kind"`
	Name string `json:"name,omitempty"`
	// At is where, counted in bytes, Was what stood there, and Is what stands there now; of a base the whole text.
	At  int    `json:"at,omitempty"`
	Was []byte `json:"was,omitempty"`
	Is  []byte `json:"is,omitempty"`
	// Sum is of the text after it, Revision its number.
	Sum      string `json:"sum,omitempty"`
	Revision int    `json:"revision,omitempty"`
}

func sumOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

// changeOf tells how a text became another.
func changeOf(k kind, name string, from, to []byte) entry {
	begin := 0
	for begin < len(from) && begin < len(to) && from[begin] == to[begin] {
		begin++
	}
	end := 0
	for end < len(from)-begin && end < len(to)-begin && from[len(from)-1-end] == to[len(to)-1-end] {
		end++
	}
	return entry{Kind: k, Name: name, At: begin, Was: slices.Clone(from[begin : len(from)-end]), Is: slices.Clone(to[begin : len(to)-end]), Sum: sumOf(to)}
}

// over makes a change in a text; false where it is not one of that text.
func (e *entry) over(text []byte) ([]byte, bool) { return swapped(text, e.At, e.Was, e.Is) }

// back takes a change out of a text.
func (e *entry) back(text []byte) ([]byte, bool) { return swapped(text, e.At, e.Is, e.Was) }

func swapped(text []byte, at int, from, to []byte) ([]byte, bool) {
	if at < 0 || at > len(text)-len(from) || !bytes.Equal(text[at:at+len(from)], from) {
		return nil, false
	}
	return slices.Concat(text[:at], to, text[at+len(from):]), true
}

// history is all that was done to a design since its journal was begun.
type history struct {
	// text is the design after all of it, revision the number of that.
	text     []byte
	revision int
	// log are the changes in their order, the last of which leads to text.
	log []entry
	// past are the places in log of what can be taken back, undone of what can be made again, the last first in turn.
	past, undone []int
	// kept is set where the last change is known to be in the file.
	kept bool
}

// begun is the history of a design of which nothing is known but its text.
func begun(text []byte, revision int) *history {
	return &history{text: text, revision: revision, kept: true}
}

// read follows the lines of a journal; nil where there are none. The error says that they do not belong together.
func read(lines [][]byte) (*history, error) {
	var h *history
	for i, line := range lines {
		var e entry
		if err := json.Unmarshal(line, &e); err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
		switch {
		case e.Kind == base:
			h = begun(e.Is, e.Revision)
		case h == nil || !h.take(e):
			return nil, fmt.Errorf("line %d does not follow from what is before it", i+1)
		}
	}
	return h, nil
}

// take follows one line; false where it does not belong there.
func (h *history) take(e entry) bool {
	switch e.Kind {
	case kept:
		h.kept = true
		return true
	case void:
		return h.give()
	case edit, outside, undo, redo:
	default:
		return false
	}
	text, ok := e.over(h.text)
	if !ok || sumOf(text) != e.Sum {
		return false
	}
	at := len(h.log)
	switch e.Kind {
	case edit, outside:
		h.past, h.undone = append(h.past, at), nil
	case undo:
		if len(h.past) == 0 {
			return false
		}
		last := len(h.past) - 1
		h.past, h.undone = h.past[:last:last], append(h.undone[:len(h.undone):len(h.undone)], h.past[last])
	case redo:
		if len(h.undone) == 0 {
			return false
		}
		last := len(h.undone) - 1
		h.undone, h.past = h.undone[:last:last], append(h.past[:len(h.past):len(h.past)], h.undone[last])
	}
	h.log, h.text, h.kept = append(h.log, e), text, false
	h.revision++
	return true
}

// give gives the last change up, as if it had not been. What it took from what could be made again is gone.
func (h *history) give() bool {
	before, ok := h.before()
	if !ok {
		return false
	}
	at := len(h.log) - 1
	switch e := h.log[at]; e.Kind {
	case edit, outside:
		h.past = h.past[:len(h.past)-1]
	case undo:
		last := len(h.undone) - 1
		h.past, h.undone = append(h.past, h.undone[last]), h.undone[:last]
	case redo:
		last := len(h.past) - 1
		h.undone, h.past = append(h.undone, h.past[last]), h.past[:last]
	}
	h.log, h.text, h.kept = h.log[:at], before, true
	h.revision--
	return true
}

// before is the text before the last change.
func (h *history) before() ([]byte, bool) {
	if len(h.log) == 0 {
		return nil, false
	}
	return h.log[len(h.log)-1].back(h.text)
}

// mostBack is how many changes ago somebody may have looked who edits: who was away for longer looks again first.
const mostBack = 2000

// at is the text of an earlier revision; false where the history does not go back to it, or it is too long ago.
func (h *history) at(revision int) ([]byte, bool) {
	text, n := h.text, h.revision
	if revision > n || n-revision > mostBack {
		return nil, false
	}
	for i := len(h.log) - 1; n > revision; i, n = i-1, n-1 {
		ok := i >= 0
		if ok {
			text, ok = h.log[i].back(text)
		}
		if !ok {
			return nil, false
		}
	}
	return text, true
}

// undoing is the change that takes the last one back; false for none.
func (h *history) undoing() (entry, bool) {
	if len(h.past) == 0 {
		return entry{}, false
	}
	e := h.log[h.past[len(h.past)-1]]
	text, ok := e.back(h.text)
	if !ok {
		return entry{}, false
	}
	return entry{Kind: undo, Name: e.Name, At: e.At, Was: e.Is, Is: e.Was, Sum: sumOf(text)}, true
}

// redoing is the change that makes the one again that was taken back last; false for none.
func (h *history) redoing() (entry, bool) {
	if len(h.undone) == 0 {
		return entry{}, false
	}
	e := h.log[h.undone[len(h.undone)-1]]
	text, ok := e.over(h.text)
	if !ok {
		return entry{}, false
	}
	return entry{Kind: redo, Name: e.Name, At: e.At, Was: e.Was, Is: e.Is, Sum: sumOf(text)}, true
}

package derive

import "strings"

// room holds the many small things a session makes, which live as long as it:
// results, what they read, and their paths. They are cut from larger pieces,
// each as large as all before it together, within bounds.
type room struct {
	results []Result
	reads   []reading
	paths   strings.Builder
	// made counts the pieces of each kind.
	resultsMade, readsMade int
}

// The first and the largest pieces, in things.
const (
	smallPiece = 16
	largePiece = 64
	pathPiece  = 1024 // bytes
)

// result returns room for a result.
func (m *room) result() *Result {
	if len(m.results) == 0 {
		m.results = make([]Result, piece(&m.resultsMade))
	}
	r := &m.results[0]
	m.results = m.results[1:]
	return r
}

// keep copies readings.
func (m *room) keep(reads []reading) []reading {
	n := len(reads)
	if n == 0 {
		return nil
	}
	if len(m.reads) < n {
		m.reads = make([]reading, max(n, piece(&m.readsMade)))
	}
	kept := m.reads[:n:n]
	m.reads = m.reads[n:]
	copy(kept, reads)
	return kept
}

// join writes base.name. What a Builder has handed out it does not change.
func (m *room) join(base, name string) string {
	if n := len(base) + 1 + len(name); m.paths.Cap()-m.paths.Len() < n {
		m.paths = strings.Builder{}
		m.paths.Grow(max(n, pathPiece))
	}
	start := m.paths.Len()
	m.paths.WriteString(base)
	m.paths.WriteByte('.')
	m.paths.WriteString(name)
	return m.paths.String()[start:]
}

// piece is the size of the next piece: as many as made so far.
func piece(made *int) int {
	n := min(max(*made, smallPiece), largePiece)
	*made += n
	return n
}

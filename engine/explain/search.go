package explain

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"plumbline/schema/document"
)

// Named is something that has a name and can be explained by it.
type Named struct {
	Name string `json:"name"`
	// Kind is rule, pack, limit, table, source, region, derived value, fact or known failure.
	Kind  string `json:"kind"`
	Title string `json:"title"`
	// Also are other words it is known by, a phrase each; Text is what else is said of it.
	Also []string `json:"-"`
	Text string   `json:"-"`
	// Twin names one thing that stands at several paths: only the first of them is found.
	Twin string `json:"-"`
}

// Hit is a named thing that plain words led to.
type Hit struct {
	Named
	// By is the other word it was found by; empty when name or title had it.
	By string `json:"by,omitempty"`
}

// Found is the answer to a search.
type Found struct {
	Asked string `json:"asked"`
	// Taken are the words searched for, when a misspelt one was taken for its nearest.
	Taken string `json:"taken_as,omitempty"`
	Hits  []Hit  `json:"found"`
	// More is how many others match.
	More int `json:"more"`
}

// Index finds named things by plain words.
type Index struct {
	entries []entry
	// words are all words of names, titles and other names, each once.
	words []string
}

// entry is a named thing with its words, by how much each field counts.
type entry struct {
	Named
	name, path, title, text []string
	also                    [][]string
}

// Weights of the fields: a word of the name itself tells most, one of the part it belongs to less.
const (
	inName  = 8.0
	inAlso  = 6.0
	inTitle = 5.0
	inPath  = 4.0
	inText  = 1.0
	// begun is what a word counts that only begins like the one asked for.
	begun = 0.5
	// leastBegun letters must be given for a begun word.
	leastBegun = 3
)

// NewIndex prepares a list of named things for searching.
func NewIndex(list []Named) *Index {
	x := &Index{}
	seen, twins := map[string]bool{}, map[string]bool{}
	for _, n := range list {
		if n.Twin != "" {
			if twins[n.Twin] {
				continue
			}
			twins[n.Twin] = true
		}
		cut := strings.LastIndexByte(n.Name, '.') + 1
		e := entry{Named: n, name: wordsOf(n.Name[cut:]), path: wordsOf(n.Name[:cut]), title: wordsOf(n.Title), text: wordsOf(n.Text)}
		for _, a := range n.Also {
			e.also = append(e.also, wordsOf(a))
		}
		x.entries = append(x.entries, e)
		for _, list := range append([][]string{e.name, e.path, e.title}, e.also...) {
			for _, w := range list {
				if !seen[w] {
					seen[w] = true
					x.words = append(x.words, w)
				}
			}
		}
	}
	return x
}

// Search finds what plain words speak of, the best first, so many at most. What
// holds all of the words comes; where nothing does, what holds the most of them.
// A word that nothing has is taken for the nearest one.
func (x *Index) Search(asked string, most int) Found {
	out := Found{Asked: asked, Hits: []Hit{}}
	query := wordsOf(asked)
	corrected := false
	for i, w := range query {
		if !x.has(w) {
			if near := document.Nearest(w, x.words); near != "" {
				query[i], corrected = near, true
			}
		}
	}
	if corrected {
		out.Taken = strings.Join(query, " ")
	}
	type scored struct {
		hit   Hit
		score float64
	}
	var list []scored
	held := 1
	for i := range x.entries {
		e := &x.entries[i]
		score, n, by := e.match(query)
		if n < held {
			continue
		}
		if n > held {
			held, list = n, list[:0]
		}
		list = append(list, scored{Hit{e.Named, by}, score})
	}
	slices.SortStableFunc(list, func(a, b scored) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.hit.Name, b.hit.Name))
	})
	var hits []Hit
	for _, s := range list {
		hits = append(hits, s.hit)
	}
	hits = mixed(hits)
	out.More = max(0, len(hits)-most)
	out.Hits = append(out.Hits, hits[:len(hits)-out.More]...)
	return out
}

// has reports whether any name, title or other name has the word or begins with it.
func (x *Index) has(word string) bool {
	return slices.ContainsFunc(x.words, func(w string) bool { return likeness(word, w) > 0 })
}

// ofKind puts what people mostly mean before what serves it.
var ofKind = map[string]float64{"rule": 1, "fact": 0.5, "part of a design": 0.5, "limit": -3, "source": -3}

// mostOfKind are so many of one kind that come before the best of the others.
const mostOfKind = 5

// mixed puts the best of each kind before the further ones of any, in order of their rank.
func mixed(list []Hit) []Hit {
	count := map[string]int{}
	var first, rest []Hit
	for _, h := range list {
		if count[h.Kind]++; count[h.Kind] <= mostOfKind {
			first = append(first, h)
		} else {
			rest = append(rest, h)
		}
	}
	return append(first, rest...)
}

// match scores an entry: n is how many words of the query it holds.
func (e *entry) match(query []string) (score float64, n int, by string) {
	for _, q := range query {
		name := max(inName*best(q, e.name), inPath*best(q, e.path))
		title := inTitle * best(q, e.title)
		also, at := 0.0, -1
		for i, phrase := range e.also {
			if v := inAlso * best(q, phrase); v > also {
				also, at = v, i
			}
		}
		top := max(name, title, also, inText*best(q, e.text))
		if top == 0 {
			continue
		}
		score, n = score+top, n+1
		if also == top && also > max(name, title) {
			by = e.Also[at]
		}
	}
	// Of two that hold the same words the one with fewer others is meant.
	return score + ofKind[e.Kind] - 0.01*float64(len(e.name)+len(e.path)+len(e.title)), n, by
}

func best(query string, words []string) float64 {
	top := 0.0
	for _, w := range words {
		top = max(top, likeness(query, w))
	}
	return top
}

// likeness is 1 for the same word, less for one that begins with it.
func likeness(query, word string) float64 {
	switch {
	case query == word:
		return 1
	case len(query) >= leastBegun && strings.HasPrefix(word, query):
		return begun
	}
	return 0
}

// wordsOf are the words of a text in small letters, the plural taken off.
func wordsOf(text string) []string {
	list := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for i, w := range list {
		if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") && !strings.HasSuffix(w, "us") {
			list[i] = w[:len(w)-1]
		}
	}
	return list
}

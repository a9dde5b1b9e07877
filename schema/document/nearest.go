package document

import "strings"

// maxWord is the longest word compared, in bytes; names and words of the schemas are shorter.
const maxWord = 64

// Nearest returns the entry of from that word is most likely a misspelling of, or "" when none is near. Case, and
// hyphens or spaces for underscores, do not count; a word of n letters may be (n+2)/3 edits away, an edit being one
// letter added, dropped, changed or swapped with its neighbour. Of equally near entries the first wins.
func Nearest(word string, from []string) string {
	word = plain(word)
	if word == "" || len(word) > maxWord {
		return ""
	}
	best, nearest := (len(word)+2)/3+1, ""
	if len(word) < 3 {
		best = 1 // of two letters, one changed is another word: uk is not us
	}
	for _, candidate := range from {
		if d := distance(word, plain(candidate), best); d < best {
			best, nearest = d, candidate
		}
	}
	return nearest
}

func plain(word string) string {
	return strings.Map(func(r rune) rune {
		if r == '-' || r == ' ' {
			return '_'
		}
		return r
	}, strings.ToLower(strings.TrimSpace(word)))
}

// distance is the optimal string alignment distance of a and b, or limit when it is not below limit.
func distance(a, b string, limit int) int {
	if len(b) > maxWord || len(a)-len(b) >= limit || len(b)-len(a) >= limit {
		return limit
	}
	var rows [3][maxWord + 1]int
	before, last, row := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := last[j-1]
			if a[i-1] != b[j-1] {
				change++
			}
			row[j] = min(last[j]+1, row[j-1]+1, change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return min(last[len(b)], limit)
}

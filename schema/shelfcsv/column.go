package shelfcsv

import (
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/words"
)

// own are the columns of the part itself, by what they are called.
var own = []struct {
	key   string
	forms []string
}{
	{"name", []string{"name", "part", "part no", "part number", "part name", "number", "no", "sku", "item", "item no", "article", "article no", "code"}},
	{"title", []string{"title", "description", "what it is", "text"}},
	{"kind", []string{"kind of part", "part kind", "type of part", "category", "shelf kind"}},
	{"price", []string{"price", "cost", "unit price", "each", "price each"}},
	{"stock", []string{"stock", "qty", "quantity", "on hand", "in stock", "there"}},
	{"notes", []string{"notes", "note", "remark", "remarks"}},
	{"read_from", []string{"read from", "source"}},
	{"read_on", []string{"read on", "date", "read"}},
}

// head is one column: what it is called, its unit, the key of the part itself that it holds, "" for a fact, and its place.
type head struct {
	text, unit, own string
	at              [2]int
}

func headOf(text string, at [2]int) head {
	h := head{text: strings.TrimSpace(text), at: at}
	if from := strings.IndexAny(h.text, "(["); from > 0 {
		h.unit = strings.Trim(h.text[from:], "()[] ")
		h.text = strings.TrimSpace(h.text[:from])
	}
	for _, column := range own {
		if slices.Contains(column.forms, words.Plain(h.text)) {
			h.own = column.key
		}
	}
	return h
}

// columns finds what each column holds, for every kind of part in the list, and says so.
func (l *list) columns() {
	for i := range l.heads {
		h := &l.heads[i]
		first := slices.IndexFunc(l.heads, func(x head) bool { return x.own == h.own })
		switch {
		case h.own != "" && first < i:
			l.problem(h.at, h.text, "the column "+document.Cut(l.heads[first].text)+" is the "+h.own+" already; this one is left out")
			l.out.Columns = append(l.out.Columns, document.Cut(h.text)+": left out")
			h.own = "again"
		case h.own != "":
			l.out.Columns = append(l.out.Columns, document.Cut(h.text)+": "+h.own)
		default:
			l.column(h)
		}
	}
}

// column finds the facts of one column.
func (l *list) column(h *head) {
	var taken []string
	for _, k := range l.kinds {
		key, unit := factOf(k, h.text)
		if key != "" && slices.Contains(l.keys[k], key) {
			l.problem(h.at, h.text, "another column is the "+spaced(key)+" already; this one is left out")
			key = ""
			l.seen[h.text] = true
		}
		if unit != "" {
			h.unit = unit
		}
		for len(l.keys[k]) < l.index(h) {
			l.keys[k] = append(l.keys[k], "")
		}
		l.keys[k] = append(l.keys[k], key)
		if key != "" {
			taken = append(taken, k.Name+"."+key)
		}
	}
	called := "not understood"
	switch {
	case len(taken) > 3:
		called = strings.Join(taken[:3], ", ") + " and others by kind"
	case len(taken) > 0:
		called = strings.Join(taken, ", ")
	case len(l.kinds) > 0 && !l.seen[h.text] && h.text != "":
		l.problem(h.at, h.text, "the column "+document.Cut(h.text)+" is no fact of "+l.called()+l.near(h.text))
		l.seen[h.text] = true
	}
	if h.text != "" {
		l.out.Columns = append(l.out.Columns, document.Cut(h.text)+": "+called)
	}
}

func (l *list) index(h *head) int {
	return slices.IndexFunc(l.heads, func(x head) bool { return x.at == h.at })
}

// called says of which parts the list is.
func (l *list) called() string {
	if len(l.kinds) == 1 {
		return article(l.kinds[0].Called())
	}
	return "any of its parts"
}

// near says which fact a column may mean: the one whose words hold all of its own, else the one spelled most like it.
func (l *list) near(text string) string {
	var names, holding []string
	for _, k := range l.kinds {
		for _, key := range facts(k) {
			name := spaced(key)
			names = append(names, name)
			all := strings.Fields(words.Plain(name) + " " + label(k.Type, key))
			inAll := func(word string) bool { return slices.Contains(all, word) }
			if !slices.ContainsFunc(strings.Fields(words.Plain(text)), func(word string) bool { return !inAll(word) }) && !slices.Contains(holding, name) {
				holding = append(holding, name)
			}
		}
	}
	for _, column := range own {
		names = append(names, column.key)
	}
	if len(holding) > 0 && len(holding) < 4 {
		return "; did you mean " + strings.Join(holding, " or ") + "?"
	}
	if near := document.Nearest(text, names); near != "" {
		return "; did you mean " + near + "?"
	}
	return ""
}

// facts are the keys of what a list may say of a kind: those of the part itself, and of its ports.
func facts(k *schema.ShelfKind) []string {
	var out []string
	for _, key := range k.Facts {
		at := slices.IndexFunc(schema.FieldsOf(k.Type), func(f schema.FieldInfo) bool { return f.Key == key })
		switch part := schema.FieldsOf(k.Type)[at].Part; part {
		case "":
			out = append(out, key)
		case "LineEnd":
			for _, own := range schema.Belonging(part) {
				out = append(out, key+"."+own)
			}
		}
	}
	return out
}

// factOf is the key of a fact of a kind that a column is called by, with the unit that stands at its end; "" for none or several.
func factOf(k *schema.ShelfKind, text string) (key, unit string) {
	if key = named(k, text); key != "" {
		return key, ""
	}
	at := strings.LastIndexAny(text, " ,")
	if at <= 0 {
		return "", ""
	}
	key, unit = named(k, strings.Trim(text[:at], " ,")), text[at+1:]
	for _, n := range []string{"1 ", "10 ", "100 ", "1000 "} { // within the range of one of them
		if key != "" && schema.CheckIn(k.Type, key, n+unit) == nil {
			return key, unit
		}
	}
	return "", ""
}

func named(k *schema.ShelfKind, text string) string {
	plain := words.Plain(text)
	for _, key := range facts(k) {
		if words.Plain(spaced(key)) == plain || label(k.Type, key) == plain {
			return key
		}
	}
	var found []string
	for _, hit := range words.Said(plain) {
		if hit.Value == nil && hit.Row.Part == k.Type && slices.Contains(facts(k), hit.Row.Key) && !slices.Contains(found, hit.Row.Key) {
			found = append(found, hit.Row.Key)
		}
	}
	if len(found) == 1 {
		return found[0]
	}
	return ""
}

// label is what the table of words calls a fact.
func label(part, key string) string {
	if row := words.Of(part, key); row != nil {
		return words.Plain(row.Label)
	}
	return ""
}

// spaced is a key in words: outlet size.
func spaced(key string) string { return strings.NewReplacer("_", " ", ".", " ").Replace(key) }

func article(name string) string {
	if strings.ContainsRune("aeiou", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}

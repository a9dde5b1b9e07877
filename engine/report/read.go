package report

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// ErrNoReport says that a text is JSON but no report: it lacks the keys every report has.
var ErrNoReport = errors.New("it lacks the keys format and reports")

// OtherFormat is the error for a report of another edition of the format than this program reads.
type OtherFormat int

// Error names both editions.
func (f OtherFormat) Error() string {
	return fmt.Sprintf("it is of format %d, and this program reads format %d", int(f), Format)
}

// ErrTooLarge says that a report would take too much memory to compare with.
var ErrTooLarge = errors.New("it takes more memory than a comparison is given")

// errSyntax says that a text is no JSON, or none that a report would be written in.
var errSyntax = errors.New("it cannot be read as JSON")

// What reading a report may take. A complete design takes some 80 kB of text and 300 kB of memory.
const (
	mostMemory = 120 << 20
	mostToken  = 1 << 20 // bytes of one text or number
	mostDepth  = 100
	mostJudged = 200_000 // findings of one design: rules times parts, as they stand in the rest
)

// Read reads a report that JSON wrote. It is strict, as the JSON Schema of reports is: by the Go types alone, every key
// must be known, those that are always written must be there, and words with a list must be of it. The error names the
// first place that does not fit. A report may come from anyone: it is read piece by piece, and no more is kept than fits.
func Read(from io.Reader) (*Document, error) {
	decoder := json.NewDecoder(&tokens{from: from})
	decoder.UseNumber()
	r := &reading{decoder: decoder, left: mostMemory, fields: map[reflect.Type]map[string]field{}}
	var doc Document
	format, reports, misfit := r.document(&doc)
	if r.err == nil {
		if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
			r.err = errSyntax
		}
	}
	switch {
	case r.err != nil:
		return nil, r.err
	case !reports || format < 1:
		return nil, ErrNoReport
	case format != Format:
		return nil, OtherFormat(format)
	case misfit != nil:
		return nil, misfit
	}
	for i := range doc.Reports {
		judged := len(doc.Reports[i].Findings)
		for _, x := range doc.Reports[i].Rest {
			judged += len(x.Rules) * (len(x.Met) + len(x.Open) + len(x.NotApplicable))
		}
		if judged > mostJudged {
			return nil, ErrTooLarge
		}
	}
	return &doc, nil
}

// tokens refuses texts and numbers that are too long before they are held whole.
type tokens struct {
	from            io.Reader
	long            int
	inText, escaped bool
}

// Read reads on.
func (t *tokens) Read(p []byte) (int, error) {
	n, err := t.from.Read(p)
	for _, b := range p[:n] {
		switch {
		case t.inText && t.escaped:
			t.escaped = false
		case t.inText && b == '\\':
			t.escaped = true
		case b == '"':
			t.inText, t.long = !t.inText, 0
			continue
		case !t.inText && strings.IndexByte("{}[],: \n\t\r", b) >= 0:
			t.long = 0
			continue
		}
		if t.long++; t.long > mostToken {
			return 0, errSyntax
		}
	}
	return n, err
}

// reading is a report being read.
type reading struct {
	decoder *json.Decoder
	depth   int
	// left is the memory that may still be taken; err is why reading ended before the text did.
	left   int64
	err    error
	fields map[reflect.Type]map[string]field
}

// field is one of a struct by its key.
type field struct {
	index    int
	optional bool
	words    []string
}

// token takes the next token; nil at the end or once reading has failed, which r.err says.
func (r *reading) token() any {
	if r.err != nil {
		return nil
	}
	t, err := r.decoder.Token()
	if err != nil {
		r.err = errSyntax
		return nil
	}
	switch t {
	case json.Delim('{'), json.Delim('['):
		if r.depth++; r.depth > mostDepth {
			r.err = errSyntax
		}
	case json.Delim('}'), json.Delim(']'):
		r.depth--
	}
	return t
}

// rest skips what is left of the values deeper than a depth.
func (r *reading) rest(depth int) {
	for r.err == nil && r.depth > depth {
		r.token()
	}
}

// skip skips one value.
func (r *reading) skip() {
	depth := r.depth
	r.token()
	r.rest(depth)
}

// take takes memory.
func (r *reading) take(n int) {
	if r.left -= int64(n); r.left < 0 && r.err == nil {
		r.err = ErrTooLarge
	}
}

// document reads the whole; what does not fit is told once the format is known.
func (r *reading) document(doc *Document) (format int, reports bool, misfit error) {
	if r.token() != json.Delim('{') {
		r.rest(0)
		return 0, false, nil
	}
	o := r.object(reflect.ValueOf(doc).Elem())
	for r.err == nil && r.decoder.More() {
		key, _ := r.token().(string)
		if misfit != nil && key != "format" && key != "reports" {
			r.skip()
			continue
		}
		depth := r.depth
		err := o.value(key)
		r.rest(depth)
		reports = reports || key == "reports" && !errors.Is(err, errNull)
		if misfit == nil {
			misfit = err
		}
	}
	r.token()
	if misfit == nil {
		misfit = o.end()
	}
	return doc.Format, reports, misfit
}

// errNull is the error for a null, of whatever is expected.
var errNull = errors.New("null")

// fill reads the next value into a Go value.
func (r *reading) fill(into reflect.Value) error {
	if into.Kind() == reflect.Pointer {
		into.Set(reflect.New(into.Type().Elem()))
		r.take(int(into.Type().Elem().Size()))
		return r.fill(into.Elem())
	}
	value := r.token()
	if r.err != nil {
		return r.err
	}
	switch into.Kind() {
	case reflect.Struct:
		if value == json.Delim('{') {
			return r.fillStruct(into)
		}
	case reflect.Slice:
		if value == json.Delim('[') {
			return r.fillSlice(into)
		}
	case reflect.Map:
		if value == json.Delim('{') {
			return r.fillMap(into)
		}
	case reflect.String:
		if s, ok := value.(string); ok {
			r.take(len(s))
			into.SetString(s)
			return nil
		}
	case reflect.Bool:
		if b, ok := value.(bool); ok {
			into.SetBool(b)
			return nil
		}
	case reflect.Int:
		if n, ok := value.(json.Number); ok {
			if i, err := strconv.Atoi(n.String()); err == nil {
				into.SetInt(int64(i))
				return nil
			}
		}
	case reflect.Float64:
		if n, ok := value.(json.Number); ok {
			if f, err := n.Float64(); err == nil {
				into.SetFloat(f)
				return nil
			}
		}
	}
	m := &misfit{text: fmt.Sprintf("%s is expected, not %s", kindWords(into.Kind()), jsonWords(value))}
	m.null = value == nil
	return m
}

// misfit is what does not fit, and where: at is its place, such as /reports/0/counts.
type misfit struct {
	at, text string
	null     bool
}

// Error names the place.
func (m *misfit) Error() string { return "at " + m.at + ": " + m.text }

// Is tells a null from other values.
func (m *misfit) Is(err error) bool { return m.null && m.at == "/reports" && err == errNull }

// below puts a key before the place of an error.
func below(err error, key string) error {
	if m, ok := err.(*misfit); ok {
		m.at = "/" + key + m.at
	}
	return err
}

// fillSlice reads a list to its end.
func (r *reading) fillSlice(into reflect.Value) error {
	into.Set(reflect.MakeSlice(into.Type(), 0, 0))
	size := 2 * int(into.Type().Elem().Size()) // it grows by doubling
	for i := 0; r.err == nil && r.decoder.More(); i++ {
		r.take(size)
		into.Set(reflect.Append(into, reflect.Zero(into.Type().Elem())))
		if err := r.fill(into.Index(i)); err != nil {
			return below(err, strconv.Itoa(i))
		}
	}
	r.token()
	return r.err
}

// mapEntry is about what an entry of a map takes beside its key and value.
const mapEntry = 48

func (r *reading) fillMap(into reflect.Value) error {
	into.Set(reflect.MakeMap(into.Type()))
	for r.err == nil && r.decoder.More() {
		key, _ := r.token().(string)
		item := reflect.New(into.Type().Elem()).Elem()
		r.take(len(key) + int(item.Type().Size()) + mapEntry)
		if err := r.fill(item); err != nil {
			return below(err, key)
		}
		into.SetMapIndex(reflect.ValueOf(key), item)
	}
	r.token()
	return r.err
}

func (r *reading) fillStruct(into reflect.Value) error {
	o := r.object(into)
	for r.err == nil && r.decoder.More() {
		key, _ := r.token().(string)
		if err := o.value(key); err != nil {
			return err
		}
	}
	if r.token(); r.err != nil {
		return r.err
	}
	return o.end()
}

// object is a struct being read: its fields, those that were there, and the first key that is none.
type object struct {
	*reading
	into    reflect.Value
	fields  map[string]field
	there   []bool
	unknown []string
}

func (r *reading) object(into reflect.Value) *object {
	t := into.Type()
	fields := r.fields[t]
	if fields == nil {
		fields = map[string]field{}
		for i := range t.NumField() {
			key, options, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
			fields[key] = field{i, strings.Contains(options, "omit"), wordsOf(t.Field(i))}
		}
		r.fields[t] = fields
	}
	return &object{reading: r, into: into, fields: fields, there: make([]bool, t.NumField())}
}

// value reads the value of a key.
func (o *object) value(key string) error {
	f, known := o.fields[key]
	if !known {
		if len(o.unknown) < mostDepth {
			o.unknown = append(o.unknown, key)
		}
		o.skip()
		return o.err
	}
	o.there[f.index] = true
	if err := o.fill(o.into.Field(f.index)); err != nil {
		return below(err, key)
	}
	if f.words != nil && !slices.Contains(f.words, o.into.Field(f.index).String()) {
		return below(&misfit{text: "one of " + strings.Join(f.words, ", ") + " is expected"}, key)
	}
	return nil
}

// end tells what was missing, and what no report has.
func (o *object) end() error {
	var missing []string
	for i := range o.there {
		key, options, _ := strings.Cut(o.into.Type().Field(i).Tag.Get("json"), ",")
		if !o.there[i] && !strings.Contains(options, "omit") {
			missing = append(missing, key)
		}
	}
	if len(missing) > 0 {
		return &misfit{at: "/", text: "missing " + strings.Join(missing, ", ")}
	}
	if len(o.unknown) > 0 {
		return &misfit{at: "/", text: fmt.Sprintf("a report has no key %q here", slices.Min(o.unknown))}
	}
	return nil
}

// wordsOf lists the words a field may hold, from the tag that the JSON Schema takes them from; nil for any.
func wordsOf(f reflect.StructField) []string {
	var words []string
	for part := range strings.SplitSeq(f.Tag.Get("jsonschema"), ",") {
		if word, ok := strings.CutPrefix(part, "enum="); ok {
			words = append(words, word)
		}
	}
	return words
}

func kindWords(k reflect.Kind) string {
	switch k {
	case reflect.Struct, reflect.Map:
		return "an object"
	case reflect.Slice:
		return "a list"
	case reflect.String:
		return "a text"
	case reflect.Bool:
		return "true or false"
	case reflect.Int:
		return "a whole number"
	}
	return "a number"
}

func jsonWords(value any) string {
	switch value.(type) {
	case nil:
		return "null"
	case json.Delim:
		if value == json.Delim('{') {
			return "an object"
		}
		return "a list"
	case string:
		return "a text"
	case bool:
		return "true or false"
	}
	return "a number"
}

package engine

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"maps"
	"path"
	"reflect"
	"slices"
	"sync"

	"gopkg.in/yaml.v3"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/document"
)

// An image is a library of packs read, checked and compiled beforehand: the packs as they were decoded, without their
// cases, and every expression as its checked tree. It judges exactly as its packs do, and opens some fifty times faster.

// imageFormat begins every image; the number is raised when its layout changes.
const imageFormat = "plumbline library image 1\n"

// imageHead is the length of what follows that: a checksum of the packs, what the expressions rest on, and a checksum of the rest.
const imageHead = 16

// ErrImage is the error of an image that does not belong to the packs, or to this program.
var ErrImage = errors.New("the library image does not belong to these packs and this program: go generate ./... writes it anew")

// WriteImage reads a library of packs and writes its image; the error holds every problem found. The same packs give
// the same bytes.
func WriteImage(folder fs.FS) ([]byte, error) {
	l, err := Load(folder)
	if err != nil {
		return nil, err
	}
	checked, err := vocabulary.WriteChecked(append(l.clones, l.vocabulary)...)
	if err != nil {
		return nil, err
	}
	sum, err := sumOf(folder)
	if err != nil {
		return nil, err
	}
	w := &imageWriter{numbers: map[string]int{}}
	w.value(reflect.ValueOf(l.edition))
	w.value(reflect.ValueOf(&l.shared).Elem())
	w.int(len(l.packs))
	for _, p := range l.packs {
		w.text(p.Path)
		w.value(reflect.ValueOf(p).Elem())
	}
	body := &imageWriter{}
	body.int(len(w.texts))
	for _, s := range w.texts {
		body.int(len(s))
		body.out = append(body.out, s...)
	}
	body.int(len(w.out))
	body.out = append(append(body.out, w.out...), checked...)
	head := binary.LittleEndian.AppendUint32([]byte(imageFormat), sum)
	head = binary.LittleEndian.AppendUint64(head, l.vocabulary.Fingerprint())
	head = binary.LittleEndian.AppendUint32(head, crc32.Checksum(body.out, castagnoli))
	return append(head, body.out...), nil
}

// castagnoli is the polynomial that processors have an instruction for.
var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// sumOf is a checksum over the names and bytes of the packs of a folder.
func sumOf(folder fs.FS) (uint32, error) {
	sum := crc32.New(castagnoli)
	buffer := make([]byte, 64<<10)
	err := fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(name) != ".yaml" {
			return err
		}
		f, err := folder.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		sum.Write([]byte(name))
		_, err = io.CopyBuffer(sum, struct{ io.Reader }{f}, buffer)
		return err
	})
	return sum.Sum32(), err
}

// OpenImage opens a library by its image, and reads the packs of further folders, which are local. folder holds the packs
// the image was made of; when they are not, or the program has changed, the error is ErrImage.
func OpenImage(folder fs.FS, image []byte, local ...fs.FS) (*Library, error) {
	rest, ok := bytes.CutPrefix(image, []byte(imageFormat))
	if !ok || len(rest) < imageHead || binary.LittleEndian.Uint32(rest[12:]) != crc32.Checksum(rest[imageHead:], castagnoli) {
		return nil, ErrImage
	}
	sum, err := sumOf(folder)
	if err != nil {
		return nil, err
	}
	v, err := vocabulary.New()
	if err != nil {
		return nil, err
	}
	if binary.LittleEndian.Uint32(rest) != sum || binary.LittleEndian.Uint64(rest[4:]) != v.Fingerprint() {
		return nil, ErrImage
	}
	l := newLibrary(v)
	checked, err := l.fromImage(rest[imageHead:])
	if err != nil {
		return nil, err
	}
	return l.load(checked, append([]fs.FS{nil}, local...))
}

// fromImage takes up the packs of an image; the expressions are returned.
func (l *Library) fromImage(data []byte) (*vocabulary.Checked, error) {
	r := &imageReader{data: data}
	n := r.count()
	block := string(r.data)
	r.texts = make([]string, n)
	for i := range r.texts {
		size := r.count()
		begin := len(block) - len(r.data)
		r.texts[i] = block[begin : begin+size]
		r.data = r.data[size:]
	}
	checked := r.data
	if size := r.count(); r.err == nil {
		checked, r.data = r.data[size:], r.data[:size]
	}
	r.value(reflect.ValueOf(&l.edition).Elem())
	r.value(reflect.ValueOf(&l.shared).Elem())
	for range r.count() {
		p := &pack.Pack{Path: r.text()}
		r.file = p.Path
		r.value(reflect.ValueOf(p).Elem())
		l.packs = append(l.packs, p)
		l.files[p.Pack] = &document.Reader{Path: p.Path}
	}
	if r.err != nil {
		return nil, r.err
	}
	return vocabulary.ReadChecked(checked)
}

// imageWriter writes the values packs are made of: whole numbers as varints, each text once.
type imageWriter struct {
	out     []byte
	texts   []string
	numbers map[string]int
}

func (w *imageWriter) int(n int) { w.out = binary.AppendUvarint(w.out, uint64(n)) }

func (w *imageWriter) text(s string) {
	n, ok := w.numbers[s]
	if !ok {
		n = len(w.texts)
		w.numbers[s], w.texts = n, append(w.texts, s)
	}
	w.int(n)
}

var (
	keptFields sync.Map // of []int by type
	placeType  = reflect.TypeFor[schema.Place]()
	nodeType   = reflect.TypeFor[*yaml.Node]()
	caseType   = reflect.TypeFor[[]pack.Case]()
)

// kept are the fields of a type that an image holds: those others can set, but no nodes of files and no cases.
func kept(t reflect.Type) []int {
	if out, ok := keptFields.Load(t); ok {
		return out.([]int)
	}
	var out []int
	for i := range t.NumField() {
		if f := t.Field(i); f.IsExported() && f.Type != nodeType && f.Type != caseType {
			out = append(out, i)
		}
	}
	keptFields.Store(t, out)
	return out
}

func (w *imageWriter) value(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		w.text(v.String())
	case reflect.Int:
		w.int(int(v.Int()))
	case reflect.Bool:
		w.out = append(w.out, map[bool]byte{true: 1}[v.Bool()])
	case reflect.Pointer:
		w.out = append(w.out, map[bool]byte{true: 1}[!v.IsNil()])
		if !v.IsNil() {
			w.value(v.Elem())
		}
	case reflect.Slice:
		w.int(v.Len())
		for i := range v.Len() {
			w.value(v.Index(i))
		}
	case reflect.Map:
		w.int(v.Len())
		for _, key := range slices.Sorted(maps.Keys(v.Interface().(map[string]pack.Scalar))) {
			w.text(key)
			w.value(v.MapIndex(reflect.ValueOf(key)))
		}
	case reflect.Struct:
		if v.Type() == placeType {
			w.int(int(v.FieldByName("Line").Int()))
			w.int(int(v.FieldByName("Column").Int()))
			return
		}
		for _, i := range kept(v.Type()) {
			w.value(v.Field(i))
		}
	default:
		panic(fmt.Sprintf("engine: an image holds no %s", v.Type()))
	}
}

// imageReader reads what an imageWriter wrote; damage ends it with err set.
type imageReader struct {
	data  []byte
	texts []string
	file  string
	err   error
}

func (r *imageReader) int() int {
	n, used := binary.Uvarint(r.data)
	if used <= 0 || n > 1<<31 {
		r.data, r.err = nil, ErrImage
		return 0
	}
	r.data = r.data[used:]
	return int(n)
}

// count is a number of things that follow, each at least a byte.
func (r *imageReader) count() int {
	if n := r.int(); n <= len(r.data) {
		return n
	}
	r.data, r.err = nil, ErrImage
	return 0
}

func (r *imageReader) flag() bool { return r.int() == 1 }

func (r *imageReader) text() string {
	if n := r.int(); n < len(r.texts) {
		return r.texts[n]
	}
	r.data, r.err = nil, ErrImage
	return ""
}

func (r *imageReader) value(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(r.text())
	case reflect.Int:
		v.SetInt(int64(r.int()))
	case reflect.Bool:
		v.SetBool(r.flag())
	case reflect.Pointer:
		if r.flag() {
			v.Set(reflect.New(v.Type().Elem()))
			r.value(v.Elem())
		}
	case reflect.Slice:
		if n := r.count(); n > 0 {
			v.Set(reflect.MakeSlice(v.Type(), n, n))
			for i := range n {
				r.value(v.Index(i))
			}
		}
	case reflect.Map:
		out := map[string]pack.Scalar{}
		for range r.count() {
			key := r.text()
			var s pack.Scalar
			r.value(reflect.ValueOf(&s).Elem())
			out[key] = s
		}
		v.Set(reflect.ValueOf(out))
	case reflect.Struct:
		if v.Type() == placeType {
			*v.Addr().Interface().(*schema.Place) = schema.Place{File: r.file, Line: r.int(), Column: r.int()}
			return
		}
		for _, i := range kept(v.Type()) {
			r.value(v.Field(i))
		}
	}
}

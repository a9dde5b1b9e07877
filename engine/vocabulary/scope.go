package vocabulary

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// Scope is one design being judged: where field access of a rule's
// expressions leads. It also notes what each evaluation read.
type Scope struct {
	session *derive.Session
	lists   map[any]ref.Val
	read    Reads
	// turn counts the calls of Start.
	turn  int
	cells cells
}

// Reads is what an evaluation touched, each once.
type Reads struct {
	// Facts are the stated facts read, in order of reading.
	Facts []schema.Reading
	// Derived are the derived values read.
	Derived []*derive.Result
	// Assumed are the paths of facts that were assumed.
	Assumed []string
	// Decided have read what decides which part was read, by a link, or what is assumed of a fact; they are no values.
	Decided []*derive.Result
}

// NewScope opens a design for evaluation.
func NewScope(s *derive.Session) *Scope {
	return &Scope{session: s, lists: map[any]ref.Val{}}
}

// Session gives the derived values of the design.
func (s *Scope) Session() *derive.Session { return s.session }

// Start forgets what was read so far.
func (s *Scope) Start() {
	s.turn++
	s.read = Reads{s.read.Facts[:0], s.read.Derived[:0], s.read.Assumed[:0], s.read.Decided[:0]}
}

// Reads tells what was read since Start. Its lists hold until the next Start.
func (s *Scope) Reads() Reads { return s.read }

// clone copies the lists of what was read.
func (r Reads) clone() Reads {
	return Reads{slices.Clone(r.Facts), slices.Clone(r.Derived), slices.Clone(r.Assumed), slices.Clone(r.Decided)}
}

// ErrAbsent is the error an expression stops with when it reads a part that
// the design says is not there.
type ErrAbsent struct{ Path string }

// Error says which part is absent.
func (e ErrAbsent) Error() string { return e.Path + " is none" }

// AbsentPart returns the part whose absence stopped an evaluation.
func AbsentPart(v ref.Val) (string, bool) {
	e, ok := v.(*types.Err)
	if !ok {
		return "", false
	}
	var absent ErrAbsent
	if errors.As(e, &absent) {
		return absent.Path, true
	}
	return "", false
}

// A reason is carried in an unknown's trail behind this mark, a fact's path without it.
const reasonMark = "!"

func unknownFact(path string) ref.Val {
	return types.NewUnknown(1, types.NewAttributeTrail(path))
}

// UnknownBecause makes an unknown that no fact can settle, with its reason.
func UnknownBecause(reason string) ref.Val {
	return types.NewUnknown(1, types.NewAttributeTrail(reasonMark+reason))
}

// Missing lists the facts an unknown waits for, and the reasons that are not
// missing facts; both sorted.
func Missing(v ref.Val) (facts, reasons []string) {
	u, ok := v.(*types.Unknown)
	if !ok {
		return nil, nil
	}
	for _, id := range u.IDs() {
		trails, _ := u.GetAttributeTrails(id)
		for _, t := range trails {
			name := t.Variable()
			if reason, is := strings.CutPrefix(name, reasonMark); is {
				reasons = append(reasons, reason)
			} else {
				facts = append(facts, name)
			}
		}
	}
	slices.Sort(facts)
	slices.Sort(reasons)
	return slices.Compact(facts), slices.Compact(reasons)
}

// object is a part of a design as CEL sees it.
type object struct {
	shape *shape
	part  reflect.Value // addressable struct
	scope *Scope
	point derive.Point
	// absent is set when the design says the part is not there, with its path.
	absent string
	// maybe is the optional wrapper the part sits in.
	maybe schema.Optional
	// row are the values of a table row; nil for parts.
	row map[string]ref.Val
	// cells are the fields read so far, by their place in the shape.
	cells []*cell
	// label is NameOf, once asked for.
	label *string
}

// ConvertToNative refuses: a part stays inside the rules.
func (o *object) ConvertToNative(t reflect.Type) (any, error) {
	return nil, fmt.Errorf("a part of a design is no %v", t)
}

// ConvertToType refuses: a part is nothing else.
func (o *object) ConvertToType(t ref.Type) ref.Val {
	return types.NewErr("a part of a design cannot become %s", t.TypeName())
}

// Equal compares identity.
func (o *object) Equal(other ref.Val) ref.Val { return types.Bool(other == ref.Val(o)) }

// Type is the part's CEL type.
func (o *object) Type() ref.Type { return types.NewObjectType(o.shape.name) }

// Value is the object itself, which field access works on.
func (o *object) Value() any { return o }

// PathOf is the design path of a part handed to a rule; empty for other values.
func PathOf(v ref.Val) string {
	if o, ok := v.(*object); ok && o.part.IsValid() {
		return o.part.Addr().Interface().(interface{ Path() string }).Path()
	}
	return ""
}

// NameOf is the value of a part's `name` or `kind` fact, for reports.
func NameOf(v ref.Val) string {
	o, ok := v.(*object)
	if !ok || !o.part.IsValid() {
		return ""
	}
	if o.label == nil {
		label := labelOf(o.part)
		if end, ok := o.part.Addr().Interface().(*schema.LineEnd); ok && o.scope != nil {
			if j := o.scope.session.JointAt(end); j != nil {
				label = j.Called()
			}
		}
		o.label = &label
	}
	return *o.label
}

// labels are the facts that name a part of some type, the first stated one counts.
var labels sync.Map // reflect.Type -> []int

func labelOf(part reflect.Value) string {
	known, ok := labels.Load(part.Type())
	if !ok {
		var at []int
		for _, key := range []string{"Name", "Kind", "Rule"} {
			if f, ok := part.Type().FieldByName(key); ok && len(f.Index) == 1 {
				at = append(at, f.Index[0])
			}
		}
		known, _ = labels.LoadOrStore(part.Type(), at)
	}
	for _, i := range known.([]int) {
		r, ok := part.Field(i).Addr().Interface().(schema.Reading)
		if !ok || !r.Known() {
			continue
		}
		word, ok := r.Any().(string)
		if !ok {
			word = fmt.Sprint(r.Any())
		}
		return strings.ReplaceAll(word, "_", " ")
	}
	return ""
}

// Native turns the Go value of a fact or derived value into CEL's.
func Native(v any) ref.Val { return native(v) }

package schema

// Kind says what a field of a part holds.
type Kind int

// Facts hold one of the first six; the rest are parts and lists.
const (
	KindText Kind = iota
	KindWord
	KindDate
	KindInt
	KindBool
	KindQuantity
	KindPart
	KindMaybe
	KindList
)

// String returns the kind's name in lower case.
func (k Kind) String() string {
	names := [...]string{"text", "word", "date", "whole number", "yes or no", "quantity", "part", "optional part", "list"}
	if k < 0 || int(k) >= len(names) {
		return "no kind"
	}
	return names[k]
}

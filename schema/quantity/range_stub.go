package quantity

import "strings"

// ParseRange is a stub.
func ParseRange(text string, d Dimension) (low, usual, high Value, err error) {
	parts := strings.Split(text, "..")
	last := parts[len(parts)-1]
	i := strings.LastIndexAny(strings.TrimRight(last, " "), "0123456789")
	for j, r := range last {
		if !strings.ContainsRune("0123456789./-+ ", r) {
			i = j - 1
			break
		}
	}
	unit := last[i+1:]
	var vs []Value
	for _, p := range parts {
		p = strings.TrimSpace(p)
		v, err := Parse(p, d)
		if err != nil {
			v, err = Parse(p+" "+unit, d)
		}
		if err != nil {
			return Value{}, Value{}, Value{}, err
		}
		vs = append(vs, v)
	}
	if len(vs) == 2 {
		m, _ := New((vs[0].SI()+vs[1].SI())/2, d)
		return vs[0], m, vs[1], nil
	}
	return vs[0], vs[1], vs[2], nil
}

package vocabulary

import (
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// provider tells cel-go about the types of parts and table rows.
type provider struct {
	types.Provider
	shapes shapes
}

// FindStructType reports a part's type.
func (p *provider) FindStructType(name string) (*types.Type, bool) {
	if _, ok := p.shapes[name]; ok {
		return types.NewTypeTypeWithParam(types.NewObjectType(name)), true
	}
	return p.Provider.FindStructType(name)
}

// FindStructFieldNames lists a part's fields, for suggestions.
func (p *provider) FindStructFieldNames(name string) ([]string, bool) {
	if s, ok := p.shapes[name]; ok {
		return s.order, true
	}
	return p.Provider.FindStructFieldNames(name)
}

// FindStructFieldType gives the access to one field.
func (p *provider) FindStructFieldType(name, key string) (*types.FieldType, bool) {
	s, ok := p.shapes[name]
	if !ok {
		return p.Provider.FindStructFieldType(name, key)
	}
	f, ok := s.fields[key]
	if !ok {
		return nil, false
	}
	return &types.FieldType{
		Type:  f.typ,
		IsSet: func(any) bool { return true },
		GetFrom: func(target any) (any, error) {
			switch o := target.(type) {
			case *types.Unknown:
				return o, nil
			case *object:
				return o.field(f)
			}
			return types.NewErr("%T has no field %s", target, key), nil
		},
	}, true
}

// NewValue refuses: rules read designs, they do not make parts.
func (p *provider) NewValue(name string, _ map[string]ref.Val) ref.Val {
	return types.NewErr("a rule cannot make a %s", name)
}

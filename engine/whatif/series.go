package whatif

import (
	"fmt"
	"strings"

	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Series are the sizes something is made in.
type Series struct {
	Name string
	// Facts are the facts that hold such a size, by type and key: Wire.size.
	Facts []string
	// Unit is in the text of facts of this series, where two serve one fact; "" for any.
	Unit string
	// Kinds are the kinds of the part they are made for, where a fact serves several, with NotStated for one whose kind nobody
	// stated; none for any.
	Kinds []string
	// Sizes rise, as a design writes them.
	Sizes []string
	// Called is what one of a size is called: a fuse of {size}.
	Called string
	// At is the fact beside it that says what the size holds at; nil for none.
	At *At
	// Because are the grounds.
	Because []pack.Reason
}

// At is the fact beside a size that says what it holds at: the pressure printed beside a flow.
type At struct {
	// Key is the key of the fact in the same part.
	Key string `yaml:"key" jsonschema:"required"`
	// Covers is a fact of the design that it has to reach; where what is stated does not, the least of Sizes that does is taken.
	Covers string   `yaml:"covers"`
	Sizes  []string `yaml:"sizes"`
	// Called is how it is said: at {at} or more.
	Called string `yaml:"called" jsonschema:"required"`
}

// NotStated stands among the kinds of a series for a part whose kind nobody stated.
const NotStated = "not stated"

type seriesFile struct {
	Series []struct {
		Name    string        `yaml:"name" jsonschema:"required"`
		Facts   []string      `yaml:"facts" jsonschema:"required"`
		Unit    string        `yaml:"unit"`
		Kinds   []string      `yaml:"kinds"`
		Sizes   []string      `yaml:"sizes" jsonschema:"required"`
		Called  string        `yaml:"called" jsonschema:"required"`
		At      *At           `yaml:"at"`
		Because []pack.Reason `yaml:"because" jsonschema:"required"`
	} `yaml:"series" jsonschema:"required"`
}

// ReadSeries reads a file of series. The error is of type document.Problems.
func ReadSeries(name string, data []byte) ([]Series, error) {
	var f seriesFile
	r, ok := pack.ReadAs(name, data, &f)
	var out []Series
	for _, s := range f.Series {
		for _, fact := range s.Facts {
			if _, known := fieldOf(fact); !known {
				r.Problem(nil, "series", fmt.Sprintf("%s: there is no fact %s", s.Name, fact), "")
				continue
			}
			part, key, _ := strings.Cut(fact, ".")
			last := 0.0
			for _, text := range s.Sizes {
				v, err := schema.ParseIn(part, key, text)
				if err != nil {
					r.Problem(nil, "series", fmt.Sprintf("%s: %s is no %s: %v", s.Name, text, fact, err), "")
				} else if size(v) <= last {
					r.Problem(nil, "series", fmt.Sprintf("%s: %s is no larger than the one before it; sizes rise", s.Name, text), "")
				}
				last = size(v)
			}
			if s.At == nil {
				continue
			}
			if _, known := fieldOf(part + "." + s.At.Key); !known {
				r.Problem(nil, "series", fmt.Sprintf("%s: there is no fact %s.%s", s.Name, part, s.At.Key), "")
			}
			for _, text := range s.At.Sizes {
				if _, err := schema.ParseIn(part, s.At.Key, text); err != nil {
					r.Problem(nil, "series", fmt.Sprintf("%s: %s is no %s: %v", s.Name, text, s.At.Key, err), "")
				}
			}
		}
		if !strings.Contains(s.Called, "{size}") || s.At != nil && !strings.Contains(s.At.Called, "{at}") {
			r.Problem(nil, "series", s.Name+": called has {size}, and that of its at has {at}", "")
		}
		out = append(out, Series(s))
	}
	if !ok || len(r.Problems) > 0 {
		return nil, document.Problems(r.Problems).Tidy()
	}
	return out, nil
}

// fieldOf finds a fact by its type and key.
func fieldOf(fact string) (schema.Description, bool) {
	part, name, _ := strings.Cut(fact, ".")
	d := schema.DescribeIn(part, "design."+name)
	return d, d.Field.Key != ""
}

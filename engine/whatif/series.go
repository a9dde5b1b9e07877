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
	// Kind is the kind of the part they are made for, where a fact serves several; "" for any.
	Kind string
	// Sizes rise, as a design writes them.
	Sizes []string
	// Because are the grounds.
	Because []pack.Reason
}

type seriesFile struct {
	Series []struct {
		Name    string        `yaml:"name" jsonschema:"required"`
		Facts   []string      `yaml:"facts" jsonschema:"required"`
		Unit    string        `yaml:"unit"`
		Kind    string        `yaml:"kind"`
		Sizes   []string      `yaml:"sizes" jsonschema:"required"`
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
			}
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

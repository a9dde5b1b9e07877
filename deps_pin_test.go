package plumbline_test

import (
	_ "github.com/google/cel-go/cel"
	_ "github.com/google/cel-go/ext"
	_ "github.com/invopop/jsonschema"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/santhosh-tekuri/jsonschema/v6"
	_ "github.com/spf13/cobra"
	_ "github.com/spf13/cobra/doc"
	_ "github.com/stretchr/testify/assert"
	_ "gonum.org/v1/gonum/mat"
	_ "gonum.org/v1/gonum/optimize"
	_ "gopkg.in/yaml.v3"
	_ "pgregory.net/rapid"
)

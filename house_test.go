// Package plumbline_test holds the checks on the house as a whole.
package plumbline_test

import (
	"encoding/json"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mayImport says which packages of ours each part of the house may import;
// a name ending in / covers everything below it.
var mayImport = map[string][]string{
	"plumbline/schema/document":       {},
	"plumbline/schema/quantity":       {},
	"plumbline/schema/amend":          {"plumbline/schema/document"},
	"plumbline/schema/words":          {},
	"plumbline/schema/settings":       {},
	"plumbline/schema/lines":          {"plumbline/schema", "plumbline/schema/"},
	"plumbline/schema/shelfcsv":       {"plumbline/schema", "plumbline/schema/document", "plumbline/schema/words"},
	"plumbline/schema":                {"plumbline/schema/"},
	"plumbline/schema/jsonschemagen":  {"plumbline/schema", "plumbline/schema/", "plumbline/engine", "plumbline/engine/pack", "plumbline/engine/report"},
	"plumbline/schema/generate":       {"plumbline/"},
	"plumbline/rules":                 {},
	"plumbline/rules/ledger":          {},
	"plumbline/designs":               {},
	"plumbline/engine/physics/":       {"plumbline/engine/physics/"},
	"plumbline/engine/physics":        {},
	"plumbline/engine/derive":         {"plumbline/engine/physics/", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/vocabulary":     {"plumbline/engine/derive", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/pack":           {"plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/pattern":        {"plumbline/engine/pack", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/sheet":          {"plumbline/engine", "plumbline/engine/derive", "plumbline/engine/diagnose", "plumbline/engine/pack", "plumbline/engine/whatif", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/internal/cores": {},
	"plumbline/engine/internal/rule":  {"plumbline/engine/pack", "plumbline/engine/vocabulary", "plumbline/engine/derive", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine":                {"plumbline/engine/internal/cores", "plumbline/engine/internal/rule", "plumbline/engine/pack", "plumbline/engine/pattern", "plumbline/engine/vocabulary", "plumbline/engine/derive", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/explain":        {"plumbline/engine", "plumbline/engine/derive", "plumbline/engine/pack", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/glossary":       {"plumbline/engine", "plumbline/engine/derive", "plumbline/engine/explain", "plumbline/engine/pack", "plumbline/engine/report", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/reference":      {"plumbline/engine", "plumbline/engine/explain", "plumbline/engine/glossary", "plumbline/engine/pack", "plumbline/engine/report", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/whatif":         {"plumbline/engine", "plumbline/engine/derive", "plumbline/engine/internal/cores", "plumbline/engine/pack", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/diagnose":       {"plumbline/engine", "plumbline/engine/derive", "plumbline/engine/pack", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/interview":      {"plumbline/engine", "plumbline/engine/pack", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/report":         {"plumbline/engine", "plumbline/engine/pack", "plumbline/engine/diagnose", "plumbline/engine/drawing", "plumbline/engine/interview", "plumbline/engine/sheet", "plumbline/engine/whatif", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/drawing":        {"plumbline/engine", "plumbline/engine/sheet"},
	"plumbline/engine/proof":          {"plumbline/engine", "plumbline/engine/internal/cores", "plumbline/engine/internal/rule", "plumbline/engine/pack", "plumbline/engine/vocabulary", "plumbline/engine/derive", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/editor":         {"plumbline/engine", "plumbline/engine/derive", "plumbline/engine/explain", "plumbline/engine/glossary", "plumbline/engine/internal/rule", "plumbline/engine/pack", "plumbline/engine/report", "plumbline/engine/vocabulary", "plumbline/schema", "plumbline/schema/"},
	"plumbline/engine/planted":        {"plumbline/engine", "plumbline/engine/internal/cores", "plumbline/engine/pack", "plumbline/schema"},
	"plumbline/cmd/plumbline":         {"plumbline/"},
	// What a run comes to: nothing of ours.
	"plumbline/cmd/plumbline/internal/exit": {},
	// A folder of a shop, for every face of the program; no face.
	"plumbline/cmd/plumbline/internal/shop": {"plumbline/cmd/plumbline/internal/exit", "plumbline/engine", "plumbline/engine/diagnose", "plumbline/engine/interview", "plumbline/engine/pattern", "plumbline/engine/report", "plumbline/engine/sheet", "plumbline/engine/whatif", "plumbline/schema", "plumbline/schema/"},
	// The open jobs of a folder: no face, and no file but by shop.
	// HTTP in, pages and drawings out: what is shown is the desk's, nothing is judged here.
	"plumbline/cmd/plumbline/internal/page": {"plumbline/cmd/plumbline/internal/desk", "plumbline/engine", "plumbline/engine/drawing", "plumbline/engine/interview",
		"plumbline/engine/pack", "plumbline/engine/report", "plumbline/engine/sheet", "plumbline/engine/whatif", "plumbline/schema", "plumbline/schema/"},
	"plumbline/cmd/plumbline/internal/desk": {"plumbline/cmd/plumbline/internal/flow", "plumbline/cmd/plumbline/internal/shop", "plumbline/engine", "plumbline/engine/derive", "plumbline/engine/diagnose", "plumbline/engine/explain", "plumbline/engine/interview", "plumbline/engine/pattern", "plumbline/engine/report", "plumbline/engine/sheet", "plumbline/engine/whatif", "plumbline/schema", "plumbline/schema/"},
	// The protocol of editors: what is answered comes from elsewhere.
	"plumbline/cmd/plumbline/internal/wire": {"plumbline/cmd/plumbline/internal/plain", "plumbline/engine/editor", "plumbline/schema", "plumbline/schema/document"},
	// A stream of anything in order: nothing of ours.
	"plumbline/cmd/plumbline/internal/flow": {},
	// A writer of anything: nothing of ours.
	"plumbline/cmd/plumbline/internal/plain": {},
}

// Arrows run one way through the house, physics knows no design, and the
// engine opens no files, reads no clock and knows no terminal.
func TestArrowsRunOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "./...").Output()
	require.NoError(t, err)
	dec := json.NewDecoder(strings.NewReader(string(out)))
	seen := 0
	for dec.More() {
		var p struct {
			ImportPath string
			Imports    []string
		}
		require.NoError(t, dec.Decode(&p))
		allowed, known := allowedFor(p.ImportPath)
		assert.True(t, known, "%s has no place in the house", p.ImportPath)
		seen++
		for _, i := range p.Imports {
			if strings.HasPrefix(i, "plumbline/") {
				assert.True(t, covered(allowed, i), "%s must not import %s", p.ImportPath, i)
			}
			if strings.HasPrefix(p.ImportPath, "plumbline/engine") && !strings.HasPrefix(p.ImportPath, "plumbline/engine/report") {
				assert.NotContains(t, []string{"os", "os/exec", "net", "net/http", "golang.org/x/term"}, i, "%s", p.ImportPath)
			}
		}
	}
	assert.Greater(t, seen, 10)
}

func allowedFor(path string) ([]string, bool) {
	if a, ok := mayImport[path]; ok {
		return a, true
	}
	for prefix, a := range mayImport {
		if strings.HasSuffix(prefix, "/") && strings.HasPrefix(path, prefix) {
			return a, true
		}
	}
	return nil, path == "plumbline"
}

func covered(allowed []string, path string) bool {
	for _, a := range allowed {
		if a == path || strings.HasSuffix(a, "/") && strings.HasPrefix(path, a) {
			return true
		}
	}
	return false
}

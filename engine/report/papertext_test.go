package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/sheet"
)

// The tables of a paper go into a spreadsheet: what would be reckoned there is a text, in cells, notes and names over rows, and each row
// has as many fields as the widest (RFC 4180).
func TestTablesForASpreadsheet(t *testing.T) {
	paper := &sheet.Paper{Blocks: []sheet.Block{
		{Table: &sheet.Table{Heads: []string{"a", "b"}, Rows: []sheet.Row{{Over: "=1+1"}, {Cells: []sheet.Cell{{Text: "-1+1|cmd"}, {Text: "-5 to 3 %"}}}}}},
		{Table: &sheet.Table{Heads: []string{"a", "b"}, Rows: []sheet.Row{{Cells: []sheet.Cell{{Text: "+x"}, {Text: "-12 mV"}}}}}},
		{Table: &sheet.Table{Heads: []string{"c"}, Rows: []sheet.Row{{Cells: []sheet.Cell{{Text: "@x"}}}}}},
	}}
	var b strings.Builder
	require.NoError(t, paperCSV(&b, paper))
	assert.Equal(t, "of,a,b\n'=1+1,'-1+1|cmd,-5 to 3 %\n,'+x,-12 mV\n,,\nof,c,\n,'@x,\n", b.String())
}

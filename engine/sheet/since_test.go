package sheet_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

func tableOf(heading string, rows ...sheet.Row) sheet.Paper {
	return sheet.Paper{Blocks: []sheet.Block{{Heading: heading, Table: &sheet.Table{Heads: []string{"no.", "what", "size"}, Rows: rows}}}}
}

func rowOf(texts ...string) sheet.Row {
	var r sheet.Row
	for _, t := range texts {
		r.Cells = append(r.Cells, sheet.Cell{Text: t})
	}
	return r
}

// A row that comes first shifts the numbers of all others: only what is otherwise is marked.
func TestSinceMarksWhatIsOtherwise(t *testing.T) {
	then := tableOf("Wires", rowOf("W1", "battery", "10 AWG"), rowOf("W2", "pump", "12 AWG"), rowOf("W3", "heater", "16 AWG"))
	then.Foot.Revision = "aaaa0000"
	now := tableOf("Wires", rowOf("W1", "switch", "18 AWG"), rowOf("W2", "battery", "10 AWG"), rowOf("W3", "pump", "10 AWG"))
	sheet.Since(&now, &then)
	require.Len(t, now.Blocks, 3)
	assert.Equal(t, []string{"Changed since revision aaaa0000: 2 rows, told by the word was or new; there no more: 1 row."}, now.Blocks[0].Paras)
	rows := now.Blocks[1].Table.Rows
	assert.True(t, rows[0].Cells[0].Fresh)
	assert.Equal(t, rowOf("W2", "battery", "10 AWG"), rows[1])
	assert.Equal(t, "12 AWG", rows[2].Cells[2].Was)
	assert.Equal(t, rowOf("Wires", "heater", "16 AWG"), now.Blocks[2].Table.Rows[0])

	// A column that says the same in every row may go or come: what stands in the others is not otherwise for that.
	wide, narrow := tableOf("Wires", rowOf("W1", "battery", "10 AWG"), rowOf("W2", "pump", "12 AWG")), tableOf("Wires", rowOf("W1", "10 AWG"), rowOf("W2", "14 AWG"))
	narrow.Blocks[0].Table.Heads = []string{"no.", "size"}
	sheet.Since(&narrow, &wide)
	assert.Equal(t, []string{"Changed since revision : 1 row, told by the word was or new; there no more: none."}, narrow.Blocks[0].Paras)
	assert.Equal(t, "12 AWG", narrow.Blocks[1].Table.Rows[1].Cells[1].Was)

	same := tableOf("Wires", rowOf("W1", "battery", "10 AWG"))
	sheet.Since(&same, &sheet.Paper{Blocks: tableOf("Wires", rowOf("W1", "battery", "10 AWG")).Blocks})
	assert.Contains(t, same.Blocks[0].Paras[0], "Nothing in the tables changed")
}

// What a blank asks for is a fact or list that the design does not state, so new can ask for it.
func TestBlanksAreFactsThatAreNotStated(t *testing.T) {
	asked := 0
	for _, file := range paperDesigns(t)[:3] {
		j := jobOf(t, file, quantity.Metric)
		for _, k := range sheet.Kinds() {
			for _, path := range sheet.Make(k.Name, j).Blanks() {
				asked++
				assert.NotEmpty(t, schema.Describe(path).Field.Key, "%s, %s: %s is no fact", file, k.Name, path)
				if f := j.Design.FactAt(path); f != nil {
					assert.False(t, f.Known(), "%s, %s: %s is stated", file, k.Name, path)
				}
			}
		}
	}
	assert.Greater(t, asked, 50)
}

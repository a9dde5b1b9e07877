package shelfcsv

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/document"
)

var boxed = Options{ReadFrom: "list", ReadOn: "2026-11-28"}

// onShelf reads a list, and what it became as a shelf.
func onShelf(t testing.TB, text string, o Options) (*Result, *schema.Shelf) {
	t.Helper()
	out, err := Read("l.csv", []byte(text), o)
	require.NoError(t, err)
	var files []schema.ShelfText
	for i, f := range out.Files {
		files = append(files, schema.ShelfText{Name: fmt.Sprint(i), Data: []byte(f)})
	}
	s, err := schema.ReadShelf(files)
	require.NoError(t, err, "what is written is read back")
	assert.Len(t, s.Parts, out.Parts)
	return out, s
}

const pumps = `Part No,Description,Category,Flow (L/h),Rated pressure (bar),Check valve,Outlet size mm,Price,Qty
FP-140,"Pump, frame, ""loud""",pump,140,3,yes,8,59.90,4
FP-190,Pump for the tank,Pumps,190,3.0,no,-,"$1,049.00",0
H-8,hose,hose,,,,,4.80,
`

func TestGoodLists(t *testing.T) {
	out, s := onShelf(t, strings.Replace(pumps, "H-8,hose,hose,,,,,4.80,\n", "", 1), boxed)
	require.Empty(t, out.NotUnderstood)
	p := s.Named("FP-140")
	require.NotNil(t, p)
	assert.Equal(t, `Pump, frame, "loud"`, p.Title.Text())
	assert.Equal(t, "140 L/h", p.Pump.RatedFlow.Text())
	assert.Equal(t, "3 bar", p.Pump.RatedPressure.Text())
	assert.Equal(t, "8 mm", p.Pump.Outlet.Size.Text())
	assert.Equal(t, "4", p.Stock.Text())
	assert.Equal(t, "list", p.ReadFrom.Text())
	price, _ := s.Named("FP-190").Price.Get()
	assert.InDelta(t, 1049, price.SI(), 0)
	assert.False(t, s.Named("FP-190").Pump.Outlet.Size.Known(), "a dash is nothing")
	assert.Equal(t, "Flow: pump.rated_flow", out.Columns[3])
}

// One list in the ways that programs save it: a mark at its beginning, other ends of lines, semicolons with decimal commas, tabs, a
// first line that names the sign.
func TestListsAsProgramsSaveThem(t *testing.T) {
	plain := "name,flow (L/h),pressure (bar),price\nA,140,3.5,59.90\nB,150,2.5,7.25\n"
	semicolons := strings.NewReplacer(",", ";", ".", ",").Replace(plain)
	for name, text := range map[string]string{
		"mark":       "\ufeff" + plain,
		"crlf":       strings.ReplaceAll(plain, "\n", "\r\n"),
		"cr":         strings.ReplaceAll(plain, "\n", "\r"),
		"semicolons": semicolons,
		"sep":        "sep=;\r\n" + strings.ReplaceAll(semicolons, "\n", "\r\n"),
		"tabs":       strings.ReplaceAll(plain, ",", "\t"),
		"all":        "\ufeff" + strings.ReplaceAll(semicolons, "\n", "\r\n"),
		"blank":      "\n" + strings.Replace(plain, "\nB", "\n,,,\n\nB", 1),
	} {
		o := boxed
		o.Kind = "pump"
		out, s := onShelf(t, strings.Replace(text, "pressure", "rated pressure", 1), o)
		require.Empty(t, out.NotUnderstood, name)
		require.Len(t, s.Parts, 2, name)
		assert.Equal(t, "3.5 bar", s.Parts[0].Pump.RatedPressure.Text(), name)
		assert.Equal(t, "7.25", s.Parts[1].Price.Text(), name)
	}
}

// What is not understood is told where it stands, and takes no more with it than it has to.
func TestListsWithMistakes(t *testing.T) {
	for _, c := range []struct {
		text, kind, wants string
		parts             int
	}{
		{"name,rated_flwo (L/h),rated pressure\nA,100,300 kPa\nB,100,300 kPa\n", "pump", "l.csv:1:6: the column rated_flwo is no fact of a pump; did you mean rated flow?", 2},
		{"name,Ethanol (%),rated pressure\nA,85,300 kPa\n", "pump", "l.csv:1:6: the column Ethanol is no fact of a pump; did you mean ethanol rating?", 1},
		{"name,rated pressure (bar)\nA,300 parsecs\nB,3\n", "pump", "l.csv:2:3: 300 parsecs: parsecs is not a unit of pressure; the units are Pa, kPa", 1},
		{"name,rated pressure\nA,300\nB,3 bar\n", "pump", "l.csv:2:3: 300: a pressure needs a unit; write 300 psi", 1},
		{"name,rated pressure\nA,\"1,250 kPa\"\nB,3 bar\n", "pump", "l.csv:2:3: 1,250 kPa: a comma in a number can be read in two ways", 1},
		{"name,rated pressure\nA,3 bar\nB,4 bar\nA,5 bar\n", "pump", "l.csv:4:1: the row is left out: line 2 has the name A already", 2},
		{"name,rated pressure\n,3 bar\n", "pump", "l.csv:2:1: the row is left out: it has no name", 0},
		{"name,rated pressure\nA#1,3 bar\n", "pump", "l.csv:2:1: the row is left out: a part's name is of letters", 0},
		{"name,rated pressure,price\nA,3 bar,on request\n", "pump", "l.csv:2:9: on request is no price", 1},
		{"name,rated pressure,stock\nA,3 bar,-2\n", "pump", "l.csv:2:9: -2 is no count", 1},
		{"name,price,rated pressure,cost\nA,3,3 bar,5\n", "pump", "l.csv:1:27: the column price is the price already; this one is left out", 1},
		{"name,flow (L/h),rated_flow (L/h)\nA,100,200\n", "pump", "l.csv:1:17: another column is the rated flow already; this one is left out", 1},
		{"name,rated pressure\nA,3 bar,5\n", "pump", "l.csv:2:9: the row has more cells than there are columns", 1},
		{"name,category,rating\nA,fuze,30 A\n", "", "l.csv:2:3: the row is left out: fuze is no kind of part; did you mean fuse?", 0},
		{"name,rating\nA,30 A\n", "", "l.csv:2:1: the row is left out: it is not said what this part is; name a column kind of part, or give --kind", 0},
		{"name,category,rating (A),flow (L/h)\nA,fuse,30,100\nP,pump,,100\n", "", "l.csv:2:11: the column flow is no fact of a fuse", 2},
		{"name,rated pressure,read from\nA,3 bar,hearsay\n", "pump", "l.csv:2:1: the row is left out: hearsay is not one of part, box", 0},
	} {
		o := boxed
		o.Kind = c.kind
		out, s := onShelf(t, c.text, o)
		require.NotEmpty(t, out.NotUnderstood, c.text)
		assert.Contains(t, out.NotUnderstood.Error(), c.wants, c.text)
		assert.Len(t, s.Parts, c.parts, c.text)
	}
	out, _ := onShelf(t, "name,rated_flwo (L/h),rated pressure\nA,100,3 bar\n", Options{Kind: "pump", ReadFrom: "list", ReadOn: "2026-11-28"})
	assert.Contains(t, out.Files[0], "# not understood: rated_flwo: 100\n", "it stands in the file")
}

// Cells that would say more than their column does.
func TestCellsThatWouldWriteYAML(t *testing.T) {
	out, s := onShelf(t, "name,title,notes,rated pressure,check valve\nA,\"x\n    stock: 7\",\"y\n  - name: z\",\"3 bar, place: in_tank\",\"yes}\n  - {name: q\"\nB,: {,'*a,3 bar,yes\n", Options{Kind: "pump", ReadFrom: "box\n    stock: 5", ReadOn: "2026-11-28"})
	assert.Empty(t, s.Parts, "where it was read is no such word")
	assert.Equal(t, 4, out.Left)
	out, s = onShelf(t, "name,title,notes,rated pressure,check valve\nA,\"x\n    stock: 7\",\"y\n  - name: z\",3 bar,\"yes}\n  - {name: q\"\nB,: {,'*a,3 bar,yes\n", Options{Kind: "pump", ReadFrom: "box", ReadOn: "2026-11-28"})
	require.Len(t, s.Parts, 2)
	assert.False(t, s.Parts[0].Stock.Known())
	assert.False(t, s.Parts[0].Pump.CheckValve.Known())
	assert.Equal(t, 1, out.Left)
}

func TestListsThatCannotBeRead(t *testing.T) {
	many := "name,rated pressure\n" + strings.Repeat("A,3 bar\n", schema.MaxShelfParts+1)
	for wants, text := range map[string]string{
		"l.csv holds no table":                        "",
		"l.csv holds no parts":                        "name,flow\n",
		"l.csv:1:1: no column is called name":         "Price list 2026\nname,flow (L/h)\nA,100\n",
		"l.csv:3:5: the table cannot be read":         "name,flow\nA,100\nB,\"1\"0\n",
		"is not in UTF-8; save it again":              "name,title\nA,caf\xe9\n",
		"more than 1048576 bytes; split it":           strings.Repeat("x", document.MaxBytes+1),
		"has more than 10000 rows; split it":          many,
		"has 300 columns; at most 200 are read":       strings.Repeat("a,", 299) + "b\n1\n",
		"l.csv is not in UTF-8; save it again as CSV": "\xff\xfen\x00a\x00m\x00e\x00",
	} {
		_, err := Read("l.csv", []byte(text), boxed)
		assert.ErrorContains(t, err, wants)
	}
}

// A list as long as one may be is read, in several files.
func TestLongLists(t *testing.T) {
	var b strings.Builder
	b.WriteString("name,rated pressure (kPa),flow (L/h)\n")
	for i := range 1001 {
		fmt.Fprintf(&b, "P-%d,300,%d\n", i, 60+i%100)
	}
	out, s := onShelf(t, b.String(), Options{Kind: "pump", ReadFrom: "list", ReadOn: "2026-11-28"})
	assert.Len(t, s.Parts, 1001)
	assert.Len(t, out.Files, 6)
	assert.Empty(t, out.NotUnderstood)
}

// Whatever a list holds, what is written of it is a shelf.
func FuzzRead(f *testing.F) {
	for _, text := range []string{pumps, "\ufeffname;rated pressure\r\nA;3 bar\r\n", "sep=;\nname;mark\nA;sae_j30_r9\n", "name,outlet kind,outlet size\nA,spigot,8 mm\n"} {
		f.Add([]byte(text), "")
		f.Add([]byte(text), "pump")
	}
	f.Fuzz(func(t *testing.T, data []byte, kind string) {
		if len(data) > 4096 {
			return
		}
		out, err := Read("l.csv", data, Options{Kind: kind, ReadFrom: "list", ReadOn: "2026-11-28"})
		if err != nil {
			return
		}
		var files []schema.ShelfText
		for i, text := range out.Files {
			files = append(files, schema.ShelfText{Name: fmt.Sprint(i), Data: []byte(text)})
		}
		if len(files) == 0 {
			return
		}
		s, err := schema.ReadShelf(files)
		require.NoError(t, err)
		assert.Len(t, s.Parts, out.Parts)
	})
}

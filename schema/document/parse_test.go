package document

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

func TestParseAccepts(t *testing.T) {
	for name, text := range map[string]string{
		"yaml":                    "a: 1\nb: [x, {c: 2.5}]\n",
		"json":                    "{\"a\": 1,\n\t\"b\": [\"x\", {\"c\": 2.5e0}]}",
		"document start":          "---\na: 1\n",
		"comments":                "# one\na: 1 # two\n",
		"byte order mark":         "\ufeffa: 1\n",
		"windows line ends":       "a: 1\r\nb: 2\r\n",
		"odd numbers in quotes":   "a: '0755'\nb: \"0x1F\"\nc: '12:30:00'\nd: '.inf'\n",
		"numbers inside a text":   "a: 1_000 psi\nb: 14 ft 6 in\nc: 0x1F and more\nd: -6\n",
		"decimal numbers":         "a: 0\nb: -1.50\nc: 2e-3\nd: .5\ne: +7\n",
		"a date":                  "a: 2026-11-25\n",
		"number as key":           "0755: octal\n",
		"a text with an asterisk": "a: '*x'\n",
		"32 deep":                 strings.Repeat("{a: ", 31) + "x" + strings.Repeat("}", 31),
	} {
		t.Run(name, func(t *testing.T) {
			root, err := Parse("f.yaml", []byte(text))
			require.NoError(t, err)
			assert.Equal(t, yaml.MappingNode, root.Kind)
		})
	}
}

// Character sets and the refused constructs are those of the YAML standard, version 1.2.2: 5.1 printable characters,
// 6.9.1 tags, 6.9.2 anchors, 7.1 aliases, 3.2.1.1 unique keys, 9.2 streams; octal and base 60 numbers and merge keys
// are those of YAML 1.1 (int, float and merge types).
func TestParseRefuses(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"empty file":        {"", "f:1:1: the file is empty; a mapping of keys to values is expected"},
		"only a comment":    {"# nothing\n", "f:1:1: the file is empty; a mapping of keys to values is expected"},
		"a list":            {"- 1\n", "f:1:1: a mapping of keys to values is expected, such as \"title: my truck\""},
		"a word":            {"\nfoo\n", "f:2:1: a mapping of keys to values is expected, such as \"title: my truck\""},
		"a bad byte":        {"a: ä\nb: x\xff\n", "f:2:5: this byte is not UTF-8 text; save the file as UTF-8"},
		"utf-16":            {"\xff\xfea\x00", "f:1:1: this byte is not UTF-8 text; save the file as UTF-8"},
		"nul":               {"a: x\x00y\n", "f:1:5: a NUL byte: this is not a text file; save it as UTF-8 text"},
		"bell":              {"ä: ö\a\n", "f:1:5: the invisible character U+0007 is not allowed; delete it"},
		"line separator":    {"a: x\u2028\n", "f:1:5: the invisible character U+2028 is not allowed; delete it"},
		"anchor":            {"a: &x 1\n", "f:1:4: an anchor (&x) is not allowed; write the value where it is needed"},
		"anchor on a key":   {"&x a: 1\n", "f:1:1: an anchor (&x) is not allowed; write the value where it is needed"},
		"alias":             {"a: &x 1\nb: *x\n", "f:1:4: an anchor (&x) is not allowed; write the value where it is needed\nf:2:4: an alias (*x) is not allowed; write the value out"},
		"unknown alias":     {"a: 1\nb: *x\n", "f:2:4: an alias (*x) is not allowed; write the value out, and put a text that begins with * in quotes"},
		"merge key":         {"a: 1\n<<: {b: 1}\n", "f:2:1: a merge key (<<) is not allowed; write the values out"},
		"binary tag":        {"a: !!binary eA==\n", "f:1:4: a tag (!!binary) is not allowed; leave it out, and put a text in quotes"},
		"custom tag":        {"a: !pump {b: 1}\n", "f:1:4: a tag (!pump) is not allowed; leave it out, and put a text in quotes"},
		"str tag":           {"a: !!str 1\n", "f:1:4: a tag (!!str) is not allowed; leave it out, and put a text in quotes"},
		"two documents":     {"a: 1\n---\nb: 2\n", "f:2:1: a second document begins here; a file holds one, without a line of ---"},
		"duplicate key":     {"a: 1\nb: 1\na: 2\n", "f:3:1: key a is already on line 1; keep one of them"},
		"duplicate inside":  {"a:\n  b: 1\n  'b': 2\n", "f:3:3: key b is already on line 2; keep one of them"},
		"empty key":         {"a: 1\n'': 2\n", "f:2:1: a key is missing before the colon"},
		"list as key":       {"? [a]\n: 1\n", "f:1:3: a key must be one word, not a list or mapping"},
		"octal":             {"a: 0755\n", "f:1:4: some readers take 0755 for an octal number; write 755, or put a text in quotes"},
		"negative octal":    {"a: -012\n", "f:1:4: some readers take -012 for an octal number; write -12, or put a text in quotes"},
		"leading zeros":     {"a: 00.50\n", "f:1:4: some readers take 00.50 for an octal number; write 0.50, or put a text in quotes"},
		"new octal":         {"a: 0o7\n", "f:1:4: a decimal number is expected, not 0o7; put a text in quotes"},
		"hex":               {"a: 0x1F\n", "f:1:4: a decimal number is expected, not 0x1F; put a text in quotes"},
		"binary":            {"a: 0b11\n", "f:1:4: a decimal number is expected, not 0b11; put a text in quotes"},
		"underscore":        {"a: [1_000]\n", "f:1:5: a number has no underscores; write 1000"},
		"base 60":           {"a: 12:30:00\n", "f:1:4: some readers take 12:30:00 for a number to base 60; put a text in quotes, give a duration with its unit"},
		"infinity":          {"a: -.inf\n", "f:1:4: -.inf is not a number that can be used; write a finite decimal number"},
		"not a number":      {"a: .NaN\n", "f:1:4: .NaN is not a number that can be used; write a finite decimal number"},
		"33 deep":           {strings.Repeat("{a: ", 32) + "x" + strings.Repeat("}", 32), "f:1:129: nested more than 32 deep"},
		"open quote":        {"b: 2\na: 'x\nc: 2\n", "f:2:1: the quote that begins here is not closed"},
		"open quote, first": {"a: \"x\nc: 2\n", "f:1:1: the quote that begins here is not closed"},
		"open list":         {"b: 2\na: [1, 2\nc: 3\n", "f:2:1: the list that begins here is not closed with ]"},
		"open mapping":      {"a: {b: 1\nc: 3\n", "f:1:1: the mapping that begins here is not closed with }"},
		"two colons":        {"a: 1\nb: c: d\n", "f:2:1: a colon where none is expected; put a text that holds \": \" in quotes, or mend the indentation"},
		"indentation":       {"x: 1\na:\n  b: 1\n c: 2\nd: 1\n", "f:4:2: a key is expected here; the indentation does not fit the lines above, or a bracket or quote is wrong"},
		"list indentation":  {"a:\n  - 1\n  b: 2\n", "f:3:3: a list item beginning with \"- \" is expected here; mend the indentation"},
		"no colon":          {"a: 1\nfoo\nb: 2\n", "f:2:1: \"key: value\" is expected; this line has no colon after its key"},
		"tab":               {"a:\n\tb: 1\n", "f:2:1: a tab in the indentation; indent with spaces"},
		"at sign":           {"a: 1\nb: @x\n", "f:2:1: a text that begins with %, @ or ` must be in quotes; indent with spaces, not tabs"},
		"surrogate pair":    {"{\"a\":\n\"\\ud83d\\ude00\"}", "f:2:1: not readable as YAML: found invalid Unicode character escape code"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("f", []byte(c.text))
			require.Error(t, err)
			assert.IsType(t, Problems{}, err)
			assert.Equal(t, c.want, err.Error())
		})
	}
}

func TestParseReportsAllAndKeepsTheTree(t *testing.T) {
	root, err := Parse("f", []byte("a: 0755\nb: &x {c: 1, c: 2}\n---\nd: 1\n"))
	require.NotNil(t, root)
	var problems Problems
	require.ErrorAs(t, err, &problems)
	require.Len(t, problems, 4)
	assert.Equal(t, Problem{Place: Place{"f", 1, 4}, Path: "a", Text: "0755", Suggest: "755",
		Message: "some readers take 0755 for an octal number; write 755, or put a text in quotes"}, problems[0])
	assert.Equal(t, "b", problems[1].Path)
	assert.Equal(t, "b.c", problems[2].Path)
	assert.Equal(t, Place{"f", 3, 1}, problems[3].Place)
}

// Each of these takes a reader without limits seconds, gigabytes or its stack; here the limit answers.
func TestParseHostile(t *testing.T) {
	const mib = 1 << 20
	fill := func(text string) string { return strings.Repeat(text, mib/len(text)-1) }
	const deep, many = "nested more than 32 deep", "the file holds more than 50000 keys and values"
	for name, c := range map[string]struct{ text, want string }{
		"100 MB":           {strings.Repeat("a: 1\n", 20<<20), "f:1:1: the file has 104857600 bytes; at most 1048576 are read"},
		"one byte over":    {strings.Repeat("#", mib+1), "f:1:1: the file has 1048577 bytes; at most 1048576 are read"},
		"brackets":         {fill("["), many},
		"fewer brackets":   {strings.Repeat("[", 100_000), deep},
		"braces":           {strings.Repeat("{a: ", 30_000), deep},
		"dashes":           {strings.Repeat("- ", 100_000), deep},
		"question marks":   {strings.Repeat("? ", 100_000), deep},
		"commas":           {"{" + fill("a,") + "}", many},
		"list items":       {"a:\n" + strings.Repeat("- a\n", 60_000), many},
		"keys":             {"a: {" + strings.Repeat("b: ,", 30_000) + "}", "key b is already on line 1; keep one of them"},
		"aliases":          {"a: &a [x]\nb: [" + strings.Repeat("*a,", 30_000) + "]", "an alias (*a) is not allowed; write the value out"},
		"billion laughs":   {laughs(), "an anchor (&a0) is not allowed; write the value where it is needed"},
		"documents":        {strings.Repeat("---\na: 1\n", 10_000), "a second document begins here; a file holds one, without a line of ---"},
		"comment only":     {fill("# \n"), "the file is empty; a mapping of keys to values is expected"},
		"open quote":       {"a: \"" + fill("xxxx"), "the quote that begins here is not closed"},
		"a line of blanks": {"a" + fill(" ") + ": 1\n b: 2", ""},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("f", []byte(c.text))
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
			assert.LessOrEqual(t, len(err.(Problems)), MaxProblems+1)
			assert.Less(t, len(err.Error()), 20_000)
		})
	}
}

// laughs is nine lists, each of nine references to the one before.
func laughs() string {
	var b strings.Builder
	b.WriteString("a: &a0 [lol]\n")
	for _, i := range []string{"0", "1", "2", "3", "4", "5", "6", "7", "8"} {
		b.WriteString("b" + i + ": &b" + i + " [" + strings.Repeat("*a0, ", 9) + "]\n")
	}
	return b.String()
}

func FuzzParse(f *testing.F) {
	for _, seed := range []string{"a: 1\n", "{\"a\": [1, {\"b\": null}]}", "a: &x [*x]\n", "- - -\n", "a: |\n  text\n b", "%YAML 1.2\n---\na: 1", "? \n", "a: 'x\n\n", "\ufeff{", "a:\r\n\t- 0x1"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		root, err := Parse("f", data)
		if err == nil {
			require.NotNil(t, root)
			require.Equal(t, yaml.MappingNode, root.Kind)
			return
		}
		lines := 1 + strings.Count(string(data), "\n") + strings.Count(string(data), "\r")
		for _, p := range err.(Problems)[:min(len(err.(Problems)), MaxProblems)] {
			require.NotEmpty(t, p.Message)
			require.True(t, p.Place.Line >= 1 && p.Place.Line <= lines && p.Place.Column >= 1, "%+v", p)
		}
	})
}

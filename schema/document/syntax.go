package document

import (
	"bytes"
	"errors"
	"io"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// bisectBytes is the largest file in which the line of a syntax error is searched by reading beginnings of the file
// again, about 15 times; above it the reader's own, sometimes earlier, line is shown.
const bisectBytes = 128 << 10

var (
	withLine      = regexp.MustCompile(`^yaml: line ([0-9]+): (.*)$`)
	unknownAnchor = regexp.MustCompile(`^unknown anchor '(.*)' referenced$`)
)

// syntaxProblem reads a text again that the YAML reader refused and says where and why, in plain words.
func syntaxProblem(file string, data []byte) Problem {
	line, reason := read(string(data))
	if name := unknownAnchor.FindStringSubmatch(reason); name != nil {
		at := max(bytes.Index(data, []byte("*"+name[1])), 0)
		before := data[:at]
		return Problem{
			Place:   Place{file, 1 + bytes.Count(before, []byte("\n")), 1 + utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:])},
			Text:    Cut("*" + name[1]),
			Message: "an alias (*" + Cut(name[1]) + ") is not allowed; write the value out, and put a text that begins with * in quotes",
		}
	}
	lines := strings.SplitAfter(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n")
	if len(data) <= bisectBytes && !endsEarly(reason) {
		line = 1 + sort.Search(len(lines)-1, func(i int) bool {
			_, same := read(strings.Join(lines[:i+1], ""))
			return same == reason
		})
	}
	line = min(max(line, 1), len(lines))
	text := strings.TrimRight(lines[line-1], "\n")
	indent := len(text) - len(strings.TrimLeft(text, " "))
	problem := Problem{Place: Place{file, line, 1 + indent}, Text: Cut(strings.TrimSpace(text)), Message: plainWords(reason)}
	if strings.HasPrefix(text[indent:], "\t") {
		problem.Message = "a tab in the indentation; indent with spaces"
	}
	return problem
}

// read reads all documents of a text and returns the reader's error: its line, counted from 1, and its reason; ""
// when the text is well-formed.
func read(text string) (line int, reason string) {
	// An empty line ahead: the reader gives no line, or a later one, for what begins on the first.
	decoder := yaml.NewDecoder(strings.NewReader("\n" + strings.TrimPrefix(text, string(byteOrderMark))))
	var err error
	for err == nil {
		err = decoder.Decode(new(yaml.Node))
	}
	if errors.Is(err, io.EOF) {
		return 0, ""
	}
	reason = strings.TrimPrefix(err.Error(), "yaml: ")
	if m := withLine.FindStringSubmatch(err.Error()); m != nil {
		line, _ = strconv.Atoi(m[1])
		reason = m[2]
	}
	if !strings.HasPrefix(reason, "did not find") {
		line-- // this kind is counted from 1, the other from 0; the empty line is taken off
	}
	if strings.HasPrefix(reason, "exceeded max depth") {
		reason = tooDeep
	}
	return line, reason
}

// endsEarly tells reasons that the end of a file alone can cause: beginnings of a good file have them too.
func endsEarly(reason string) bool {
	return strings.HasSuffix(reason, "end of stream") || strings.HasPrefix(reason, "did not find expected ','")
}

// plainWords says a reason of the YAML reader in the words of the bay, with what to do.
func plainWords(reason string) string {
	switch reason {
	case "mapping values are not allowed in this context":
		return "a colon where none is expected; put a text that holds \": \" in quotes, or mend the indentation"
	case "did not find expected key":
		return "a key is expected here; the indentation does not fit the lines above, or a bracket or quote is wrong"
	case "did not find expected '-' indicator":
		return "a list item beginning with \"- \" is expected here; mend the indentation"
	case "did not find expected ',' or ']'":
		return "the list that begins here is not closed with ]"
	case "did not find expected ',' or '}'":
		return "the mapping that begins here is not closed with }"
	case "could not find expected ':'":
		return "\"key: value\" is expected; this line has no colon after its key"
	case "found character that cannot start any token":
		return "a text that begins with %, @ or ` must be in quotes; indent with spaces, not tabs"
	case "found unexpected end of stream":
		return "the quote that begins here is not closed"
	case tooDeep:
		return reason
	}
	return "not readable as YAML: " + Cut(reason)
}

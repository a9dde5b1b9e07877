package document

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

// MaxBytes is the largest file read. A design with every fact stated is under 60 KB and the largest pack under 200 KB;
// 1 MiB leaves room, and bounds reading to about half a second and 250 MB whatever the bytes are.
const MaxBytes = 1 << 20

// maxMarks is how many of the characters that can begin a key or value (comma, colon, dash, brackets) a file may have.
// Within MaxNodes and with ordinary text none comes near it; it keeps 1 MiB of commas from the YAML reader.
const maxMarks = 3 * MaxNodes

// scan checks what must hold before the bytes may go to the YAML reader: size, characters, rough number of values.
func scan(file string, data []byte) (Problem, bool) {
	if len(data) > MaxBytes {
		return Problem{Place: Place{file, 1, 1},
			Message: fmt.Sprintf("the file has %d bytes; at most %d are read", len(data), MaxBytes)}, false
	}
	line, column, marks := 1, 1, 0
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if what := refusedCharacter(r, size, i); what != "" {
			return Problem{Place: Place{file, line, column}, Message: what}, false
		}
		switch r {
		case ',', ':', '-', '?', '[', '{':
			marks++
		}
		if marks > maxMarks {
			return Problem{Place: Place{file, line, column}, Message: tooMany}, false
		}
		switch {
		case r == '\n', r == '\r' && !bytes.HasPrefix(data[i+1:], []byte("\n")):
			line, column = line+1, 1
		case r != '\r' && r != byteOrderMark:
			column++
		}
		i += size
	}
	return Problem{}, true
}

const byteOrderMark = '\uFEFF'

// refusedCharacter says why a character may not stand in a file: what the YAML standard (1.2.2, section 5.1, printable
// characters) leaves out, and line separators that editors do not show as such.
func refusedCharacter(r rune, size, offset int) string {
	switch {
	case r == utf8.RuneError && size <= 1:
		return "this byte is not UTF-8 text; save the file as UTF-8"
	case r == 0:
		return "a NUL byte: this is not a text file; save it as UTF-8 text"
	case r == '\t', r == '\n', r == '\r', r == byteOrderMark && offset == 0:
		return ""
	case r < 0x20, r >= 0x7F && r < 0xA0, r == 0x2028, r == 0x2029, r == byteOrderMark, r == 0xFFFE, r == 0xFFFF:
		return fmt.Sprintf("the invisible character U+%04X is not allowed; delete it", r)
	}
	return ""
}

package quantity

import (
	"strconv"
	"strings"
)

// ParseWholeRange reads a range of whole numbers: 6..8, 6..7..8, 7 +- 1. is reports whether the text is written as a
// range. The usual number is the lower of two middles where none is written. Whole numbers have no width in percent,
// so about is refused. Every error is a *ParseError.
func ParseWholeRange(text string) (low, usual, high int, is bool, err error) {
	form, plain := formOf(text)
	refuse := func(reason, suggest string) (int, int, int, bool, error) {
		return 0, 0, 0, true, &ParseError{clip(text), None, reason, suggest}
	}
	const like = "write it like 6..8"
	switch {
	case form == single:
		return 0, 0, 0, false, nil
	case form == guessed:
		if n, err := strconv.Atoi(afterAbout(plain)); err == nil && n > -maxWhole && n < maxWhole {
			return refuse("a whole number has no width in percent", "write the two ends, such as "+wholeEnds(n-2, n+2))
		}
		return refuse("a whole number has no width in percent", "write the two ends, such as 6..8")
	case form == widened:
		left, right, _ := strings.Cut(plain, "+-")
		n, err1 := strconv.Atoi(strings.Trim(left, " "))
		wide, err2 := strconv.Atoi(strings.Trim(right, " "))
		if err1 != nil || err2 != nil || wide <= 0 || wide > maxWhole || n > maxWhole || n < -maxWhole {
			return refuse("a range of whole numbers has two whole ends", like)
		}
		return n - wide, n, n + wide, true, nil
	case form == doubtful:
		for _, dots := range withDots(plain) {
			if _, _, _, is, err := ParseWholeRange(dots); is && err == nil {
				return refuse("a range is written with two dots", "write "+dots)
			}
		}
		return 0, 0, 0, false, nil
	case strings.Contains(plain, "..."):
		return refuse("two dots stand between the ends of a range", like)
	}
	parts := strings.Split(plain, "..")
	numbers := make([]int, len(parts))
	for i, part := range parts {
		parts[i] = strings.Trim(part, " ")
		if numbers[i], err = strconv.Atoi(parts[i]); err != nil {
			return refuse("a range of whole numbers has a whole number, without unit, on either side of its dots", like)
		}
	}
	if len(parts) > 3 {
		return refuse("a range has two ends, and at most the likely number between them", like)
	}
	low, high = numbers[0], numbers[len(numbers)-1]
	usual = numbers[len(numbers)/2]
	if len(numbers) == 2 {
		usual = low + (high-low)/2
	}
	switch {
	case low == high:
		return refuse("the two ends of a range are the same", "write the number alone: "+parts[0])
	case low > high:
		return refuse("a range begins with the smaller end", "write "+strings.Join(turned(parts), ".."))
	case usual < low || usual > high:
		return refuse("the likely number in the middle of a range lies between its ends", "write "+wholeEnds(low, high))
	}
	return low, usual, high, true, nil
}

// maxWhole keeps sums of whole numbers from running over.
const maxWhole = 1 << 30

func wholeEnds(low, high int) string { return strconv.Itoa(low) + ".." + strconv.Itoa(high) }

package vocabulary

// Operators lists what rules may write beside the functions and the units: CEL's own, as far as rules use them. Each example
// is true.
func Operators() []Function {
	return []Function{
		{Name: "&&", Signature: "a && b, a || b, !a -> bool", Example: "true && !(false || false)", Doc: "and, or, not; with something unknown the rest decides where it can"},
		{Name: "?:", Signature: "condition ? a : b", Example: "(2 > 1 ? 'more' : 'less') == 'more'", Doc: "a where the condition holds, else b"},
		{Name: "==", Signature: "a == b, a != b -> bool", Example: "'in_tank' != 'frame_rail'", Doc: "the same word, truth, day or whole number; for quantities and fractions say within"},
		{Name: "<", Signature: "a < b, a <= b, a > b, a >= b -> bool", Example: "psi(40) < kPa(300)", Doc: "which is less, of two quantities of one dimension, two numbers or two days"},
		{Name: "in", Signature: "a in [b, c] -> bool", Example: "'tube' in ['hose', 'tube']", Doc: "one of a list of words, or a row of a table: a in table.NAME"},
		{Name: "+", Signature: "a + b, a - b, -a", Example: "mm(20) + inch(1) > mm(45)", Doc: "sum and difference of two quantities of one dimension or two numbers; temperatures and absolute pressures have rise and difference"},
		{Name: "*", Signature: "quantity * number, quantity * quantity", Example: "A(10) * mohm(20) < V(0.3)", Doc: "a quantity scaled, or the product of two: its dimension follows from theirs, current times resistance is a voltage; a product that has no name may be used on the way (explain units)"},
		{Name: "/", Signature: "quantity / number, quantity / quantity", Example: "L(1) / L_per_h(120) > s(29)", Doc: "a part of a quantity, or the quotient of two: of one dimension a plain number, of others what their dimensions make, volume by flow a time"},
		{Name: "%", Signature: "a % b -> whole number", Example: "9 % 2 == 1", Doc: "what is left of a whole number divided by another"},
		{Name: "[ ]", Signature: "table.NAME[word].COLUMN", Example: "['a', 'b'][1] == 'b'", Doc: "the row of a table, or a place in a list whose size was asked first"},
		{Name: "all", Signature: "list.all(x, condition) -> bool", Example: "[1, 2].all(x, x > 0)", Doc: "every item meets the condition; true of an empty list"},
		{Name: "exists", Signature: "list.exists(x, condition) -> bool", Example: "[1, 2].exists(x, x > 1)", Doc: "one item at least meets the condition"},
		{Name: "exists_one", Signature: "list.exists_one(x, condition) -> bool", Example: "[1, 2].exists_one(x, x > 1)", Doc: "exactly one item meets the condition"},
		{Name: "filter", Signature: "list.filter(x, condition) -> list", Example: "size([1, 2, 3].filter(x, x > 1)) == 2", Doc: "the items that meet the condition"},
		{Name: "map", Signature: "list.map(x, value) -> list", Example: "[1, 2].map(x, x * 2).exists(y, y == 4)", Doc: "a value made of each item"},
		{Name: "size", Signature: "size(list) -> whole number", Example: "size(['a', 'b']) == 2", Doc: "how many items; of a list that is not complete it is unknown"},
		{Name: "matches", Signature: "text.matches(pattern) -> bool", Example: "'IP 67'.matches('^IP ?[0-9]+$')", Doc: "a regular expression finds something in the text; contains, startsWith and endsWith look for a text itself"},
		{Name: "double", Signature: "double(whole number) -> number, int(number) -> whole number", Example: "double(8) / 2.0 > 3.9 && int(3.9) == 3", Doc: "numbers with and without a fraction are two kinds: 2 is whole, 2.0 is not"},
		{Name: "q", Signature: "q('3/8 in') -> quantity", Example: "q('3/8 in') > mm(9)", Doc: "a quantity as a design writes it; a unit by its own name is shorter: inch(0.375)"},
	}
}

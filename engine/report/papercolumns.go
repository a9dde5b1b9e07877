package report

import (
	"math"
	"strconv"
	"unicode/utf8"

	"plumbline/engine/sheet"
)

// How many letters a table holds beside each other on paper, over the whole width and over half of it.
const (
	pageTable = 104
	halfTable = 48
)

// columns shares the width of a table out so that its rows are as low as can be: left to itself a browser gives short columns
// too much.
func (p *page) columns(t *sheet.Table, letters int) {
	widths := lowestRows(t, letters)
	sum := 0
	for _, n := range widths {
		sum += n
	}
	p.WriteString("<colgroup>")
	for _, n := range widths {
		p.WriteString(`<col width="` + strconv.FormatFloat(float64(n)/float64(sum)*100, 'f', 1, 64) + `%">`)
	}
	p.WriteString("</colgroup>\n")
}

// lowestRows gives each column what its longest word needs, and then letter by letter the rest to the column where it lowers the rows
// most. The width of the rims of a cell is counted as two letters.
func lowestRows(t *sheet.Table, letters int) []int {
	n := len(t.Heads)
	long := make([][]float64, 0, len(t.Rows)+1) // how long the text of each cell of a row is
	widths := make([]int, n)
	see := func(texts func(k int) string) {
		row := make([]float64, n)
		for k := range n {
			text := texts(k)
			row[k] = float64(utf8.RuneCountInString(text))
			if figures := utf8.RuneCountInString(text); figures <= mostFigures && shortCell(text) {
				widths[k] = max(widths[k], figures)
			}
			for _, word := range pieces(text) {
				widths[k] = max(widths[k], utf8.RuneCountInString(word))
			}
		}
		long = append(long, row)
	}
	see(func(k int) string { return t.Heads[k] })
	for i := range t.Rows {
		if cells := t.Rows[i].Cells; len(cells) >= n {
			see(func(k int) string { return cellWords(&cells[k]) })
		}
	}
	// How much one column costs at a width: a row is as high as its highest cell, so what is high counts far more.
	cost := func(k, width int) (sum float64) {
		for _, row := range long {
			sum += math.Pow(math.Max(1, row[k]*1.08/float64(width)), 5)
		}
		return sum
	}
	left := letters
	costs, gains := make([]float64, n), make([]float64, n)
	for k := range n {
		widths[k] = max(widths[k], 3)
		left -= widths[k] + 2
		costs[k] = cost(k, widths[k])
		gains[k] = costs[k] - cost(k, widths[k]+1)
	}
	for ; left > 0; left-- {
		best := 0
		for k := range n {
			if gains[k] > gains[best] {
				best = k
			}
		}
		widths[best]++
		costs[best] -= gains[best]
		gains[best] = costs[best] - cost(best, widths[best]+1)
	}
	for k := range n {
		widths[k] += 2
	}
	return widths
}

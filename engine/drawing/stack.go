package drawing

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

var sizeOf = regexp.MustCompile(`viewBox="0 0 ([0-9.]+) ([0-9.]+)"`)

var titleOf = regexp.MustCompile(`<title[^>]*>([^<]*)</title>`)

// Stack puts drawings one below the other into one, each in its own size and below its title.
func Stack(drawings []string, title string, o Options) string {
	c := &canvas{id: o.ID}
	y := 0.0
	for _, svg := range drawings {
		size := sizeOf.FindStringSubmatch(svg)
		if size == nil {
			continue
		}
		wide, _ := strconv.ParseFloat(size[1], 64)
		high, _ := strconv.ParseFloat(size[2], 64)
		if name := titleOf.FindStringSubmatch(svg); name != nil {
			fmt.Fprintf(&c.b, `<text x="4" y="%s" font-size="14" font-weight="600">%s</text>`, number(y+16), name[1]) // written as markup there already
			y += 24
		}
		c.b.WriteString(strings.Replace(svg, "<svg ", fmt.Sprintf(`<svg y="%s" `, number(y)), 1))
		y += high + 24
		o.Width = math.Max(o.Width, wide)
	}
	return sized(c.whole(o, y, title, fmt.Sprintf("%d drawings, one below the other", len(drawings))), o.Width, y)
}

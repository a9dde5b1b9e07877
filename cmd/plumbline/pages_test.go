package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/designs"
	"plumbline/rules"
	"plumbline/testdata/proofs"
)

// looked is what a browser says of a page at one width.
type looked struct {
	// Wide are the elements that stand out of the window, Over the pairs of texts of one drawing that cover each other, Cut the
	// texts that leave their drawing, Loads what was fetched.
	Wide, Over, Cut, Loads []string
}

// look runs in the page.
const look = `(() => {
  const out = {Wide: [], Over: [], Cut: [], Loads: performance.getEntriesByType('resource').map(r => r.name)};
  for (const e of document.querySelectorAll('[src], [srcset], link, script, iframe, object, embed, image, use:not([href^="#"])')) out.Loads.push(e.outerHTML.slice(0, 80));
  for (const e of document.querySelectorAll('style')) if (/url\(|@import/.test(e.textContent)) out.Loads.push('style');
  const name = e => e.tagName + ' ' + (e.textContent || '').trim().slice(0, 50);
  for (const e of document.querySelectorAll('body *')) {
    if (e.closest('.vh') || e.closest('thead')) continue;
    const r = e.getBoundingClientRect();
    if (r.width > 0 && (r.right > innerWidth + 1 || r.left < -1)) out.Wide.push(name(e));
  }
  for (const e of document.querySelectorAll('td, th')) {
    if (e.clientWidth > 0 && !e.closest('thead') && e.scrollWidth > e.clientWidth + 1) out.Cut.push(name(e) + ' ' + (e.dataset.head || ''));
  }
  const blocks = [...document.querySelectorAll('h1, h2, h3, p, li, td, th, figure, summary, caption')].filter(e => !e.closest('.vh') && !e.closest('thead') && (e.tagName === 'SUMMARY' || !e.closest('details:not([open])')))
    .map(e => [e, e.getBoundingClientRect()]).filter(([e, r]) => r.width > 2 && r.height > 2);
  blocks.forEach(([e, r], i) => {
    for (const [o, q] of blocks.slice(i + 1)) {
      const x = Math.min(r.right, q.right) - Math.max(r.left, q.left), y = Math.min(r.bottom, q.bottom) - Math.max(r.top, q.top);
      if (x > 2 && y > 2 && !e.contains(o) && !o.contains(e)) out.Over.push(name(e) + ' / ' + name(o));
    }
  });
  for (const svg of document.querySelectorAll('svg')) {
    const frame = svg.getBoundingClientRect();
    if (frame.width === 0) continue;
    const texts = [...svg.querySelectorAll('text')].map(e => [e, e.getBoundingClientRect()]);
    texts.forEach(([e, r], i) => {
      if (r.right > frame.right + 1 || r.left < frame.left - 1 || r.bottom > frame.bottom + 1) out.Cut.push(name(e));
      for (const [o, q] of texts.slice(i + 1)) {
        const x = Math.min(r.right, q.right) - Math.max(r.left, q.left), y = Math.min(r.bottom, q.bottom) - Math.max(r.top, q.top);
        if (x > 1.5 && y > 4) out.Over.push(name(e) + ' / ' + name(o));
      }
    });
  }
  return JSON.stringify(out);
})()`

// pagesOf writes the report and sheets of a design as pages, one a file.
func pagesOf(t *testing.T, folder, design string, papers []string) []string {
	name := strings.TrimSuffix(filepath.Base(design), ".yaml")
	var out []string
	write := func(called string, args ...string) {
		file := filepath.Join(folder, name+"-"+called+".html")
		c, _, errs := command("")
		c.Rules, c.Image, c.Patterns = rules.Files(), rules.Image(), designs.Patterns()
		require.LessOrEqual(t, c.Run(append(args, "--format", "html", "--output", file)), exit.Blocked, errs.String())
		out = append(out, file)
	}
	write("report", "check", design)
	for _, paper := range papers {
		write(paper, "sheet", paper, design)
	}
	return out
}

// printedPages are how many pages each paper of a complete job takes at most, A4 or Letter. Those that take more than one do so for a reason.
var printedPages = map[string]int{
	"before": 1, "card": 1, "pump": 1,
	"quote":     3, // both sides of what is signed, and what is refused
	"parts":     4, // a row for each part, as a till reads it
	"fuel":      4, // a drawing for each line there is, and a row for each piece
	"wires":     3, // a row for each wire
	"holes":     4, // outlines are as large as the part
	"current":   6, // a ladder for each circuit
	"start-up":  3, // some forty steps between four gates
	"measured":  3, // as many readings, and what they point to
	"hand-over": 3, // it stays with the vehicle, signed on the last page
}

// updateLooks writes the pictures that are kept for people to look at.
var updateLooks = flag.Bool("update-looks", false, "write the pictures in testdata/looks anew")

// pictured is the design whose report and papers are kept as pictures.
const pictured = "four-faulty"

// browser starts Chromium; the test is skipped where there is none.
func browser(t *testing.T) context.Context {
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
		}
	}
	if path == "" {
		proofs.Lacking(t, "Chromium", "it is not installed (Debian: chromium)")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU)
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 9*time.Minute)
	t.Cleanup(cancel)
	return ctx
}

// axeCore is the text of axe-core; "" where the machine has none.
func axeCore(t *testing.T) string {
	dir := os.Getenv("PLUMBLINE_AXE")
	if dir == "" {
		t.Log("axe-core was not asked: PLUMBLINE_AXE names no node_modules folder that holds it")
		return ""
	}
	text, err := os.ReadFile(filepath.Join(dir, "axe-core", "axe.min.js"))
	require.NoError(t, err)
	return string(text)
}

// Report and sheets are opened in a browser at the widths of a phone, a tablet and a desk and printed: nothing stands out of the
// window, covers something else or is cut off, nothing is loaded, and axe-core finds nothing serious in light, dark, forced
// colours and print. Each finding of a report is reached by the keyboard. No paper is longer than it may be.
func TestPagesAreSoundInABrowser(t *testing.T) {
	ctx, axe := browser(t), axeCore(t)
	folder, worked := t.TempDir(), 0
	for _, x := range proofs.Sample([]struct {
		design string
		papers []string
	}{{pictured, sheetKinds()}, {"counter-half-known", []string{"quote", "fuel", "pump", "holes", "card"}}, {"six-return", []string{"start-up", "current", "holes"}}}, 3) { // what a half-known design draws otherwise
		for _, file := range proofs.Sample(pagesOf(t, folder, filepath.Join("..", "..", "designs", "demo", x.design+".yaml"), x.papers), 5) {
			worked++
			at(t, ctx, file, axe)
		}
	}
	assert.Positive(t, worked)
	proofs.Ran(t, "Chromium")
	if axe != "" {
		proofs.Ran(t, "axe-core")
	}
}

// lookAt asks the page that is open what is wrong with it.
func lookAt(t *testing.T, ctx context.Context, name string) (l looked) {
	var text string
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(look, &text)), name)
	require.NoError(t, json.Unmarshal([]byte(text), &l))
	return l
}

// at opens one page at each width and looks at it.
func at(t *testing.T, ctx context.Context, file, axe string) {
	name := filepath.Base(file)
	require.NoError(t, chromedp.Run(ctx, emulation.SetEmulatedMedia().WithMedia("screen")), name) // the page before was asked as print at last
	for i, width := range []int64{390, 768, 1440} {
		actions := []chromedp.Action{emulation.SetDeviceMetricsOverride(width, 1000, 1, false)}
		if i == 0 {
			actions = append(actions, chromedp.Navigate("file://"+file))
		}
		require.NoError(t, chromedp.Run(ctx, actions...), name)
		sound(t, lookAt(t, ctx, name), fmt.Sprintf("%s at %d px", name, width))
		keep(t, ctx, name, fmt.Sprint(width), width)
	}
	assert.Empty(t, unreached(t, ctx), "%s: the keyboard does not reach these", name)
	printed(t, ctx, name)
	for _, paper := range [][2]float64{{8.27, 11.69}, {8.5, 11}} { // A4 and Letter, in inches
		var pdf []byte
		require.NoError(t, chromedp.Run(ctx, chromedp.ActionFunc(func(ctx context.Context) (err error) {
			pdf, _, err = page.PrintToPDF().WithPreferCSSPageSize(true).WithPaperWidth(paper[0]).WithPaperHeight(paper[1]).Do(ctx)
			return err
		})), name)
		assert.Contains(t, string(pdf[:8]), "%PDF", name)
		pages := len(onePage.FindAll(pdf, -1))
		assert.Positive(t, pages, name)
		for paper, most := range printedPages {
			if strings.HasSuffix(name, "-"+paper+".html") {
				assert.LessOrEqual(t, pages, most, "%s: so many pages are not allowed", name)
			}
		}
	}
	if axe != "" {
		accessible(t, ctx, name, axe)
	}
}

// sound holds that nothing was found at a page.
func sound(t *testing.T, l looked, where string) {
	assert.Empty(t, l.Wide, "%s: stands out", where)
	assert.Empty(t, l.Over, "%s: covers another", where)
	assert.Empty(t, l.Cut, "%s: is cut off", where)
	assert.Empty(t, l.Loads, "%s: loads something", where)
}

// unreached are the findings of a page that the key Tab does not lead to: each has a link, and the link has something to lead to.
func unreached(t *testing.T, ctx context.Context) (out []string) {
	var ids []string
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`[...document.querySelectorAll('article.finding h3')].map(e => e.id)`, &ids)))
	reached := map[string]bool{}
	for range ids {
		var hash string
		require.NoError(t, chromedp.Run(ctx, chromedp.KeyEvent(kb.Tab), chromedp.Evaluate(`document.activeElement.hash || ''`, &hash)))
		reached[strings.TrimPrefix(hash, "#")] = true
	}
	for _, id := range ids {
		if !reached[id] {
			out = append(out, id)
		}
	}
	return out
}

// onePage is a page in what Chromium prints.
var onePage = regexp.MustCompile(`/Type\s*/Page\b`)

// printed looks at a page as wide as paper lets it be: A4 is 210 mm wide and A6 105 mm (ISO 216), less the margins of the style
// sheet, in pixels of which 96 make an inch.
func printed(t *testing.T, ctx context.Context, name string) {
	width := int64((210 - 2*11) * 960 / 254)
	if strings.HasSuffix(name, "-card.html") {
		width = (105 - 2*5) * 960 / 254
	}
	require.NoError(t, chromedp.Run(ctx, emulation.SetEmulatedMedia().WithMedia("print"), emulation.SetDeviceMetricsOverride(width, 1000, 1, false)), name)
	sound(t, lookAt(t, ctx, name), name+" printed")
	keep(t, ctx, name, "print", width)
}

// tallestKept is how much of a page is kept in a picture, in its pixels.
const tallestKept = 3200

// keep writes a picture of the page that is open into testdata/looks, in sixteen greys, where that is asked for.
func keep(t *testing.T, ctx context.Context, name, how string, width int64) {
	if !*updateLooks || !strings.HasPrefix(name, pictured) {
		return
	}
	var high float64
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`document.documentElement.scrollHeight`, &high)))
	var shot []byte
	scale := map[bool]float64{true: 0.5, false: 0.75}[width > 800]
	require.NoError(t, chromedp.Run(ctx, chromedp.ActionFunc(func(ctx context.Context) (err error) {
		shot, err = page.CaptureScreenshot().WithCaptureBeyondViewport(true).
			WithClip(&page.Viewport{Width: float64(width), Height: min(high, tallestKept), Scale: scale}).Do(ctx)
		return err
	})))
	full, err := png.Decode(bytes.NewReader(shot))
	require.NoError(t, err)
	var greys color.Palette
	for i := range 16 {
		greys = append(greys, color.Gray{Y: uint8(i * 17)})
	}
	small := image.NewPaletted(full.Bounds(), greys)
	draw.Draw(small, small.Bounds(), full, full.Bounds().Min, draw.Src)
	file, err := os.Create(filepath.Join("..", "..", "testdata", "looks", strings.TrimSuffix(strings.TrimPrefix(name, pictured+"-"), ".html")+"-"+how+".png"))
	require.NoError(t, err)
	require.NoError(t, (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(file, small))
	require.NoError(t, file.Close())
}

// The pictures that are kept are of the report and of every paper at each width and printed, readable, and few bytes.
func TestPicturesThatAreKept(t *testing.T) {
	names, size := []string{}, int64(0)
	for _, what := range append(sheetKinds(), "report") {
		for _, how := range []string{"390", "768", "1440", "print"} {
			name := what + "-" + how + ".png"
			names = append(names, name)
			file, err := os.Open(filepath.Join("..", "..", "testdata", "looks", name))
			require.NoError(t, err)
			shot, err := png.Decode(file)
			require.NoError(t, err, name)
			assert.Greater(t, shot.Bounds().Dx(), 200, name)
			info, err := file.Stat()
			require.NoError(t, err)
			size += info.Size()
			require.NoError(t, file.Close())
		}
	}
	assert.Less(t, size, int64(3<<20))
	there, err := filepath.Glob(filepath.Join("..", "..", "testdata", "looks", "*.png"))
	require.NoError(t, err)
	assert.Len(t, there, len(names), "pictures of nothing that is made")
}

// What the tests of pages look for they find: each of these pages has one defect.
func TestDefectsOfPagesAreNoticed(t *testing.T) {
	ctx, axe := browser(t), axeCore(t)
	folder := t.TempDir()
	for _, x := range []struct {
		name, body string
		found      func(looked) []string
	}{
		{"wide", `<p style="width:900px">wide</p>`, func(l looked) []string { return l.Wide }},
		{"over", `<p>first</p><p style="margin-top:-1.5em">second</p>`, func(l looked) []string { return l.Over }},
		{"drawn", `<svg width="200" height="60"><text x="5" y="30">one text</text><text x="20" y="30">another</text></svg>`, func(l looked) []string { return l.Over }},
		{"cut", `<svg width="60" height="30"><text x="5" y="20">a text that is too long</text></svg>`, func(l looked) []string { return l.Cut }},
		{"cell", `<table style="table-layout:fixed;width:60px"><tr><td style="white-space:nowrap;overflow:hidden">a text that is too long</td></tr></table>`, func(l looked) []string { return l.Cut }},
		{"loads", `<img alt="none" src="other.png">`, func(l looked) []string { return l.Loads }},
		{"styled", `<style>p{background:url(other.png)}</style>`, func(l looked) []string { return l.Loads }},
		{"sound", `<p>nothing</p>`, nil},
	} {
		file := filepath.Join(folder, x.name+".html")
		require.NoError(t, os.WriteFile(file, []byte("<!doctype html><html lang=en><title>t</title><body><main><h1>t</h1>"+x.body+"</main>"), 0o644))
		require.NoError(t, chromedp.Run(ctx, emulation.SetDeviceMetricsOverride(390, 1000, 1, false), chromedp.Navigate("file://"+file)))
		l := lookAt(t, ctx, x.name)
		if x.found == nil {
			sound(t, l, x.name)
			continue
		}
		assert.NotEmpty(t, x.found(l), x.name)
	}
	file := filepath.Join(folder, "keys.html")
	require.NoError(t, os.WriteFile(file, []byte(`<!doctype html><html lang=en><title>t</title><body><main><h1>t</h1><nav><a href="#a">a</a></nav><article class=finding><h3 id=a>a</h3></article><article class=finding><h3 id=b>b</h3></article></main>`), 0o644))
	require.NoError(t, chromedp.Run(ctx, chromedp.Navigate("file://"+file)))
	assert.Equal(t, []string{"b"}, unreached(t, ctx))
	if axe != "" {
		file = filepath.Join(folder, "pale.html")
		require.NoError(t, os.WriteFile(file, []byte(`<!doctype html><html lang=en><title>t</title><body style="background:#fff"><main><h1>t</h1><p style="color:#bbb">pale</p></main>`), 0o644))
		require.NoError(t, chromedp.Run(ctx, chromedp.Navigate("file://"+file)))
		assert.NotEmpty(t, serious(t, ctx, "pale.html", axe, "screen", nil))
	}
}

// accessible asks axe-core for what is serious, in each kind of colours.
func accessible(t *testing.T, ctx context.Context, name, axe string) {
	feature := func(name, value string) []*emulation.MediaFeature {
		return []*emulation.MediaFeature{{Name: name, Value: value}}
	}
	for _, look := range []struct {
		media    string
		features []*emulation.MediaFeature
	}{
		{"screen", feature("prefers-color-scheme", "light")}, {"screen", feature("prefers-color-scheme", "dark")},
		{"screen", feature("forced-colors", "active")}, {"print", nil},
	} {
		assert.Empty(t, serious(t, ctx, name, axe, look.media, look.features), "%s in %s %v", name, look.media, fmt.Sprint(look.features))
	}
}

// serious are the barriers that axe-core calls serious or critical in the page that is open.
func serious(t *testing.T, ctx context.Context, name, axe, media string, features []*emulation.MediaFeature) (out []string) {
	require.NoError(t, chromedp.Run(ctx,
		emulation.SetEmulatedMedia().WithMedia(media).WithFeatures(features),
		chromedp.Evaluate(axe+"; true", nil),
		chromedp.Evaluate(`axe.run(document, {resultTypes: ['violations']}).then(r => r.violations.filter(v => ['serious', 'critical'].includes(v.impact)).map(v => v.id + ': ' + v.nodes.map(n => n.target + ' ' + (n.any[0] ? n.any[0].message : '')).slice(0, 3).join('; ')))`,
			&out, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) })), name)
	return out
}

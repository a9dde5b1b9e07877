package main

import (
	"context"
	"encoding/json"
	"fmt"
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
  const name = e => e.tagName + ' ' + (e.textContent || '').trim().slice(0, 50);
  for (const e of document.querySelectorAll('body *')) {
    if (e.closest('.vh') || e.closest('thead')) continue;
    const r = e.getBoundingClientRect();
    if (r.width > 0 && (r.right > innerWidth + 1 || r.left < -1)) out.Wide.push(name(e));
  }
  for (const e of document.querySelectorAll('td, th')) {
    if (e.clientWidth > 0 && !e.closest('thead') && e.scrollWidth > e.clientWidth + 1) out.Cut.push(name(e) + ' ' + (e.dataset.head || ''));
  }
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

// Report and sheets are opened in a browser at the widths of a phone, a tablet and a desk and printed: nothing stands out of the
// window, covers something else or is cut off, nothing is loaded, and axe-core finds nothing serious in light, dark, forced
// colours and print. Each finding of a report is reached by keyboard.
func TestPagesAreSoundInABrowser(t *testing.T) {
	browser := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			browser = path
		}
	}
	if browser == "" {
		proofs.Lacking(t, "Chromium", "it is not installed (Debian: chromium)")
	}
	axe := ""
	if dir := os.Getenv("PLUMBLINE_AXE"); dir != "" {
		text, err := os.ReadFile(filepath.Join(dir, "axe-core", "axe.min.js"))
		require.NoError(t, err)
		axe = string(text)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(browser), chromedp.NoSandbox, chromedp.DisableGPU)
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), options...)
	defer cancel()
	ctx, cancel = chromedp.NewContext(ctx)
	defer cancel()
	ctx, cancel = context.WithTimeout(ctx, 4*time.Minute)
	defer cancel()

	folder, worked := t.TempDir(), 0
	for _, x := range proofs.Sample([]struct {
		design string
		papers []string
	}{{"four-faulty", sheetKinds()}, {"counter-half-known", []string{"quote", "fuel", "pump", "holes", "card"}}}, 2) { // what a half-known design draws otherwise
		for _, file := range proofs.Sample(pagesOf(t, folder, filepath.Join("..", "..", "designs", "demo", x.design+".yaml"), x.papers), 5) {
			worked++
			at(t, ctx, file, axe)
		}
	}
	assert.Positive(t, worked)
	proofs.Ran(t, "Chromium")
	if axe != "" {
		proofs.Ran(t, "axe-core")
	} else {
		t.Log("axe-core was not asked: PLUMBLINE_AXE names no node_modules folder that holds it")
	}
}

// at opens one page at each width and looks at it.
func at(t *testing.T, ctx context.Context, file, axe string) {
	name := filepath.Base(file)
	require.NoError(t, chromedp.Run(ctx, emulation.SetEmulatedMedia().WithMedia("screen")), name) // the page before was asked as print at last
	for i, width := range []int64{390, 768, 1440} {
		var text string
		actions := []chromedp.Action{emulation.SetDeviceMetricsOverride(width, 1000, 1, false)}
		if i == 0 {
			actions = append(actions, chromedp.Navigate("file://"+file))
		}
		require.NoError(t, chromedp.Run(ctx, append(actions, chromedp.Evaluate(look, &text))...), name)
		var l looked
		require.NoError(t, json.Unmarshal([]byte(text), &l))
		assert.Empty(t, l.Wide, "%s at %d px: stands out", name, width)
		assert.Empty(t, l.Over, "%s at %d px: covers another", name, width)
		assert.Empty(t, l.Cut, "%s at %d px: is cut off", name, width)
		assert.Empty(t, l.Loads, "%s loads something", name)
	}
	var found, linked int
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`document.querySelectorAll('article.finding').length`, &found),
		chromedp.Evaluate(`[...document.querySelectorAll('nav a[href^="#"]')].filter(a => document.getElementById(a.getAttribute('href').slice(1))).length`, &linked)))
	assert.Equal(t, found, linked, "%s: a keyboard reaches each finding", name)
	printed(t, ctx, name)
	var pdf []byte
	require.NoError(t, chromedp.Run(ctx, chromedp.ActionFunc(func(ctx context.Context) (err error) {
		pdf, _, err = page.PrintToPDF().WithPreferCSSPageSize(true).Do(ctx)
		return err
	})), name)
	assert.Contains(t, string(pdf[:8]), "%PDF", name)
	pages := len(onePage.FindAll(pdf, -1))
	assert.Positive(t, pages, name)
	if strings.HasSuffix(name, "-card.html") {
		assert.Equal(t, 1, pages, "%s: a card is one page", name)
	}
	if axe != "" {
		accessible(t, ctx, name, axe)
	}
}

// onePage is a page in what Chromium prints.
var onePage = regexp.MustCompile(`/Type\s*/Page\b`)

// printed looks at a page as wide as paper lets it be: A4 is 210 mm wide and A6 105 mm (ISO 216), less the margins of the style
// sheet, in pixels of which 96 make an inch.
func printed(t *testing.T, ctx context.Context, name string) {
	width := int64((210 - 2*12) * 960 / 254)
	if strings.HasSuffix(name, "-card.html") {
		width = (105 - 2*5) * 960 / 254
	}
	var text string
	require.NoError(t, chromedp.Run(ctx, emulation.SetEmulatedMedia().WithMedia("print"), emulation.SetDeviceMetricsOverride(width, 1000, 1, false), chromedp.Evaluate(look, &text)), name)
	var l looked
	require.NoError(t, json.Unmarshal([]byte(text), &l))
	assert.Empty(t, l.Wide, "%s printed: stands out", name)
	assert.Empty(t, l.Over, "%s printed: covers another", name)
	assert.Empty(t, l.Cut, "%s printed: is cut off", name)
}

// accessible asks axe-core for what is serious, in each kind of colours.
func accessible(t *testing.T, ctx context.Context, name, axe string) {
	feature := func(name, value string) *emulation.MediaFeature {
		return &emulation.MediaFeature{Name: name, Value: value}
	}
	for _, look := range []struct {
		media    string
		features []*emulation.MediaFeature
	}{
		{"screen", []*emulation.MediaFeature{feature("prefers-color-scheme", "light")}},
		{"screen", []*emulation.MediaFeature{feature("prefers-color-scheme", "dark")}},
		{"screen", []*emulation.MediaFeature{feature("forced-colors", "active")}},
		{"print", nil},
	} {
		var serious []string
		err := chromedp.Run(ctx,
			emulation.SetEmulatedMedia().WithMedia(look.media).WithFeatures(look.features),
			chromedp.Evaluate(axe+"; true", nil),
			chromedp.Evaluate(`axe.run(document, {resultTypes: ['violations']}).then(r => r.violations.filter(v => ['serious', 'critical'].includes(v.impact)).map(v => v.id + ': ' + v.nodes.map(n => n.target + ' ' + (n.any[0] ? n.any[0].message : '')).slice(0, 3).join('; ')))`,
				&serious, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
		require.NoError(t, err, name)
		assert.Empty(t, serious, "%s in %s %v", name, look.media, fmt.Sprint(look.features))
	}
}

package page_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/testdata/proofs"
)

// browser starts Chromium for a test; the test is skipped where there is none.
func browser(t *testing.T) context.Context {
	t.Helper()
	found := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			found = path
			break
		}
	}
	if found == "" {
		proofs.Lacking(t, "Chromium", "it is not installed (Debian: chromium)")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(found), chromedp.NoSandbox, chromedp.DisableGPU)
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 4*time.Minute)
	t.Cleanup(cancel)
	require.NoError(t, chromedp.Run(ctx))
	return ctx
}

// screen is a window of a browser on a served folder.
type screen struct {
	*served
	t   *testing.T
	ctx context.Context
	// Edits are how long each tap or line took until the page showed what came of it.
	Edits []time.Duration
}

// window opens a window of a width on an address of a served folder, and notes what the browser complains of.
func (s *served) window(t *testing.T, ctx context.Context, width int64, path string) *screen {
	t.Helper()
	w := &screen{served: s, t: t, ctx: ctx}
	chromedp.ListenTarget(ctx, func(event any) {
		switch e := event.(type) {
		case *runtime.EventExceptionThrown:
			t.Errorf("a script broke: %s", e.ExceptionDetails.Error())
		case *runtime.EventConsoleAPICalled:
			if e.Type == runtime.APITypeError {
				t.Errorf("the browser complains: %s", e.Args[0].Value)
			}
		}
	})
	w.run(emulation.SetFocusEmulationEnabled(true), emulation.SetDeviceMetricsOverride(width, 844, 1, width < 800), chromedp.Navigate(s.URL+path))
	w.settle()
	return w
}

func (w *screen) run(actions ...chromedp.Action) {
	w.t.Helper()
	require.NoError(w.t, chromedp.Run(w.ctx, actions...))
}

// eval evaluates an expression in the page, and waits for what it promises.
func (w *screen) eval(expression string, out any) {
	w.t.Helper()
	w.run(chromedp.Evaluate(expression, out, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
}

// settled resolves when nothing is under way any more.
const settled = `new Promise(done => { let still = 0; const look = () => {
  still = document.readyState === 'complete' && !document.querySelector('.htmx-request, .htmx-swapping, .htmx-settling') ? still + 1 : 0;
  still > 2 ? done(true) : setTimeout(look, 10);
}; look(); })`

func (w *screen) settle() {
	w.t.Helper()
	for range 20 { // a page that is left while it is asked is asked again
		var ok bool
		err := chromedp.Run(w.ctx, chromedp.Evaluate(settled, &ok, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
		if err == nil {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	require.Fail(w.t, "the page does not come to rest")
}

// text is what is seen of an element; "" when there is none.
func (w *screen) text(selector string) string {
	w.t.Helper()
	var out string
	w.eval(fmt.Sprintf(`(document.querySelector(%q) || {}).innerText || ""`, selector), &out)
	return out
}

// tap taps the first element of a selector whose text holds some words, with the mouse, where it is seen.
func (w *screen) tap(selector, words string) {
	w.t.Helper()
	var at struct{ X, Y, Found float64 }
	w.eval(fmt.Sprintf(`(() => {
  for (const e of document.querySelectorAll(%q)) {
    const said = (e.getAttribute('aria-label') || '') + ' ' + e.textContent + ' ' + (e.value || '');
    if (!said.includes(%q) || e.getBoundingClientRect().width === 0) continue;
    e.scrollIntoView({block: 'center'});
    const r = e.getBoundingClientRect();
    for (const [x, y] of [[0.5, 0.5], [0.25, 0.5], [0.1, 0.3]]) {
      const px = r.left + r.width * x, py = r.top + r.height * y, hit = document.elementFromPoint(px, py);
      if (hit && (e.contains(hit) || hit.contains(e))) return {X: px, Y: py, Found: 1};
    }
  }
  return {X: 0, Y: 0, Found: 0};
})()`, selector, words), &at)
	require.Equal(w.t, 1.0, at.Found, "nothing to tap: %s %q in:\n%s", selector, words, w.text("main"))
	begun := time.Now()
	w.run(chromedp.MouseClickXY(at.X, at.Y))
	w.moved(begun)
}

// moved waits until what was begun has shown.
func (w *screen) moved(begun time.Time) {
	w.t.Helper()
	w.settle()
	w.Edits = append(w.Edits, time.Since(begun))
}

// line types a line that is printed on a part.
func (w *screen) line(text string) {
	w.t.Helper()
	w.focus("#line")
	w.eval(`document.getElementById('line').value = ''; true`, nil)
	w.run(input.InsertText(text))
	begun := time.Now()
	w.run(chromedp.KeyEvent("\r"))
	w.moved(begun)
}

// focus puts the cursor into a field that there must be.
func (w *screen) focus(selector string) {
	w.t.Helper()
	var there bool
	w.eval(fmt.Sprintf(`(() => { const e = document.querySelector(%q); if (e) e.focus(); return !!e; })()`, selector), &there)
	require.True(w.t, there, "there is no %s in:\n%s", selector, w.text("main"))
}

// enter types into a field and taps a key of its form.
func (w *screen) enter(selector, text, key string) {
	w.t.Helper()
	w.focus(selector)
	w.run(input.InsertText(text))
	if key == "" {
		begun := time.Now()
		w.run(chromedp.KeyEvent("\r"))
		w.moved(begun)
		return
	}
	w.tap(`form:has(`+selector+`) button`, key)
}

// picture keeps what is seen of a page; PLUMBLINE_PICTURES names the folder, else it is only looked whether something is there.
func (w *screen) picture(name string, width int64) {
	w.t.Helper()
	var png []byte
	w.run(emulation.SetDeviceMetricsOverride(width, 844, 1, false))
	w.settle()
	w.eval(`(() => { const at = document.querySelector('#card, #step'); at && innerWidth < 900 ? at.scrollIntoView({block: 'start', behavior: 'instant'}) : scrollTo(0, 0); return true; })()`, nil)
	w.run(chromedp.ActionFunc(func(ctx context.Context) (err error) {
		png, err = page.CaptureScreenshot().WithFormat(page.CaptureScreenshotFormatPng).WithCaptureBeyondViewport(false).Do(ctx)
		return err
	}))
	assert.Greater(w.t, len(png), 5000, name)
	if dir := os.Getenv("PLUMBLINE_PICTURES"); dir != "" {
		require.NoError(w.t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%d.png", name, width)), png, 0o644))
	}
}

// p95 is the time within which 95 of 100 were done.
func p95(list []time.Duration) time.Duration {
	sorted := append([]time.Duration(nil), list...)
	for i := range sorted {
		for k := i; k > 0 && sorted[k] < sorted[k-1]; k-- {
			sorted[k], sorted[k-1] = sorted[k-1], sorted[k]
		}
	}
	if len(sorted) == 0 {
		return 0
	}
	return sorted[(len(sorted)*95-1)/100]
}

// The three minutes at the counter, as a customer and a hand with a phone go through them, by tapping and typing only. How long they
// take is logged.
func TestThreeMinutesAtTheCounter(t *testing.T) {
	s := serve(t, nil)
	w := s.window(t, browser(t), 390, "/")
	begun := time.Now()
	stage := func(what string) { t.Logf("%5.1f s  %s: %s", time.Since(begun).Seconds(), what, w.text("#verdict")) }
	w.focus("#title")
	w.run(input.InsertText("6.4 L V8, wants to lose the carburettor"))
	w.tap("button.main", "Begin")
	require.Contains(t, w.text("#begins"), "Which of these is it?")

	w.tap(".chips a", "size?")
	w.enter("#f-engine-displacement", "6.4", "L")
	w.tap(".chips a", "cylinders?")
	w.enter("#f-engine-cylinders", "8", "")
	w.tap(".card-head a", "Close")
	stage("6.4 L V8")
	w.line("engine 150..300 hp, E10")
	stage("power not known: a range")
	w.tap(".begins button", "pump in the tank, return line")
	assert.Empty(t, w.text("#begins"))
	w.tap(".drawn svg a", "pump")
	require.Contains(t, w.text("#card-title"), "pump")
	w.tap(".card-head a", "Close")
	stage("way chosen")
	w.line("pump 155 l/h 3 bar")
	assert.Contains(t, w.text("#told"), "155")
	stage("pump")
	w.line("regulator 58 psi")
	w.line("4 injectors 80 lb/hr at 43.5 psi")
	stage("regulator 58, injectors 4 x 80")
	w.tap(".drawn svg a", "regulator")
	w.enter("#f-regulator-setting", "43.5", "psi")
	stage("regulator set to 43.5")
	w.line("hose 3/8 R7")
	assert.Contains(t, w.text("#verdict"), "NO")
	assert.Contains(t, w.text("#verdict"), "FIRE")
	stage("hose R7")
	w.tap(".found a", "R7")
	w.tap(".why > summary", "Why")
	assert.Contains(t, w.text(".why"), "injection")
	w.line("glass filter 100 micron")
	assert.Contains(t, w.text(".buy"), "ilter")
	stage("glass filter")
	for range 3 { // what is asked now, whatever it is: the first answer or not known
		if w.text(".asks") == "" {
			break
		}
		w.tap(".asks .skipping button", "Cannot know now")
	}
	w.tap(".ways a", "Current")
	w.line("pump circuit 9 A, 18 AWG 16 ft, fuse 10 A, no relay")
	stage("wiring")
	w.tap(".drawn svg a", "pump")
	w.tap(".card-keys a", "Least that works")
	assert.Contains(t, w.text("#card"), "AWG")
	w.tap(".places a", "Papers")
	w.tap(".list a", "order list")
	assert.Contains(t, w.text("main"), "filter")
	stage("order list")
	t.Logf("in all %.1f s, %d taps and lines, 95 of 100 shown within %v", time.Since(begun).Seconds(), len(w.Edits), p95(w.Edits))
	files, err := filepath.Glob(filepath.Join(s.Folder, "*.yaml"))
	require.NoError(t, err)
	require.Len(t, files, 1)
	text := s.file(t, filepath.Base(files[0]))
	for _, fact := range []string{"in_tank", "return_style", "sae_j30_r7", "155", "43.5 psi", "6.4 L"} {
		assert.Contains(t, text, fact)
	}
}

// In the bay, with gloves: a reading by the keypad and a unit key, its verdict on the band at once, what all point to, and on to the next.
func TestBayOnAPhone(t *testing.T) {
	s := lookedAt(t)
	w := s.window(t, browser(t), 390, "/bay/six.yaml?step=2")
	require.Contains(t, w.text("#step-title"), "Gauge at the throttle body")
	for _, key := range []string{"1", "9", "0"} {
		w.tap(".pad button", key)
	}
	w.tap(".units button", "kPa")
	assert.Contains(t, s.file(t, "six.yaml"), "190 kPa")
	assert.Contains(t, w.text(".bands"), "190 kPa")
	assert.Contains(t, w.text(".bands .badge"), "STOP", "300 kPa are held here and under 270 work stops")
	assert.NotContains(t, w.text("main"), "are those of a sound vehicle", "what it points to is told at once")
	w.tap(".step .card-keys a", "Next")
	assert.Contains(t, w.text("#step-title"), "3 of")
	w.tap(".again button", "Undo")
	assert.NotContains(t, s.file(t, "six.yaml"), "190 kPa")
	assert.Contains(t, w.text("#step-title"), "3 of", "undo stays where the hand is")
}

// Two tabs on one job: what one changes shows in the other, and both stand; what somebody else wrote into the file shows too.
func TestTwoTabs(t *testing.T) {
	s := serve(t, map[string]string{"bag.yaml": bag})
	first := browser(t)
	second, cancel := chromedp.NewContext(first)
	defer cancel()
	a, b := s.window(t, first, 1440, "/job/bag.yaml"), s.window(t, second, 390, "/job/bag.yaml?part=design.pump")
	a.line("filter 10 micron")
	shows := func(w *screen, words string) {
		t.Helper()
		require.Eventually(t, func() bool { return strings.Contains(w.text("main"), words) }, 10*time.Second, 100*time.Millisecond, words)
	}
	shows(b, "Undo: filter")
	b.focus("#line")
	b.run(input.InsertText("half a li"))
	a.line("power 280 hp")
	shows(b, "280 hp")
	var typed string
	b.eval(`document.getElementById('line').value`, &typed)
	assert.Equal(t, "half a li", typed, "what is being typed stays")
	text := strings.Replace(s.file(t, "bag.yaml"), "10 %", "20 %", 1)
	require.NoError(t, os.WriteFile(filepath.Join(s.Folder, "bag.yaml"), []byte(text), 0o644))
	shows(a, "20 %")
	a.tap(".again button", "Undo")
	assert.Contains(t, s.file(t, "bag.yaml"), "# as the customer said", "what was written by hand stays")
}

// All without a mouse: each part of a drawing, key and answer is reached by the keyboard, what opens takes the focus, and what changed is heard.
func TestKeyboardAndReader(t *testing.T) {
	s := serve(t, map[string]string{"bag.yaml": bag})
	w := s.window(t, browser(t), 1440, "/job/bag.yaml")
	var live string
	w.eval(`[...document.querySelectorAll('[aria-live]')].map(e => e.id).join(' ')`, &live)
	assert.Contains(t, live, "verdict")
	assert.Contains(t, live, "told")
	reached := map[string]bool{}
	for range 120 {
		var at string
		w.run(chromedp.KeyEvent("\t"))
		w.eval(`(() => { const e = document.activeElement; return e.tagName.toLowerCase() + ':' + (e.getAttribute('aria-label') || e.textContent || e.id).trim().slice(0, 40); })()`, &at)
		reached[at] = true
		if strings.HasPrefix(at, "a:pump ") {
			begun := time.Now()
			w.run(chromedp.KeyEvent("\r"))
			w.moved(begun)
			var focus string
			w.eval(`document.activeElement.id`, &focus)
			assert.Equal(t, "card-title", focus, "what opened is heard")
			return
		}
	}
	assert.Fail(t, "the pump in the drawing is not reached by the keyboard", "%v", reached)
}

// sound looks at a page: nothing stands out of the window, every target is at least 44 px (those within a sentence aside), nothing
// was loaded from elsewhere.
const sound = `(() => {
  const out = {Wide: [], Small: [], Loads: []};
  const name = e => e.tagName + ' ' + (e.getAttribute('aria-label') || e.textContent || e.id || '').trim().slice(0, 40);
  for (const e of document.querySelectorAll('#app *')) {
    if (e.closest('.vh, .skip, thead') || e.closest('.places, .ways')) continue;
    const r = e.getBoundingClientRect();
    if (r.width > 0 && (r.right > innerWidth + 1 || r.left < -1)) out.Wide.push(name(e));
  }
  for (const e of document.querySelectorAll('a[href], button, select, textarea, summary, input:not([type=hidden])')) {
    if (e.closest('.vh, .skip, .found, p.small, .link')) continue;
    const r = e.getBoundingClientRect();
    if (r.width > 0 && (r.height < 43.5 || r.width < 43.5)) out.Small.push(name(e) + ' ' + Math.round(r.width) + 'x' + Math.round(r.height));
  }
  out.Loads = performance.getEntriesByType('resource').map(r => r.name).filter(n => !n.startsWith(location.origin));
  return JSON.stringify(out);
})()`

// pages are the pages that are looked at.
var pages = []struct{ name, path string }{
	{"jobs", "/"}, {"blank", "/job/blank.yaml"}, {"counter", "/job/bag.yaml"}, {"card", "/job/bag.yaml?part=design.feed.runs[0]"}, {"current", "/job/six.yaml?way=current"},
	{"body", "/job/six.yaml?way=body&part=design.harness"}, {"slide", "/slide/bag.yaml"}, {"try", "/try/bag.yaml?part=design.pump&path=design.pump.rated_flow&answer=255&unit=L/h"}, {"bay", "/bay/six.yaml"}, {"papers", "/papers/bag.yaml"}, {"start-up", "/paper/start-up/six.yaml"}, {"phone", "/phone/bag.yaml"},
}

// lookedAt is a folder with a job of each kind.
func lookedAt(t *testing.T) *served {
	six, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "designs", "demo", "six-return.yaml"))
	require.NoError(t, err)
	return serve(t, map[string]string{"bag.yaml": bag, "six.yaml": string(six), "blank.yaml": "plumbline: 1\ntitle: new one\n"})
}

// At the widths of a phone, a tablet and a desk, and at twice the size, every page is sound; axe-core finds nothing serious in light,
// dark and forced colours.
func TestPagesAreSound(t *testing.T) {
	s := lookedAt(t)
	w := s.window(t, browser(t), 390, "/")
	axe := ""
	if dir := os.Getenv("PLUMBLINE_AXE"); dir != "" {
		text, err := os.ReadFile(filepath.Join(dir, "axe-core", "axe.min.js"))
		require.NoError(t, err)
		axe = string(text)
	}
	for _, p := range proofs.Sample(pages, 4) {
		w.run(chromedp.Navigate(s.URL + p.path))
		w.settle()
		for _, width := range []int64{390, 768, 1440, 640} { // 640 is 1280 at twice the size
			w.run(emulation.SetDeviceMetricsOverride(width, 844, 1, false))
			var text string
			w.eval(sound, &text)
			var found struct{ Wide, Small, Loads []string }
			require.NoError(t, json.Unmarshal([]byte(text), &found))
			assert.Empty(t, found.Wide, "%s at %d px: stands out", p.name, width)
			assert.Empty(t, found.Small, "%s at %d px: too small to tap", p.name, width)
			assert.Empty(t, found.Loads, p.name)
		}
		if axe != "" {
			for _, width := range []int64{390, 1440} {
				w.run(emulation.SetDeviceMetricsOverride(width, 844, 1, false))
				w.accessible(p.name, axe)
			}
		}
	}
	proofs.Ran(t, "Chromium")
	if axe != "" {
		proofs.Ran(t, "axe-core")
	} else {
		t.Log("axe-core was not asked: PLUMBLINE_AXE names no node_modules folder that holds it")
	}
}

// accessible asks axe-core for what is serious, in each kind of colours. The policy lets no script in but ours, so it is evaluated.
func (w *screen) accessible(name, axe string) {
	w.t.Helper()
	for _, f := range [][2]string{{"prefers-color-scheme", "light"}, {"prefers-color-scheme", "dark"}, {"forced-colors", "active"}} {
		var serious []string
		w.run(emulation.SetEmulatedMedia().WithMedia("screen").WithFeatures([]*emulation.MediaFeature{{Name: f[0], Value: f[1]}}), chromedp.Evaluate(axe+"; true", nil))
		w.eval(`axe.run(document, {resultTypes: ['violations']}).then(r => r.violations.filter(v => ['serious', 'critical'].includes(v.impact)).map(v => v.id + ': ' + v.nodes.map(n => n.target + ' ' + (n.any[0] ? n.any[0].message : '')).slice(0, 3).join('; ')))`, &serious)
		assert.Empty(w.t, serious, "%s in %s", name, f[1])
	}
	w.run(emulation.SetEmulatedMedia().WithFeatures(nil))
}

// pictured are the pages that pictures are kept of, with the widths.
var pictured = map[string][]int64{"jobs": {390}, "blank": {390}, "counter": {390, 768, 1440}, "card": {390, 1440}, "current": {1440}, "body": {768}, "slide": {390}, "try": {390}, "bay": {390, 768}, "start-up": {768}}

// The pictures of the pages, to be looked at: PLUMBLINE_PICTURES=testdata keeps them.
func TestPictures(t *testing.T) {
	if os.Getenv("PLUMBLINE_PICTURES") == "" {
		t.Skip("PLUMBLINE_PICTURES names no folder to keep them in")
	}
	s := lookedAt(t)
	w := s.window(t, browser(t), 390, "/")
	for _, p := range pages {
		w.run(chromedp.Navigate(s.URL + p.path))
		w.settle()
		for _, width := range pictured[p.name] {
			w.picture(p.name, width)
		}
	}
}

package page_test

import (
	"crypto/sha256"
	"encoding/hex"
	"html"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/cmd/plumbline/internal/page"
	"plumbline/engine/drawing"
	"plumbline/schema/quantity"
)

// Without script all goes by plain forms: an answer is in the file, the page after it says what it changed, and undo takes it back.
func TestPlainForms(t *testing.T) {
	s := serve(t, map[string]string{"bag.yaml": bag})
	a := s.form(t, "/set/bag.yaml", "path", "design.feed.runs[0].mark", "answer", "R9", "part", "design.feed.runs[0]", "way", "fuel")
	require.Equal(t, http.StatusSeeOther, a.Status, a.Text)
	assert.Contains(t, s.file(t, "bag.yaml"), "sae_j30_r9")
	to := a.Header.Get("Location")
	assert.Contains(t, to, "part=design.feed.runs")
	after := s.ask(t, "GET", to, nil)
	assert.Contains(t, after.Text, "Done: ")
	assert.Contains(t, after.Text, "Pump hose: NO → OK", "what it changed is told")
	assert.Contains(t, after.Text, "Undo: ")
	assert.NotContains(t, after.Text, "FIRE 1")
	revision := regexp.MustCompile(`data-revision="(\d+)"`).FindStringSubmatch(after.Text)[1]
	require.Equal(t, http.StatusSeeOther, s.form(t, "/undo/bag.yaml", "revision", revision).Status)
	assert.Equal(t, bag, s.file(t, "bag.yaml"))

	// What cannot be is told where it was typed, and stays typed.
	a = s.form(t, "/set/bag.yaml", "path", "design.pump.rated_flow", "answer", "155 bananas", "part", "design.pump")
	assert.Equal(t, http.StatusUnprocessableEntity, a.Status)
	assert.Contains(t, a.Text, "Not done:")
	assert.Contains(t, a.Text, `value="155 bananas"`)
	assert.Equal(t, bag, s.file(t, "bag.yaml"))

	// A unit key puts its unit behind a bare number, and comes first the next time.
	a = s.form(t, "/set/bag.yaml", "path", "design.regulator.setting", "answer", "4", "unit", "bar")
	require.Equal(t, http.StatusSeeOther, a.Status, a.Text)
	assert.Contains(t, s.file(t, "bag.yaml"), "setting: 4 bar")
	cookie, _, _ := strings.Cut(a.Header.Get("Set-Cookie"), ";")
	card := s.ask(t, "GET", "/job/bag.yaml?part=design.regulator", nil, "Cookie", cookie)
	assert.Less(t, strings.Index(card.Text, `value="bar"`), strings.Index(card.Text, `value="psi"`))
	a = s.form(t, "/set/bag.yaml", "path", "design.regulator.setting", "answer", "43.5 psi", "unit", "bar")
	require.Equal(t, http.StatusSeeOther, a.Status)
	assert.Contains(t, s.file(t, "bag.yaml"), "setting: 43.5 psi")
}

// A fact that somebody else stated otherwise since the page was opened is asked about, and settled by a tap.
func TestConflictIsAsked(t *testing.T) {
	s := serve(t, map[string]string{"bag.yaml": bag})
	at := func() string {
		return regexp.MustCompile(`data-revision="(\d+)"`).FindStringSubmatch(s.ask(t, "GET", "/job/bag.yaml", nil).Text)[1]
	}
	old := at()
	require.Equal(t, http.StatusSeeOther, s.form(t, "/set/bag.yaml", "revision", old, "path", "design.engine.power", "answer", "250 hp").Status)
	a := s.form(t, "/set/bag.yaml", "revision", old, "path", "design.engine.power", "answer", "350 hp")
	require.Equal(t, http.StatusConflict, a.Status)
	assert.Contains(t, a.Text, "250 hp")
	assert.Contains(t, a.Text, "350 hp")
	assert.Contains(t, s.file(t, "bag.yaml"), "250 hp")
	mine := regexp.MustCompile(`(?s)<form method="post" action="(/set/[^"]*)" class="keys">(.*?)Put mine`).FindStringSubmatch(a.Text)
	require.NotNil(t, mine, "it can be put in its place")
	var pairs []string
	for _, in := range regexp.MustCompile(`name="([^"]*)" value="([^"]*)"`).FindAllStringSubmatch(mine[2], -1) {
		pairs = append(pairs, in[1], html.UnescapeString(in[2]))
	}
	require.Equal(t, http.StatusSeeOther, s.form(t, mine[1], pairs...).Status)
	assert.Contains(t, s.file(t, "bag.yaml"), "350 hp")
}

// A change is tried beside the job without it, then kept or dropped.
func TestTryBeforeKeeping(t *testing.T) {
	s := serve(t, map[string]string{"bag.yaml": bag})
	try := func() string {
		a := s.ask(t, "GET", "/try/bag.yaml?part=design.feed.runs[0]&path=design.feed.runs[0].mark&answer=sae_j30_r9", nil)
		require.Equal(t, http.StatusOK, a.Status, a.Text)
		assert.Contains(t, a.Text, "As it is")
		assert.Contains(t, a.Text, "With it")
		return regexp.MustCompile(`name="trial" value="([^"]*)"`).FindStringSubmatch(a.Text)[1]
	}
	require.Equal(t, http.StatusSeeOther, s.form(t, "/drop/bag.yaml", "trial", try()).Status)
	assert.Equal(t, bag, s.file(t, "bag.yaml"))
	id := try()
	require.Equal(t, http.StatusSeeOther, s.form(t, "/keep/bag.yaml", "trial", id).Status)
	assert.Contains(t, s.file(t, "bag.yaml"), "sae_j30_r9")
	assert.Equal(t, http.StatusConflict, s.form(t, "/keep/bag.yaml", "trial", id).Status, "once")
}

// Each of the four ways that are drawn is a usual way that a job can be told, and then no way is asked for.
func TestFourWaysCanBeChosen(t *testing.T) {
	for _, x := range drawing.FuelWays() {
		s := serve(t, map[string]string{"new.yaml": "plumbline: 1\ntitle: new\n"})
		assert.Contains(t, s.ask(t, "GET", "/job/new.yaml", nil).Text, "Which of these is it?")
		a := s.form(t, "/way/new.yaml", "pattern", x.Pattern)
		require.Equal(t, http.StatusSeeOther, a.Status, "%s: %s", x.Pattern, a.Text)
		assert.NotContains(t, s.ask(t, "GET", "/job/new.yaml", nil).Text, "Which of these is it?", x.Pattern)
	}
}

// A job begins with a title alone, plain lines, a usual way, or another job.
func TestJobsBegin(t *testing.T) {
	s := serve(t, map[string]string{"bag.yaml": bag})
	begin := func(pairs ...string) string {
		t.Helper()
		a := s.form(t, "/new", pairs...)
		require.Equal(t, http.StatusSeeOther, a.Status, a.Text)
		file, _, _ := strings.Cut(strings.TrimPrefix(a.Header.Get("Location"), "/job/"), "?")
		assert.Equal(t, http.StatusOK, s.ask(t, "GET", a.Header.Get("Location"), nil).Status)
		return s.file(t, file)
	}
	assert.Contains(t, begin("title", "Tuesday's van"), "Tuesday's van")
	lines := begin("title", "by lines", "lines", "pump 255 lph @ 43 psi in tank\nhose 3/8 R9 15 ft\ngizmo")
	assert.Contains(t, lines, "255 lph")
	assert.Contains(t, lines, "sae_j30_r9")
	assert.Contains(t, lines, "gizmo", "nothing is dropped")
	assert.Contains(t, begin("title", "by a way", "pattern", "in-tank-return"), "in_tank")
	assert.Contains(t, begin("title", "by another", "template", "bag.yaml"), "based_on: bag.yaml")
	a := s.form(t, "/new", "title", "x", "template", "bag.yaml", "pattern", "in-tank-return")
	assert.Equal(t, http.StatusUnprocessableEntity, a.Status)
	list := s.ask(t, "GET", "/", nil).Text
	for _, title := range []string{"by lines", "by a way", "by another", "bag of parts"} {
		assert.Contains(t, list, title)
	}
}

// What comes along is what the notice says it is, byte for byte.
func TestVendoredFilesAreUnchanged(t *testing.T) {
	notice, err := os.ReadFile("assets/NOTICE")
	require.NoError(t, err)
	found := regexp.MustCompile(`(\S+\.min\.js) is [^\n]*\n  sha256 ([0-9a-f]{64})`).FindAllStringSubmatch(string(notice), -1)
	require.Len(t, found, 2)
	for _, f := range found {
		text, err := os.ReadFile("assets/" + f[1])
		require.NoError(t, err)
		sum := sha256.Sum256(text)
		assert.Equal(t, f[2], hex.EncodeToString(sum[:]), f[1])
	}
}

// Every unit there is a key for is one that a design takes.
func TestUnitKeysAreUnits(t *testing.T) {
	for d, list := range page.UnitKeys() {
		for _, u := range list {
			_, err := quantity.Parse("12 "+u, d)
			assert.NoError(t, err, "%s %s", d, u)
		}
	}
}

// The soak: jobs edited at random by several at once for as long as PLUMBLINE_SOAK says; nothing breaks and memory does not grow.
func TestSoak(t *testing.T) {
	lasts := 0 * time.Second
	if text := os.Getenv("PLUMBLINE_SOAK"); text != "" {
		var err error
		lasts, err = time.ParseDuration(text)
		require.NoError(t, err)
	} else {
		t.Skip("PLUMBLINE_SOAK says no time, such as 20m")
	}
	files := map[string]string{}
	for i := range 50 {
		files["job"+string(rune('a'+i/26))+string(rune('a'+i%26))+".yaml"] = bag
	}
	var asked atomic.Int64
	s := serve(t, files, func(o *page.Options) {
		o.Now = func() time.Time { return time.Unix(asked.Add(1), 0) } // how often is not what is tried
	})
	var names []string
	for n := range files {
		names = append(names, n)
	}
	edits := [][]string{
		{"set", "path", "design.engine.power", "answer", "250 hp"}, {"set", "path", "design.engine.power", "answer", "about 320 hp"}, {"set", "path", "design.feed.runs[0].mark", "answer", "R9"},
		{"line", "line", "pump 255 lph @ 43 psi in tank"}, {"line", "line", "return tube 5/16"}, {"line", "line", "what is this"}, {"clear", "path", "design.vehicle.model_year"}, {"undo"}, {"redo"}, {"undo"},
		{"set", "path", "design.fuel.ethanol", "answer", "E85"}, {"skip", "path", "design.tank.vent"}, {"way", "pattern", "in-tank-return"},
	}
	pages := []string{"/job/", "/bay/", "/paper/fuel/", "/paper/parts/", "/papers/"}
	memory := func() uint64 {
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapInuse >> 20
	}
	var heaps []uint64
	var mu sync.Mutex
	done, statuses := 0, map[int]int{}
	until := time.Now().Add(lasts)
	var wg sync.WaitGroup
	for worker := range 3 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			draw := rapid.Custom(func(r *rapid.T) [3]int {
				return [3]int{rapid.IntRange(0, len(names)-1).Draw(r, "job"), rapid.IntRange(0, len(edits)-1).Draw(r, "edit"), rapid.IntRange(0, len(pages)-1).Draw(r, "page")}
			})
			for i := 0; time.Now().Before(until); i++ {
				x := draw.Example(worker*1_000_000 + i)
				e := edits[x[1]]
				a := s.form(t, "/"+e[0]+"/"+names[x[0]], e[1:]...)
				b := s.ask(t, "GET", pages[x[2]]+names[x[0]], nil)
				mu.Lock()
				statuses[a.Status]++
				statuses[b.Status]++
				done++
				mu.Unlock()
				if a.Status >= 500 || b.Status >= 500 {
					t.Errorf("%v: %d %s, %d", e, a.Status, a.Text, b.Status)
					return
				}
			}
		}()
	}
	tick := time.NewTicker(max(lasts/10, time.Second))
	defer tick.Stop()
	for time.Now().Before(until) {
		<-tick.C
		heaps = append(heaps, memory())
	}
	wg.Wait()
	t.Logf("%d edits and pages in %v, answers %v, heap in MB %v", done, lasts, statuses, heaps)
	require.Positive(t, done)
	if n := len(heaps); n >= 6 {
		early, late := heaps[n/2], heaps[n-1]
		assert.Less(t, late, early+early/2+64, "memory grows: %v", heaps)
	}
}

// A reading where work stops is told first, and its card stays open; one that is fine goes on to the next card.
func TestAReadingThatStopsIsTold(t *testing.T) {
	six, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "designs", "demo", "six-return.yaml"))
	require.NoError(t, err)
	s := serve(t, map[string]string{"six.yaml": string(six)})
	enter := func(answer string) string {
		a := s.form(t, "/set/six.yaml", "path", "design.measured.prime_pressure", "answer", answer, "unit", "kPa", "back", "bay", "step", "3")
		require.Equal(t, http.StatusSeeOther, a.Status)
		return a.Header.Get("Location")
	}
	stopped := enter("30")
	assert.Contains(t, stopped, "step=2")
	assert.Contains(t, s.ask(t, "GET", stopped, nil).Text, "STOP, under 270 or over 330 kPa: 30 kPa.")
	fine := enter("300")
	assert.Contains(t, fine, "step=3")
	assert.NotContains(t, s.ask(t, "GET", fine, nil).Text, "STOP, under")
}

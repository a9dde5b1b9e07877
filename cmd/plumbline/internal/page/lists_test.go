package page_test

import (
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/schema"
	"plumbline/testdata/proofs"
)

// some are the words that would be right: one, or several.
type some []string

func (s *some) UnmarshalYAML(n *yaml.Node) error {
	if n.Kind == yaml.ScalarNode {
		*s = some{n.Value}
		return nil
	}
	var list []string
	err := n.Decode(&list)
	*s = list
	return err
}

// answer opens the card of a fact and answers there: by its key, from its choices, or typed.
func (w *screen) answer(file, path, value string) {
	w.t.Helper()
	p := schema.Path(path)
	q := url.Values{"part": {string(p.Parent())}, "fact": {p.Key()}}
	if kind := schema.Describe(path).Field.Kind; kind == schema.KindList || kind == schema.KindMaybe {
		q = url.Values{"part": {path}}
	}
	w.run(chromedp.Navigate(w.URL + "/job/" + file + "?" + q.Encode()))
	w.settle()
	var form string
	w.eval(fmt.Sprintf(`(() => {
  const at = [...document.querySelectorAll('#card form[action^="/set/"] input[name=path]')].find(e => e.value === %q);
  if (!at) return '';
  at.form.id = 'answered';
  if ([...at.form.querySelectorAll('button[name=answer]')].some(e => e.value === %q)) return 'key';
  const select = at.form.querySelector('select');
  if (select) { select.value = %q; return select.value ? 'choice' : ''; }
  at.form.querySelector('input[name=answer]').id = 'answer-typed';
  return 'typed';
})()`, path, value, value), &form)
	switch form {
	case "key":
		w.tap(fmt.Sprintf(`#answered button[value=%q]`, value), "")
	case "choice":
		w.tap("#answered button", "")
	case "typed":
		w.focus("#answer-typed")
		w.run(input.InsertText(value))
		begun := time.Now()
		w.run(chromedp.KeyEvent("\r"))
		w.moved(begun)
	default:
		assert.Fail(w.t, "no way to answer", "%s: %s", path, value)
	}
}

// The five lists of the counter on a phone: typed line by line into a new job, and what the lines do not say, or say otherwise, answered on
// the cards. The screen then gives each part the verdict that was fixed by hand arithmetic before (testdata/counter, which tells it).
func TestFiveListsTyped(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "..", "..", "testdata", "counter", "appendix-*.yaml"))
	require.NoError(t, err)
	require.Len(t, files, 5)
	s := serve(t, nil)
	w := s.window(t, browser(t), 390, "/")
	parts, right, answered := 0, 0, 0
	for _, file := range proofs.Sample(files, 2) {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		var list struct {
			Name, List string
			Expect     map[string]some
			Order      some
			Design     yaml.Node
		}
		require.NoError(t, yaml.Unmarshal(text, &list))
		w.run(chromedp.Navigate(s.URL + "/"))
		w.settle()
		w.focus("#title")
		w.run(input.InsertText(list.Name))
		w.tap("button.main", "Begin")
		for _, line := range strings.Split(strings.TrimSpace(list.List), "\n") {
			w.line(strings.TrimSpace(line))
		}
		written, err := yaml.Marshal(&list.Design)
		require.NoError(t, err)
		want, err := schema.Load(list.Name, written)
		require.NoError(t, err)
		var job string
		w.eval(`document.querySelector('.head').dataset.file`, &job)
		now := func() *schema.Design {
			d, err := schema.Load(job, []byte(s.file(t, job)))
			require.NoError(t, err)
			return d
		}
		schema.Walk(want, func(v schema.Visit) {
			have := now().FactAt(v.Path)
			if !schema.IsStated(v.Reading) || v.Key == "title" || v.Key == "plumbline" || v.Key == "name" || have != nil && schema.IsStated(have) && fmt.Sprint(have.Any()) == fmt.Sprint(v.Reading.Any()) {
				return
			}
			answered++
			if list, _, item := schema.Path(v.Path).Split(); item { // a word in a list
				w.answer(job, string(list), v.Reading.Text())
				return
			}
			if item := schema.Path(v.Path).Item(); item != "" && now().At(string(item)) == nil { // one more is named first
				list, _, _ := item.Split()
				w.answer(job, string(list), "1")
			}
			w.answer(job, v.Path, v.Reading.Text())
		})
		w.run(chromedp.Navigate(s.URL + "/job/" + job))
		w.settle()
		var found []struct{ Word, Link, Text string }
		w.eval(`[...document.querySelectorAll('.found li')].map(e => ({Word: e.querySelector('.badge').textContent.toLowerCase(), Link: (e.querySelector('a') || {search: ''}).search, Text: e.textContent.toLowerCase()}))`, &found)
		words := map[string]string{}
		for _, f := range found {
			q, err := url.ParseQuery(strings.TrimPrefix(f.Link, "?"))
			require.NoError(t, err)
			part := strings.TrimPrefix(q.Get("part"), "design.")
			words[part] = f.Word
			for key := range list.Expect {
				if of, name, named := strings.Cut(key, "."); named && strings.HasPrefix(part, of) && strings.Contains(f.Text, name) {
					words[key] = f.Word
				}
			}
		}
		words["injectors"] = words["throttle_body.injectors"]
		for key, want := range list.Expect {
			parts++
			if slices.Contains(want, words[key]) {
				right++
			} else {
				t.Logf("%s: %s is %q, not %v", list.Name, key, words[key], want)
			}
		}
		verdict := strings.ToLower(strings.Fields(w.text("#verdict"))[0])
		assert.Contains(t, []string(list.Order), verdict, list.Name)
	}
	// One part has no verdict of its own on the screen: the reader takes "old steel" for the material and keeps no name.
	assert.GreaterOrEqual(t, right, parts-1, "%d of %d parts", right, parts)
	t.Logf("%d of %d parts as by hand; %d lines and taps, of which %d on cards; 95 of 100 shown within %v", right, parts, len(w.Edits), answered, p95(w.Edits))
}

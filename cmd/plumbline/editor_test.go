package main

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/creachadair/jrpc2"
	"github.com/creachadair/jrpc2/channel"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/testdata/proofs"
)

// The outside check of this file is the client: jrpc2's own, over pipes, with messages as the specification of the Language
// Server Protocol 3.17 has them.

type (
	object   = map[string]any
	position struct{ Line, Character int }
	span     struct{ Start, End position }
	remark   struct {
		Range    span
		Severity int
		Code     string
		Message  string
	}
	published struct {
		URI         string
		Diagnostics []remark
	}
	offered struct {
		Items []struct {
			Label    string
			TextEdit struct {
				Range   span
				NewText string
			}
		}
	}
)

// session is a program that serves an editor, and one text that is open in it.
type session struct {
	t      *testing.T
	cmd    *exec.Cmd
	client *jrpc2.Client
	told   chan published
	uri    string
	text   string
}

// serve starts the program in a folder and greets it.
func serve(t *testing.T, binary, dir string) *session {
	t.Helper()
	s := &session{t: t, cmd: exec.Command(binary, "editor"), told: make(chan published, 100)}
	s.cmd.Dir, s.cmd.Stderr = dir, os.Stderr
	in, err := s.cmd.StdinPipe()
	require.NoError(t, err)
	out, err := s.cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, s.cmd.Start())
	t.Cleanup(func() { _ = s.cmd.Process.Kill() })
	s.client = jrpc2.NewClient(channel.LSP(out, in), &jrpc2.ClientOptions{OnNotify: func(r *jrpc2.Request) {
		var p published
		if r.Method() == "textDocument/publishDiagnostics" && r.UnmarshalParams(&p) == nil {
			s.told <- p
		}
	}})
	var greeting struct {
		Capabilities struct{ PositionEncoding string }
	}
	s.call("initialize", object{"processId": nil, "rootUri": nil, "capabilities": object{}}, &greeting)
	assert.Equal(t, "utf-16", greeting.Capabilities.PositionEncoding)
	s.note("initialized", object{})
	return s
}

func (s *session) call(method string, params, result any) {
	s.t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	require.NoError(s.t, s.client.CallResult(ctx, method, params, result))
}

func (s *session) note(method string, params any) {
	s.t.Helper()
	require.NoError(s.t, s.client.Notify(context.Background(), method, params))
}

// open opens a text and gives what is told of it.
func (s *session) open(file, text string) []remark {
	s.t.Helper()
	s.uri, s.text = "file://"+filepath.ToSlash(file), text
	s.note("textDocument/didOpen", object{"textDocument": object{"uri": s.uri, "languageId": "yaml", "version": 1, "text": text}})
	return s.next()
}

// write gives the text new contents and gives what is told of them.
func (s *session) write(text string) []remark {
	s.t.Helper()
	s.change(text)
	return s.next()
}

func (s *session) change(text string) {
	s.t.Helper()
	s.text = text
	s.note("textDocument/didChange", object{"textDocument": object{"uri": s.uri, "version": 2}, "contentChanges": []object{{"text": text}}})
}

func (s *session) next() []remark {
	s.t.Helper()
	for {
		select {
		case p := <-s.told:
			if p.URI == s.uri {
				return p.Diagnostics
			}
		case <-time.After(time.Minute):
			require.Fail(s.t, "nothing is told")
		}
	}
}

// at is where a text begins in what is open, and some characters further.
func (s *session) at(text string, further int) object {
	s.t.Helper()
	i := strings.Index(s.text, text)
	require.GreaterOrEqual(s.t, i, 0, text)
	i += further
	before := s.text[:i]
	line := before[strings.LastIndex(before, "\n")+1:]
	return object{"textDocument": object{"uri": s.uri}, "position": object{"line": strings.Count(before, "\n"), "character": len(utf16.Encode([]rune(line)))}}
}

func (s *session) hover(text string, further int) string {
	s.t.Helper()
	var h struct{ Contents struct{ Value string } }
	s.call("textDocument/hover", s.at(text, further), &h)
	return strings.ReplaceAll(h.Contents.Value, `\`, "")
}

// offers are the labels that complete behind a text.
func (s *session) offers(text string) []string {
	s.t.Helper()
	var o offered
	s.call("textDocument/completion", s.at(text, len(text)), &o)
	var out []string
	for _, x := range o.Items {
		out = append(out, x.Label)
	}
	return out
}

// leave takes leave as the protocol has it; the program ends with 0 though its input stays open.
func (s *session) leave() {
	s.t.Helper()
	_, err := s.client.Call(context.Background(), "shutdown", nil)
	require.NoError(s.t, err)
	_, err = s.client.Call(context.Background(), "textDocument/hover", s.at("", 0))
	assert.ErrorContains(s.t, err, "being closed")
	s.note("exit", nil)
	done := make(chan error, 1)
	go func() { done <- s.cmd.Wait() }()
	select {
	case err := <-done:
		assert.NoError(s.t, err)
	case <-time.After(20 * time.Second):
		assert.Fail(s.t, "it does not end")
	}
}

func messages(list []remark) string {
	var b strings.Builder
	for _, d := range list {
		b.WriteString(d.Code + " " + d.Message + "\n")
	}
	return b.String()
}

const ourDesign = `plumbline: 1
title: a truck
stage: planned
fuel: {ethanol: 10 %}
# ä 😀 before the key
pump: {place: frame_rail, rated_flow: 155 L/h}
regulator: {style: return_style, setting: 300 kPa}
feed:
  runs:
    - {name: "ä 😀", kind: hose, bore: 8 mm, mark: sae_j30_r7}
circuits:
  - name: fuel pump
  - name: horn
    branch_of: fuel pump
`

func TestAnEditorIsServed(t *testing.T) {
	binary, dir := built(t), t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "plumbline.yaml"), []byte("shop: 1\nrules: [rules]\n"), 0o600))
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "rules"), 0o700))
	pack := strings.Replace(starterPack, "pack: NAME", "pack: house/hoses", 1)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "rules", "hoses.yaml"), []byte(pack), 0o600))
	s := serve(t, binary, dir)
	design := filepath.Join(dir, "truck.yaml")

	t.Run("mistakes come and go", func(t *testing.T) {
		list := s.open(design, strings.Replace(ourDesign, "rated_flow", "rated_flwo", 1))
		require.NotEmpty(t, list)
		assert.Equal(t, remark{span{position{5, 26}, position{5, 36}}, 1, "", "unknown key rated_flwo; did you mean rated_flow?"}, list[0])
		list = s.write(ourDesign)
		assert.NotContains(t, messages(list), "unknown key")
		require.Contains(t, messages(list), "fuel/hose.injection-grade Danger of fire: Hose marked SAE J30 R7 is no injection grade")
		for _, d := range list {
			if d.Code == "fuel/hose.injection-grade" {
				// The emoji before it counts two units, the letter one.
				assert.Equal(t, span{position{9, 51}, position{9, 61}}, d.Range)
				assert.Equal(t, 1, d.Severity)
			}
		}
		assert.NotContains(t, messages(s.write(strings.Replace(ourDesign, "sae_j30_r7", "sae_j30_r9", 1))), "injection-grade")
		list = s.write(ourDesign + "battery: [\n")
		require.Len(t, list, 1, "while it is no YAML only that is told")
		assert.Contains(t, list[0].Message, "not readable as YAML")
	})

	t.Run("only the newest is told", func(t *testing.T) {
		for range 30 {
			s.change(ourDesign + "battery: [\n")
		}
		assert.NotContains(t, messages(s.write(ourDesign)), "not readable")
		select {
		case p := <-s.told:
			assert.NotEqual(t, s.uri, p.URI, "one change after the other is told once")
		case <-time.After(time.Second):
		}
	})

	t.Run("what things are", func(t *testing.T) {
		assert.Contains(t, s.hover("rated_flow", 3), "design.pump.rated_flow")
		assert.Contains(t, s.hover("rated_flow", 3), "From: 1 L/h to 2000 L/h")
		assert.Contains(t, s.hover("300 kPa", 1), "43.511 psi") // 300 kPa / 6.894757 kPa, NIST SP 811 (2008), appendix B.8
		assert.Contains(t, s.hover("sae_j30_r7", 1), "SAE J30 R7")
		assert.Empty(t, s.hover("before the key", 1), "nothing in a comment")
	})

	t.Run("what could be written", func(t *testing.T) {
		offers := func(old, new, at string) []string {
			s.change(strings.Replace(ourDesign, old, new, 1))
			return s.offers(at)
		}
		keys := offers("regulator:", "tank:\n  \nregulator:", "tank:\n  ")
		assert.Contains(t, keys, "capacity")
		keys = offers("    branch_of: fuel pump", "    ", "horn\n    ")
		assert.Contains(t, keys, "branch_of")
		assert.NotContains(t, keys, "name", "it is there")
		assert.Equal(t, []string{"fuel pump", "horn"}, offers("branch_of: fuel pump", "branch_of: ", "branch_of: "))
		assert.Contains(t, offers("300 kPa", "300 ", "setting: 300 "), "psi")
		assert.Contains(t, offers("frame_rail", "", "{place: "), "in_tank")
		assert.Contains(t, offers("kind: hose", "kind: hose, l", "kind: hose, l"), "length")
		assert.Equal(t, []string{"none"}, offers("circuits:\n", "grounds: \ncircuits:\n", "grounds: "))
	})

	t.Run("a pack", func(t *testing.T) {
		file := filepath.Join(dir, "rules", "hoses.yaml")
		list := s.open(file, strings.Replace(pack, "measure: run.age", "measure: run.agge", 1))
		require.Len(t, list, 1)
		assert.Equal(t, "undefined field 'agge'; did you mean 'age'?", list[0].Message)
		assert.Equal(t, 33, list[0].Range.Start.Line)
		assert.Empty(t, s.write(pack), "the starter is right")
		assert.Contains(t, messages(s.write(strings.Replace(pack, "3.05 years", "2 years", 1))), "case at-most/just-above: expected fail, got pass")
		s.change(pack)
		assert.Contains(t, s.hover("run.age\n", 5), "run.age")
		assert.Contains(t, s.hover("oldest_hose}\n", 3), "3 years")
		assert.Contains(t, s.hover("hose-age", 2), "house/hoses.hose-age")
		s.next()
		for old, x := range map[string][2]string{
			"measure: run.age":                         {"measure: run.", "bore"},
			"applies: run.kind == 'hose'":              {"applies: run.kind == '", "tube"},
			"must: {at_most: limit.oldest_hose}":       {"must: {at_most: limit.", "oldest_hose"},
			"each: {run: design.feed.runs}":            {"each: {run: design.fuel_l", "fuel_lines"},
			"given: {feed: {runs: [{kind: tube, age: ": {"given: {feed: {runs: [{kind: tube, ", "bore"},
			"The hose is {run.age":                     {"The hose is {run.at.idle.", "velocity"},
			"    due: ordered":                         {"    due: ", "planned"},
			"mend: Fit a new hose":                     {"measure: y", "years"},
		} {
			s.change(strings.Replace(pack, old, x[0], 1))
			assert.Contains(t, s.offers(x[0]), x[1], x[0])
		}
		s.next()
	})

	t.Run("a pack that is written counts at once", func(t *testing.T) {
		strict := strings.ReplaceAll(pack, "3 years", "1 years")
		s.change(strings.ReplaceAll(strict, "3.05 years", "1.01 years"))
		text := strings.Replace(ourDesign, "kind: hose,", "kind: hose, age: 2 years,", 1)
		s.uri, s.text = "file://"+filepath.ToSlash(design), text
		s.change(text)
		assert.Eventually(t, func() bool { return strings.Contains(messages(s.next()), "house/hoses.hose-age") }, time.Minute, time.Millisecond)
	})

	t.Run("what is hostile", func(t *testing.T) {
		assert.Contains(t, messages(s.write(strings.Repeat("x", 2<<20))), "")
		list := s.write("plumbline: 1\ntitle: \"\\u202e\\u001b[2J\"\npump: {\x1b: 1}\n")
		require.NotEmpty(t, list)
		assert.NotContains(t, messages(list), "\x1b")
		_, err := s.client.Call(context.Background(), "textDocument/hover", object{"textDocument": object{"uri": s.uri}, "position": object{"line": -5, "character": 1 << 40}})
		require.NoError(t, err)
		_, err = s.client.Call(context.Background(), "textDocument/hover", json.RawMessage(`[1]`))
		assert.Error(t, err)
		s.write(ourDesign)
		s.open(filepath.Join(t.TempDir(), "b.yaml"), "pack: a/b\n")
		every := 30 // check tries them all
		if proofs.Whole() {
			every = 8
		}
		for i, x := range bombs(t) {
			if i%every != 0 {
				continue
			}
			began := time.Now()
			list := s.write(x.pack)
			assert.Less(t, time.Since(began), 20*time.Second, x.name) // on a machine that does other things too
			assert.LessOrEqual(t, len(list), 51, x.name)
			assert.NotEmpty(t, list, x.name)
		}
	})
	s.leave()

	t.Run("an editor that leaves without a word", func(t *testing.T) {
		s := serve(t, binary, dir)
		require.NoError(t, s.client.Close())
		_ = s.cmd.Wait()
		assert.Equal(t, 1, s.cmd.ProcessState.ExitCode())
	})
}

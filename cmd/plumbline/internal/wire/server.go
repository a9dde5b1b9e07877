// Package wire speaks to editors: the Language Server Protocol 3.17 over two streams. What is answered comes from a Desk;
// this package knows positions, texts that are being written, and when to look at one anew.
package wire

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/creachadair/jrpc2"
	"github.com/creachadair/jrpc2/channel"
	"github.com/creachadair/jrpc2/handler"

	"plumbline/cmd/plumbline/internal/plain"
	"plumbline/engine/editor"
)

// Texts are the texts that are open in the editor, by their files; they count before what is on disk.
type Texts map[string]string

// Desk answers for texts.
type Desk interface {
	// Look says what is wrong with a file.
	Look(file string, texts Texts) []editor.Mark
	// Shop is what a file is read by.
	Shop(file string, texts Texts) *editor.Shop
}

// Pause is how long nothing must be written before a text is looked at.
const Pause = 150 * time.Millisecond

// server is one editor that is spoken to.
type server struct {
	desk    Desk
	version string
	rpc     *jrpc2.Server

	mu   sync.Mutex
	open map[string]*text // by URI
	// greeted and closing: where in its life the session is; it ends when left is closed.
	greeted, closing bool
	left             chan struct{}
	once             sync.Once
	// looking is held while a text is looked at.
	looking sync.Mutex
}

// text is an open text. Each change gives it another edition; what was found in an older one is not told.
type text struct {
	content string
	edition int
	timer   *time.Timer
}

// Serve speaks to an editor until it leaves; false when it left without saying so.
func Serve(in io.Reader, out io.WriteCloser, desk Desk, version string) bool {
	s := &server{desk: desk, version: version, open: map[string]*text{}, left: make(chan struct{})}
	methods := handler.Map{
		"initialize": handler.New(s.initialize), "initialized": handler.New(s.nothing),
		"shutdown": handler.New(s.shutdown), "exit": handler.New(s.exit),
		"textDocument/didOpen": handler.New(s.didOpen), "textDocument/didChange": handler.New(s.didChange),
		"textDocument/didSave": handler.New(s.didSave), "textDocument/didClose": handler.New(s.didClose),
		"workspace/didChangeWatchedFiles": handler.New(s.didSave),
		"textDocument/hover":              handler.New(s.hover), "textDocument/completion": handler.New(s.completion),
	}
	for name, h := range methods {
		methods[name] = s.guarded(name, h)
	}
	s.rpc = jrpc2.NewServer(methods, &jrpc2.ServerOptions{AllowPush: true, DisableBuiltin: true})
	s.rpc.Start(clean{channel.LSP(in, out)})
	broken := make(chan struct{})
	go func() { _ = s.rpc.Wait(); close(broken) }() // it waits for the stream, which the editor may leave open
	said := false
	select {
	case <-s.left:
		said = true
	case <-broken:
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, t := range s.open {
		t.timer.Stop()
	}
	return said && s.closing
}

// clean is a channel on which nothing goes out that is not to be seen: texts come from anyone.
type clean struct{ channel.Channel }

// Send sends a message.
func (c clean) Send(message []byte) error {
	var b bytes.Buffer
	if _, err := plain.New(&b, &plain.Mode{JSON: true}).Write(message); err != nil {
		return err
	}
	return c.Channel.Send(b.Bytes())
}

// guarded keeps a request to the session's order, and makes a panic its error.
func (s *server) guarded(name string, h jrpc2.Handler) jrpc2.Handler {
	return func(ctx context.Context, r *jrpc2.Request) (result any, err error) {
		s.mu.Lock()
		greeted, closing := s.greeted, s.closing
		s.mu.Unlock()
		const notGreeted = jrpc2.Code(-32002) // ServerNotInitialized
		switch {
		case !greeted && name != "initialize" && name != "exit":
			return nil, jrpc2.Errorf(notGreeted, "the session is not begun: send initialize first")
		case closing && name != "exit":
			return nil, jrpc2.Errorf(jrpc2.InvalidRequest, "the session is being closed")
		}
		defer func() {
			if p := recover(); p != nil {
				result, err = nil, jrpc2.Errorf(jrpc2.InternalError, "this could not be answered: %.200s", fmt.Sprint(p))
			}
		}()
		return h(ctx, r)
	}
}

func (s *server) initialize(context.Context, *jrpc2.Request) (*greeting, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.greeted = true
	return &greeting{
		Capabilities: map[string]any{
			"positionEncoding":   "utf-16",
			"textDocumentSync":   map[string]any{"openClose": true, "change": 1, "save": true},
			"hoverProvider":      true,
			"completionProvider": map[string]any{"triggerCharacters": []string{".", " ", "{", "'", "[", "("}},
		},
		ServerInfo: map[string]any{"name": "plumbline", "version": s.version},
	}, nil
}

func (s *server) nothing(context.Context, *jrpc2.Request) error { return nil }

func (s *server) shutdown(context.Context, *jrpc2.Request) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closing = true
	return nil, nil
}

func (s *server) exit(context.Context, *jrpc2.Request) error {
	s.once.Do(func() { close(s.left) })
	return nil
}

func (s *server) didOpen(_ context.Context, p *opening) error {
	s.write(p.Document.URI, p.Document.Text)
	return nil
}

func (s *server) didChange(_ context.Context, p *changing) error {
	if n := len(p.Changes); n > 0 {
		s.write(p.Document.URI, p.Changes[n-1].Text)
	}
	return nil
}

// didSave looks at all open texts anew: what they are judged by may be another now.
func (s *server) didSave(context.Context, *jrpc2.Request) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	for uri := range s.open {
		s.soon(uri)
	}
	return nil
}

func (s *server) didClose(ctx context.Context, p *asking) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if t := s.open[p.Document.URI]; t != nil {
		t.timer.Stop()
		delete(s.open, p.Document.URI)
	}
	return s.rpc.Notify(ctx, "textDocument/publishDiagnostics", published{p.Document.URI, []diagnostic{}})
}

// write takes up a text, and looks soon at it, and at all others when they may be judged by it.
func (s *server) write(uri, content string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.open[uri] == nil {
		s.open[uri] = &text{}
	}
	s.open[uri].content = content
	judges := slices.Contains([]editor.Kind{editor.Pack, editor.Settings}, editor.KindOf(pathOf(uri), content))
	for other := range s.open {
		if other == uri || judges {
			s.soon(other)
		}
	}
}

// soon looks at a text when it has rested for a while.
func (s *server) soon(uri string) {
	t := s.open[uri]
	if t.timer != nil {
		t.timer.Stop()
	}
	t.edition++
	edition := t.edition
	t.timer = time.AfterFunc(Pause, func() { s.look(uri, edition) })
}

// is reports whether an edition of a text is the newest, and gives all texts.
func (s *server) is(uri string, edition int) (Texts, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	texts := Texts{}
	for other, t := range s.open {
		texts[pathOf(other)] = t.content
	}
	return texts, s.open[uri] != nil && s.open[uri].edition == edition && !s.closing
}

// look looks at an edition of a text and tells what is wrong with it, unless there is a newer one by then.
func (s *server) look(uri string, edition int) {
	s.looking.Lock()
	defer s.looking.Unlock()
	texts, newest := s.is(uri, edition)
	if !newest {
		return
	}
	file := pathOf(uri)
	marks := s.marks(file, texts)
	list := lines(texts[file])
	out := published{uri, []diagnostic{}}
	for _, m := range marks {
		d := diagnostic{Range: spanOf(list, m.Place, m.Text), Severity: int(m.Weight), Code: m.Code, Source: "plumbline", Message: m.Message}
		for _, also := range m.Also {
			where := location{uriOf(also.Place.File), span{}}
			text, opened := texts[also.Place.File]
			if where.Range = (span{position{also.Place.Line - 1, 0}, position{also.Place.Line - 1, 0}}); opened {
				where.Range = spanOf(lines(text), also.Place, "")
			}
			d.Related = append(d.Related, related{where, also.Message})
		}
		out.Diagnostics = append(out.Diagnostics, d)
	}
	if _, newest := s.is(uri, edition); newest {
		_ = s.rpc.Notify(context.Background(), "textDocument/publishDiagnostics", out) // an editor that left is told nothing
	}
}

// marks are what the desk says; a panic is one of them.
func (s *server) marks(file string, texts Texts) (out []editor.Mark) {
	defer func() {
		if p := recover(); p != nil {
			out = []editor.Mark{{Weight: editor.Wrong, Message: fmt.Sprintf("the program failed on this text: %.200s", fmt.Sprint(p))}}
		}
	}()
	return s.desk.Look(file, texts)
}

// asked is what a request is about.
func (s *server) asked(p *asking) (file string, texts Texts, content string, kind editor.Kind) {
	texts, _ = s.is(p.Document.URI, 0)
	file = pathOf(p.Document.URI)
	return file, texts, texts[file], editor.KindOf(file, texts[file])
}

func (s *server) hover(_ context.Context, p *asking) (*hover, error) {
	file, texts, content, kind := s.asked(p)
	h := s.desk.Shop(file, texts).Hover(kind, content, offsetOf(content, p.Position))
	if h == nil {
		return nil, nil
	}
	return &hover{markup{"markdown", h.Text}, span{positionOf(content, h.From), positionOf(content, h.To)}}, nil
}

// kinds are the numbers of the protocol for the sorts of things that are written: property, enum member, unit, reference, function.
var kinds = map[editor.Sort]int{editor.Key: 10, editor.Word: 20, editor.Quantity: 11, editor.Reference: 18, editor.Function: 3}

func (s *server) completion(_ context.Context, p *asking) (*completions, error) {
	file, texts, content, kind := s.asked(p)
	offset := offsetOf(content, p.Position)
	c := s.desk.Shop(file, texts).Complete(kind, content, offset)
	begin := strings.LastIndexAny(content[:offset], "\r\n") + 1
	at := span{positionOf(content, max(c.From, begin)), positionOf(content, offset)}
	out := &completions{Items: []completionItem{}}
	for i, x := range c.Items {
		write := x.Insert
		if write == "" {
			write = x.Label
		}
		out.Items = append(out.Items, completionItem{x.Label, kinds[x.Of], x.Detail, x.Doc, fmt.Sprintf("%04d", i), textEdit{at, write}})
	}
	return out, nil
}

package wire

// The messages of the Language Server Protocol that are spoken here, as its specification 3.17 has them: of each only the
// fields that are read or written. Lines and characters count from 0, characters in units of UTF-16.

type position struct {
	Line      int `json:"line"`
	Character int `json:"character"`
}

type span struct {
	Start position `json:"start"`
	End   position `json:"end"`
}

type location struct {
	URI   string `json:"uri"`
	Range span   `json:"range"`
}

type opening struct {
	Document struct {
		URI  string `json:"uri"`
		Text string `json:"text"`
	} `json:"textDocument"`
}

type changing struct {
	Document struct {
		URI     string `json:"uri"`
		Version int    `json:"version"`
	} `json:"textDocument"`
	Changes []struct {
		Text string `json:"text"`
	} `json:"contentChanges"`
}

// asking names a document, and a position in it where that is asked for.
type asking struct {
	Document struct {
		URI string `json:"uri"`
	} `json:"textDocument"`
	Position position `json:"position"`
}

type greeting struct {
	Capabilities map[string]any `json:"capabilities"`
	ServerInfo   map[string]any `json:"serverInfo"`
}

type published struct {
	URI         string       `json:"uri"`
	Diagnostics []diagnostic `json:"diagnostics"`
}

type diagnostic struct {
	Range    span      `json:"range"`
	Severity int       `json:"severity"`
	Code     string    `json:"code,omitempty"`
	Source   string    `json:"source"`
	Message  string    `json:"message"`
	Related  []related `json:"relatedInformation,omitempty"`
}

type related struct {
	Location location `json:"location"`
	Message  string   `json:"message"`
}

type hover struct {
	Contents markup `json:"contents"`
	Range    span   `json:"range"`
}

type markup struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

type completions struct {
	Incomplete bool             `json:"isIncomplete"`
	Items      []completionItem `json:"items"`
}

type completionItem struct {
	Label  string   `json:"label"`
	Kind   int      `json:"kind"`
	Detail string   `json:"detail,omitempty"`
	Doc    string   `json:"documentation,omitempty"`
	Sort   string   `json:"sortText"`
	Edit   textEdit `json:"textEdit"`
}

type textEdit struct {
	Range   span   `json:"range"`
	NewText string `json:"newText"`
}

package rule

// Ground is one reason, with the standing of its source.
type Ground struct {
	// Standing is law, law_elsewhere, standard, handbook, practice, memory or physics.
	Standing string `json:"standing"`
	// Text is the source's title and clause, or the practice in words.
	Text string `json:"text"`
	// For is what it supports.
	For string `json:"for,omitempty"`
	// Law says where and whom a law binds, nil for other grounds and for the law of a rule's own region.
	Law *Binding `json:"-"`
}

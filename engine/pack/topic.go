package pack

// Topic is a matter that the law of a place may settle.
type Topic string

// topics are those every region is asked about, with what each is about.
var topics = []struct {
	name  Topic
	words string
}{
	{"tampering", "kept emission equipment"},
	{"crankcase", "crankcase"},
	{"evaporative", "fuel vapour"},
	{"exhaust_limits", "exhaust limits"},
	{"noise", "noise"},
	{"fuel_system", "fuel system"},
	{"electrical", "electrics"},
	{"parts_approval", "approval of parts"},
	{"certificate", "certificate"},
	{"fitter", "fitter's duties"},
	{"seller", "seller's duties"},
	{"notices", "who is told"},
	{"historic", "historic status"},
}

// Topics lists the matters every region is asked about.
func Topics() []Topic {
	var out []Topic
	for _, t := range topics {
		out = append(out, t.name)
	}
	return out
}

// Words say what a topic is about.
func (t Topic) Words() string {
	for _, x := range topics {
		if x.name == t {
			return x.words
		}
	}
	return string(t)
}

// TopicNames lists the topics as packs write them.
func TopicNames() []string {
	var out []string
	for _, t := range Topics() {
		out = append(out, string(t))
	}
	return out
}

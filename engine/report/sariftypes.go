package report

// The types below are the part of SARIF 2.1.0 (OASIS standard, "Static
// Analysis Results Interchange Format") that a report needs.

type sarifLog struct {
	Schema  string     `json:"$schema"`
	Version string     `json:"version"`
	Runs    []sarifRun `json:"runs"`
}

// sarifRun is a run without its results, which are written before it.
type sarifRun struct {
	Tool        sarifTool         `json:"tool"`
	ColumnKind  string            `json:"columnKind"`
	Invocations []sarifInvocation `json:"invocations"`
	Results     []sarifResult     `json:"results,omitempty"`
	Properties  sarifLibrary      `json:"properties"`
	Artifacts   []sarifContent    `json:"artifacts,omitempty"`
}

type sarifInvocation struct {
	Successful    bool                `json:"executionSuccessful"`
	Notifications []sarifNotification `json:"toolExecutionNotifications,omitempty"`
}

// sarifNotification says why a design could not be judged.
type sarifNotification struct {
	Level     string          `json:"level"`
	Message   sarifText       `json:"message"`
	Locations []sarifLocation `json:"locations,omitempty"`
}

type sarifLibrary struct {
	Digest string `json:"libraryDigest,omitempty"`
	// InDoubt says what passed on figures that a measurement contradicts.
	InDoubt []string `json:"inDoubt,omitempty"`
	// OpenNotListed is the number of rules that cannot be judged yet and stop no job; verbose lists them.
	OpenNotListed int `json:"openNotListed,omitempty"`
	// Loosened is what local packs made milder.
	Loosened []Loosened `json:"loosened,omitempty"`
	// Overridden are the limits and tables that have other values where designs are used.
	Overridden []Overridden `json:"overridden,omitempty"`
}

type sarifContent struct {
	Location    sarifArtifact `json:"location"`
	Description *sarifText    `json:"description,omitempty"`
}

type sarifTool struct {
	Driver sarifDriver `json:"driver"`
}

type sarifDriver struct {
	Name    string      `json:"name"`
	Version string      `json:"version,omitempty"`
	Rules   []sarifRule `json:"rules"`
}

type sarifRule struct {
	ID         string           `json:"id"`
	Short      sarifText        `json:"shortDescription"`
	Help       sarifText        `json:"help"`
	Properties sarifRuleDetails `json:"properties"`
}

type sarifRuleDetails struct {
	Danger   string   `json:"danger"`
	Due      string   `json:"due"`
	Part     string   `json:"part"`
	Standing []string `json:"standing"`
}

type sarifText struct {
	Text string `json:"text"`
}

type sarifResult struct {
	RuleID       string             `json:"ruleId,omitempty"`
	RuleIndex    int                `json:"ruleIndex,omitempty"`
	Kind         string             `json:"kind"`
	Level        string             `json:"level"`
	Baseline     string             `json:"baselineState,omitempty"`
	Message      sarifText          `json:"message"`
	Locations    []sarifLocation    `json:"locations,omitempty"`
	Related      []sarifLocation    `json:"relatedLocations,omitempty"`
	Fingerprints map[string]string  `json:"partialFingerprints"`
	Suppressions []sarifSuppression `json:"suppressions"`
	Properties   sarifResultDetails `json:"properties"`
}

type sarifLocation struct {
	ID       *int           `json:"id,omitempty"`
	Physical *sarifPhysical `json:"physicalLocation,omitempty"`
	Logical  []sarifLogical `json:"logicalLocations,omitempty"`
	Message  *sarifText     `json:"message,omitempty"`
}

type sarifPhysical struct {
	Artifact sarifArtifact `json:"artifactLocation"`
	Region   *sarifRegion  `json:"region,omitempty"`
}

type sarifArtifact struct {
	URI string `json:"uri"`
}

type sarifRegion struct {
	StartLine   int `json:"startLine"`
	StartColumn int `json:"startColumn,omitempty"`
	EndColumn   int `json:"endColumn,omitempty"`
}

type sarifLogical struct {
	Name     string `json:"name,omitempty"`
	FullName string `json:"fullyQualifiedName"`
}

type sarifSuppression struct {
	Kind          string         `json:"kind"`
	Status        string         `json:"status"`
	Justification string         `json:"justification"`
	Location      *sarifLocation `json:"location,omitempty"`
}

type sarifResultDetails struct {
	Danger   string   `json:"danger"`
	Blocks   bool     `json:"blocks"`
	Before   string   `json:"before,omitempty"`
	Measured *Number  `json:"measured,omitempty"`
	Bounds   []Bound  `json:"bounds,omitempty"`
	Missing  []string `json:"missing,omitempty"`
	Assumed  []string `json:"assumed,omitempty"`
	Doubts   []Doubt  `json:"doubts,omitempty"`
	// Cautions are the warnings for whoever mends it.
	Cautions []string `json:"cautions,omitempty"`
}

package sarif

import (
	"io"
	"net/url"
	"path/filepath"
	"strings"

	"foredge/lang/data"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/lang/source"
)

// The names are those of the standard; the numbers of its sections stand beside them.

type log struct { // 3.13
	Schema  string `json:"$schema"`
	Version string `json:"version"`
	Runs    []run  `json:"runs"`
}

type run struct { // 3.14
	Tool       tool     `json:"tool"`
	ColumnKind string   `json:"columnKind"`
	Results    []result `json:"results"`
}

type tool struct { // 3.18
	Driver driver `json:"driver"`
}

type driver struct { // 3.19
	Name  string `json:"name"`
	Rules []rule `json:"rules,omitempty"`
}

type rule struct { // 3.49
	ID               string   `json:"id"`
	ShortDescription *message `json:"shortDescription,omitempty"`
	Help             *message `json:"help,omitempty"`
}

type message struct { // 3.11
	Text string `json:"text"`
}

type result struct { // 3.27
	RuleID           string     `json:"ruleId"`
	RuleIndex        int        `json:"ruleIndex"`
	Level            string     `json:"level"`
	Message          message    `json:"message"`
	Locations        []location `json:"locations,omitempty"`
	RelatedLocations []location `json:"relatedLocations,omitempty"`
}

type location struct { // 3.28
	ID               int      `json:"id,omitempty"`
	PhysicalLocation physical `json:"physicalLocation"`
	Message          *message `json:"message,omitempty"`
}

type physical struct { // 3.29
	ArtifactLocation artifact `json:"artifactLocation"`
	Region           region   `json:"region"`
}

type artifact struct { // 3.4
	URI string `json:"uri"`
}

type region struct { // 3.30
	StartLine   int `json:"startLine"`
	StartColumn int `json:"startColumn"`
	EndLine     int `json:"endLine"`
	EndColumn   int `json:"endColumn"`
}

// A Report is what is told of one file. What has no place of its own is told of the whole
// file, since code hosts pass over results without one; File may be "" where there is none.
type Report struct {
	File string
	Told diag.List
}

// Write writes reports as one run of the program. Places are given by the names that the
// files have in messages; those that lead out of the working folder as addresses of files.
func Write(w io.Writer, reports []Report) error {
	r := run{Tool: tool{driver{Name: "foredge"}}, ColumnKind: "unicodeCodePoints", Results: []result{}}
	number := map[diag.Code]int{}
	for _, report := range reports {
		for _, d := range report.Told {
			n, ok := number[d.Code]
			if !ok {
				n = len(r.Tool.Driver.Rules)
				number[d.Code] = n
				r.Tool.Driver.Rules = append(r.Tool.Driver.Rules, ruleOf(d.Code))
			}
			r.Results = append(r.Results, resultOf(d, n, report.File))
		}
	}
	return data.Write(w, log{Schema: "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json", Version: "2.1.0", Runs: []run{r}})
}

// ruleOf says what there is to know of a code.
func ruleOf(code diag.Code) rule {
	r := rule{ID: string(code)}
	if e, ok := codes.Find(code); ok {
		r.ShortDescription = &message{e.Means}
		if e.Do != "" {
			r.Help = &message{e.Do}
		}
	}
	return r
}

func resultOf(d *diag.Diagnostic, rule int, file string) result {
	r := result{RuleID: string(d.Code), RuleIndex: rule, Level: levelOf(d.Severity), Message: message{d.Message}}
	if d.Help != "" {
		r.Message.Text += "\n" + d.Help
	}
	if at, ok := place(d.Span); ok {
		r.Locations = []location{{PhysicalLocation: at}}
	} else if file != "" {
		r.Locations = []location{{PhysicalLocation: physical{artifact{address(file)}, region{1, 1, 1, 1}}}}
	}
	for _, n := range d.Notes {
		if at, ok := place(n.Span); ok {
			r.RelatedLocations = append(r.RelatedLocations, location{ID: len(r.RelatedLocations) + 1, PhysicalLocation: at, Message: &message{n.Message}})
		} else {
			r.Message.Text += "\n" + n.Message
		}
	}
	return r
}

// levelOf is the level (3.27.10) of a severity.
func levelOf(s diag.Severity) string {
	switch s {
	case diag.Error:
		return "error"
	case diag.Warning:
		return "warning"
	}
	return "note"
}

func place(s source.Span) (physical, bool) {
	at := data.At(s)
	if at == nil {
		return physical{}, false
	}
	return physical{artifact{address(at.File)}, region{at.Line, at.Column, at.EndLine, at.EndColumn}}, true
}

// address is the name of a file as an address without dot segments (3.10.1; RFC 3986, 5.2.4).
func address(file string) string {
	file = filepath.Clean(file)
	if !filepath.IsLocal(file) {
		if abs, err := filepath.Abs(file); err == nil {
			file = abs
		}
	}
	name := filepath.ToSlash(file)
	uri := url.URL{Path: name}
	if filepath.IsAbs(file) {
		uri.Scheme, uri.Path = "file", "/"+strings.TrimPrefix(name, "/")
	}
	return uri.String()
}

package art

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
)

const (
	svgSpace   = "http://www.w3.org/2000/svg"
	xlinkSpace = "http://www.w3.org/1999/xlink"
	xmlSpace   = "http://www.w3.org/XML/1998/namespace"
)

// A node is one element of the SVG namespace; others are left out with all that
// is in them, as editors keep their notes there.
type node struct {
	name     string
	attrs    map[string]string
	line     int
	parent   *node
	index    int // among the children of its parent
	children []*node
	// text is what stands in a style or script element, or in a text: that one has
	// children called textName between its elements.
	text   string
	labels []string // what the drawing program calls it
	// foreign says that elements of other namespaces stand in it.
	foreign bool

	// What its attributes say, read once however often uses show it.
	set   once[cascaded]
	turn  once[affine]   // its transform
	lines once[[]trace]  // its path data or points
	box   once[*view]    // its viewBox
	words once[[]string] // its classes
}

// textName is the name of a node that is a stretch of text.
const textName = "#text"

// A once is what is read of an element no more than once.
type once[T any] struct {
	done  bool
	value T
	err   *Error
}

func (o *once[T]) get(read func() (T, *Error)) (T, *Error) {
	if !o.done {
		o.value, o.err = read()
		o.done = true
	}
	return o.value, o.err
}

func (n *node) where() Where { return Where{n.line, n.name} }

func (n *node) fail(advice, format string, args ...any) *Error {
	return &Error{Where: n.where(), Message: fmt.Sprintf(format, args...), Advice: advice}
}

// classes are the words of the class attribute.
func (n *node) classes() []string {
	list, _ := n.words.get(func() ([]string, *Error) { return strings.Fields(n.attrs["class"]), nil })
	return list
}

// add puts a node into another.
func (n *node) add(c *node) {
	c.parent, c.index = n, len(n.children)
	n.children = append(n.children, c)
}

// A document is a file's elements.
type document struct {
	root    *node
	ids     map[string]*node
	rules   []rule
	frames  map[string][]declaration // with which animations of the styles begin
	moves   map[*node][]*node        // the animations of elements
	matched int                      // how often elements were held against selectors
}

// read reads the elements, within the limits.
func read(data []byte) (*document, *Error) {
	if len(data) > MaxBytes {
		return nil, &Error{Message: fmt.Sprintf("it is larger than %d MiB", MaxBytes>>20), Advice: "simplify the drawing, or leave out pictures that are embedded in it"}
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, &Error{Message: "the file is empty", Advice: "save the drawing again"}
	}
	data, err := decoded(data)
	if err != nil {
		return nil, err
	}
	r := &reader{data: data, dec: xml.NewDecoder(bytes.NewReader(data)), doc: &document{ids: map[string]*node{}, frames: map[string][]declaration{}, moves: map[*node][]*node{}}}
	r.dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // it is decoded already
	if err := r.all(); err != nil {
		return nil, err
	}
	if r.doc.root == nil {
		return nil, &Error{Message: "there is no drawing in it: no <svg> element", Advice: "save the drawing as SVG"}
	}
	return r.doc, nil
}

type reader struct {
	early    int // a line of text before the drawing; 0 if there is none
	data     []byte
	dec      *xml.Decoder
	doc      *document
	stack    []*node
	foreign  int // how deep in elements of other namespaces
	count    int
	entities int // how many the file declares
}

// say takes text into a node that shows or means it.
func (n *node) say(text string) {
	switch n.name {
	case "style", "script", "title":
		n.text += text
	case "text", "tspan", "textPath", "tref", "a", "foreignObject", "flowRoot", "flowPara", "flowSpan":
		if k := len(n.children); k > 0 && n.children[k-1].name == textName {
			n.children[k-1].text += text
			return
		}
		n.add(&node{name: textName, line: n.line, text: text})
	}
}

func (r *reader) all() *Error {
	for {
		line, _ := r.dec.InputPos()
		start := r.dec.InputOffset()
		tok, err := r.dec.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return broken(err, line)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			if err := r.open(tok, r.data[start:r.dec.InputOffset()], line); err != nil {
				return err
			}
		case xml.EndElement:
			switch {
			case r.foreign > 0:
				r.foreign--
			case len(r.stack) > 0:
				r.stack = r.stack[:len(r.stack)-1]
			}
		case xml.CharData:
			if n := len(r.stack); n > 0 && r.foreign == 0 {
				r.stack[n-1].say(string(tok))
			} else if n == 0 && len(bytes.TrimSpace(tok)) > 0 {
				if r.doc.root != nil {
					return around("after the end", line)
				}
				r.early = max(r.early, line)
			}
		case xml.Directive:
			if err := r.doctype(string(tok), line); err != nil {
				return err
			}
		case xml.ProcInst:
			if strings.EqualFold(tok.Target, "xml") && (start > 0 || tok.Target != "xml" || !declared(string(tok.Inst))) {
				return &Error{Where: Where{Line: line}, Message: "its XML declaration is not well-formed", Advice: again}
			}
			if tok.Target == "xml-stylesheet" {
				return &Error{Where: Where{Line: line}, Message: "its styles are in another file, which is not read", Advice: "save it with its styles inside"}
			}
		}
	}
}

// again is what to do about a file that isn't XML as it should be.
const again = "open it in a drawing program and save it again"

// declared reports whether a text is what an XML declaration may say (XML 1.0, 2.8).
func declared(text string) bool {
	return regexp.MustCompile(`^version\s*=\s*("1\.[0-9]+"|'1\.[0-9]+')` +
		`(\s+encoding\s*=\s*("[A-Za-z][A-Za-z0-9._-]*"|'[A-Za-z][A-Za-z0-9._-]*'))?` +
		`(\s+standalone\s*=\s*("(yes|no)"|'(yes|no)'))?\s*$`).MatchString(text)
}

// around says that something stands before or after the drawing.
func around(where string, line int) *Error {
	return &Error{Where: Where{Line: line}, Message: "there is something " + where + " of the drawing", Advice: "save the drawing again"}
}

// broken says what the XML reader stumbled over.
func broken(err error, line int) *Error {
	var own *Error
	var bad *xml.SyntaxError
	if errors.As(err, &own) {
		return own
	}
	out := &Error{Where: Where{Line: line}, Advice: again}
	if !errors.As(err, &bad) {
		out.Message = "it can't be read"
		return out
	}
	out.Where.Line = bad.Line
	switch {
	case strings.Contains(bad.Msg, "entity"):
		out.Message, out.Advice = "it uses an entity that it doesn't declare as a plain text", "save it again with nothing in it but the drawing itself"
	case strings.Contains(bad.Msg, "EOF"):
		out.Message = "it breaks off in the middle"
	case strings.Contains(bad.Msg, "UTF-8"):
		out.Message = "its text is not UTF-8"
	case strings.Contains(bad.Msg, "closed by"):
		out.Message = "elements are not closed in the order in which they were opened"
	default:
		out.Message = "it is not well-formed XML"
	}
	return out
}

// open takes the start of an element, which is raw in the file.
func (r *reader) open(e xml.StartElement, raw []byte, line int) *Error {
	n := &node{name: e.Name.Local, line: line, attrs: make(map[string]string, len(e.Attr))}
	if r.count++; r.count > MaxElements {
		return n.fail("simplify the drawing", "the drawing has more than %d elements", MaxElements)
	}
	if len(r.stack)+r.foreign >= MaxDepth {
		return n.fail("ungroup some of it", "elements are nested more than %d deep", MaxDepth)
	}
	if len(r.stack) == 0 {
		if r.doc.root != nil {
			return n.fail("save the drawing again", "there is something after the end of the drawing")
		}
		if n.name != "svg" || e.Name.Space != svgSpace && e.Name.Space != "" {
			return n.fail("save the drawing as SVG", "this is not an SVG drawing")
		}
	}
	if r.early > 0 {
		return around("before the start", r.early)
	}
	if err := n.wellFormed(e, raw); err != nil {
		return err
	}
	if r.foreign > 0 || e.Name.Space != svgSpace && e.Name.Space != "" {
		if r.foreign++; len(r.stack) > 0 {
			r.stack[len(r.stack)-1].foreign = true
		}
		return nil
	}
	for _, a := range e.Attr {
		if l := a.Name.Local; a.Name.Space != "" && l == "label" || a.Name.Space == "" && (l == "id" || l == "data-name") {
			n.labels = append(n.labels, a.Value)
		}
		switch a.Name.Space {
		case "":
			n.attrs[a.Name.Local] = a.Value
		case xlinkSpace, "xlink":
			if _, ok := n.attrs["href"]; !ok && a.Name.Local == "href" {
				n.attrs["href"] = a.Value
			}
		case xmlSpace, "xml":
			if a.Name.Local == "space" {
				n.attrs["xml:space"] = a.Value
			}
		}
	}
	if id := n.attrs["id"]; id != "" && r.doc.ids[id] == nil {
		r.doc.ids[id] = n
	}
	if len(r.stack) == 0 {
		r.doc.root = n
	} else {
		r.stack[len(r.stack)-1].add(n)
	}
	r.stack = append(r.stack, n)
	return nil
}

// wellFormed finds what the library lets pass in the start of an element: an
// attribute that stands there twice, and two with no blank between them (XML 1.0,
// 3.1).
func (n *node) wellFormed(e xml.StartElement, raw []byte) *Error {
	seen := make(map[xml.Name]bool, len(e.Attr))
	for _, a := range e.Attr {
		if seen[a.Name] {
			return n.fail(again, "it has the attribute %s twice, so it is not well-formed XML", a.Name.Local)
		}
		seen[a.Name] = true
	}
	quote := byte(0)
	for i, c := range raw {
		switch {
		case quote == 0 && (c == '"' || c == '\''):
			quote = c
		case quote != 0 && c == quote:
			quote = 0
			if i+1 < len(raw) && !bytes.ContainsRune([]byte(" \t\r\n/>"), rune(raw[i+1])) {
				return n.fail(again, "a blank is missing between two of its attributes, so it is not well-formed XML")
			}
		}
	}
	return nil
}

package serve

import (
	"foredge/eval/kind"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/eval/kind"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/layout/lettering"
)

// quoted is what stands between an opening quote and the place, which no quote closes
// before it.
func (c *completer) quoted(tokens []parse.Token) (inside string, ok bool) {
	if len(tokens) == 0 {
		return "", false
	}
	t := tokens[len(tokens)-1]
	text := c.text.Text()
	if text[t.Start] != '"' || c.offset <= t.Start || t.Kind == parse.Text && c.offset >= t.End {
		return "", false
	}
	return text[t.Start+1 : c.offset], true
}

// inQuotes adds what may stand between quotes: files and fonts. Any other text is the
// maker's own.
func (c *completer) inQuotes(tokens []parse.Token, inside string) {
	first, before := c.word(tokens[0]), ""
	if len(tokens) > 1 {
		before = c.word(tokens[len(tokens)-2])
	}
	switch {
	case first == "use", before == kind.Make.String():
		c.files(inside, "", disk.DesignExt)
	case before == kind.Orders.String():
		c.files(inside, "", ".csv", ".tsv", ".txt")
	case before == "art":
		c.files(inside, "", ".svg", ".png", ".jpg", ".jpeg")
	case first == "font":
		for _, name := range lettering.Names() {
			c.fill(completeValue, "font", name, inside)
		}
		c.files(inside, "", ".ttf", ".otf")
	}
}

// fill adds an item that takes the place of what stands between the quotes so far.
func (c *completer) fill(sort int, detail, text, inside string) {
	at := source.Span{File: c.text, Start: c.offset - len(inside), End: c.offset}
	c.items = append(c.items, completionItem{Label: text, Kind: sort, Detail: detail, FilterText: text, TextEdit: &textEdit{c.span(at), text}})
}

// files adds the files with one of some endings in the folder that a path leads to so far,
// seen from the design, and the folders in there. quote stands round each, and is "" in
// quotes.
func (c *completer) files(inside, quote string, endings ...string) {
	to, _ := path.Split(inside)
	if path.IsAbs(to) || strings.Contains(to, `\`) {
		return
	}
	folder := filepath.Join(filepath.Dir(c.path), filepath.FromSlash(to))
	entries, err := os.ReadDir(folder)
	if err != nil {
		return // there is nothing to be named
	}
	for _, e := range entries {
		name, sort := to+e.Name(), completeFile
		switch {
		case strings.HasPrefix(e.Name(), "."), filepath.Join(folder, e.Name()) == c.path:
			continue
		case e.IsDir():
			name, sort = name+"/", completeFolder
		case !slices.Contains(endings, strings.ToLower(filepath.Ext(name))):
			continue
		}
		switch {
		case quote == "":
			c.fill(sort, "", name, inside)
		case !e.IsDir():
			c.add(sort, "", quote+name+quote)
		}
	}
}

// inherited adds what a thing may leave out: what like, mirrors and covers bring along.
func (c *completer) inherited() {
	scope := c.scope()
	if scope == nil || scope.Thing() == nil {
		return
	}
	t := scope.Thing()
	if from := t.Model(); from != nil {
		for _, child := range from.Children {
			c.add(completeVariable, child.Kind.Name, child.Name)
		}
	}
	if t.Covers != nil {
		for _, child := range t.Covers.Children {
			c.add(completeVariable, child.Kind.Name, child.Name)
		}
	}
}

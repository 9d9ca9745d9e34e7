package pagelook

import _ "embed"

// Name is what the style is called beside a page.
const Name = "look.css"

//go:embed look.css
var css string

// CSS is the style.
func CSS() []byte { return []byte(css) }

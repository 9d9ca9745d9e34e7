package export_test

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"unicode/utf16"
)

// A savedDrawing is a drawing with one feature of what drawing programs write that
// SVG 1.1 or 2 allows. The numbers in it are drawn by a seed.
type savedDrawing struct {
	name string
	// body is what stands in the page; @R is a rectangle's place and size, @C a
	// circle's, @E an ellipse's, @P the data of a closed curve, @L of an open one, @Z
	// of a zigzag, @G the points of a polygon, @N a number from 2 to 8.
	body string
	// head stands before the page, page replaces its start, and pack changes the file.
	head, page string
	pack       func(string) []byte
	// twin is the same drawing without the feature, for librsvg 2.54, which lacks it;
	// its numbers are the same.
	twin string
	// refused says that no geometry can show it: it is told how to mend it.
	refused bool
}

const (
	savedPage  = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="40mm" height="30mm" viewBox="0 0 40 30">`
	latinWords = "M\xf6we und K\xfcste" // in ISO-8859-1
)

// savedNumbers puts numbers into a drawing: the same for the same seed.
func savedNumbers(text string, seed uint64) string {
	r := rand.New(rand.NewPCG(14, seed))
	between := func(a, b float64) string { return fmt.Sprintf("%.2f", a+(b-a)*r.Float64()) }
	round := func(n int, wobble float64) [][2]float64 {
		cx, cy := 14+12*r.Float64(), 11+8*r.Float64()
		var out [][2]float64
		for i := range n {
			a := 2 * math.Pi * (float64(i) + wobble*(r.Float64()-0.5)) / float64(n)
			d := 5 + 4*r.Float64()
			out = append(out, [2]float64{cx + d*math.Cos(a), cy + d*math.Sin(a)})
		}
		return out
	}
	var out strings.Builder
	for i := 0; i < len(text); i++ {
		if text[i] != '@' || i+1 == len(text) {
			out.WriteByte(text[i])
			continue
		}
		i++
		switch text[i] {
		case 'R':
			fmt.Fprintf(&out, `x="%s" y="%s" width="%s" height="%s"`, between(3, 18), between(3, 12), between(9, 16), between(7, 13))
		case 'C':
			fmt.Fprintf(&out, `cx="%s" cy="%s" r="%s"`, between(12, 28), between(10, 20), between(4, 8))
		case 'E':
			fmt.Fprintf(&out, `cx="%s" cy="%s" rx="%s" ry="%s"`, between(14, 26), between(11, 19), between(6, 10), between(3, 6))
		case 'N':
			out.WriteString(between(2, 8))
		case 'P', 'L':
			p := round(5, 0.4)
			fmt.Fprintf(&out, "M%.2f %.2f", p[0][0], p[0][1])
			for k := 1; k < len(p); k++ {
				fmt.Fprintf(&out, "C%.2f %.2f %.2f %.2f %.2f %.2f", p[k-1][0]+r.Float64()*2, p[k-1][1]+r.Float64()*2, p[k][0]-r.Float64()*2, p[k][1]-r.Float64()*2, p[k][0], p[k][1])
			}
			if text[i] == 'P' {
				out.WriteByte('Z')
			}
		case 'G', 'Z':
			for k, p := range round(6, 0.5) {
				if text[i] == 'Z' {
					p = [2]float64{5 + 6*float64(k), 6 + 16*float64(k%2) + 2*r.Float64()}
				}
				fmt.Fprintf(&out, "%.2f,%.2f ", p[0], p[1])
			}
		default:
			out.WriteString(text[i-1 : i+1])
		}
	}
	return out.String()
}

// file is the drawing as it is saved.
func (d savedDrawing) file(seed uint64) []byte {
	page := d.page
	if page == "" {
		page = savedPage
	}
	text := d.head + page + savedNumbers(d.body, seed) + "</svg>\n"
	if d.pack != nil {
		return d.pack(text)
	}
	return []byte(text)
}

// plain is the drawing as librsvg is given it.
func (d savedDrawing) plain(seed uint64) []byte {
	if d.twin == "" {
		return d.file(seed)
	}
	return []byte(savedPage + savedNumbers(d.twin, seed) + "</svg>\n")
}

// as has librsvg draw a twin.
func (d savedDrawing) as(twin string) savedDrawing {
	d.twin = twin
	return d
}

func gzipped(s string) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, _ = z.Write([]byte(s)) // a buffer takes all
	_ = z.Close()
	return b.Bytes()
}

func inUTF16(s string) []byte {
	out := []byte{0xff, 0xfe}
	for _, u := range utf16.Encode([]rune(s)) {
		out = append(out, byte(u), byte(u>>8))
	}
	return out
}

// savedDrawings are the drawings of the test, by what they are about.
func savedDrawings() []savedDrawing {
	var all []savedDrawing
	for _, list := range [][]savedDrawing{savedFiles(), savedStyles(), savedColours(), savedStrokes(), savedClips(), savedTexts(), savedMoves(), savedRefused(),
		savedSpans(), savedMoved(), savedSelectors()} {
		all = append(all, list...)
	}
	return all
}

func savedFiles() []savedDrawing {
	const xml = `<?xml version="1.0" encoding="UTF-8" standalone="no"?>` + "\n"
	return []savedDrawing{
		{name: "doctype of SVG 1.1", head: xml + `<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">` + "\n", body: `<path d="@P"/>`},
		{name: "entities for name spaces", head: xml + `<!DOCTYPE svg [ <!ENTITY ns_svg "http://www.w3.org/2000/svg"> <!ENTITY ns_link "http://www.w3.org/1999/xlink"> ]>` + "\n",
			page: `<svg xmlns="&ns_svg;" xmlns:xlink="&ns_link;" width="40mm" height="30mm" viewBox="0 0 40 30">`, body: `<rect @R/>`},
		{name: "entities for styles", head: `<!DOCTYPE svg [ <!ENTITY st0 "fill:none;stroke:#222222;"> <!ENTITY st1 "&st0;stroke-width:0.4;"> ]>` + "\n", body: `<path style="&st1;" d="@P"/>`},
		{name: "attributes listed for name spaces", head: `<!DOCTYPE svg [ <!ATTLIST svg xmlns:xlink CDATA #FIXED "http://www.w3.org/1999/xlink"> ]>` + "\n", body: `<circle @C/>`},
		{name: "ISO-8859-1", head: `<?xml version="1.0" encoding="ISO-8859-1"?>` + "\n", body: `<title>` + latinWords + `</title><path d="@P"/>`},
		{name: "windows-1252 in a comment", head: `<?xml version="1.0" encoding="windows-1252"?>` + "\n", body: "<!-- tide \x93high\x94 --><ellipse @E/>"},
		{name: "UTF-16", head: `<?xml version="1.0" encoding="UTF-16"?>` + "\n", body: `<desc>Küste</desc><path d="@P"/>`, pack: inUTF16},
		{name: "compressed", body: `<path d="@P"/>`, pack: gzipped},
		{name: "byte-order mark", body: `<polygon points="@G"/>`, pack: func(s string) []byte { return []byte("\ufeff" + s) }},
		{name: "notes of an editor", body: `<metadata><r:RDF xmlns:r="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><r:x/></r:RDF></metadata><e:view xmlns:e="http://example.org/e" e:zoom="2"><e:grid/></e:view><rect @R e:kind="x" xmlns:e="http://example.org/e"/>`},
		{name: "a prefix for all elements", page: `<s:svg xmlns:s="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">`, body: `<s:rect @R/>`,
			pack: func(s string) []byte { return []byte(strings.Replace(s, "</svg>", "</s:svg>", 1)) }},
		{name: "styles in CDATA", body: `<style type="text/css"><![CDATA[ .a > .b { fill: none } .c { stroke: #000; stroke-width: .3 } ]]></style><g class="a"><path class="b c" d="@P"/></g>`},
		{name: "an empty text", body: `<rect @R/><text x="3" y="4" font-family="Tern"></text>`},
		{name: "a text of blanks and spans", body: `<rect @R/><text x="3" y="4"> <tspan x="1" y="2"> </tspan> </text>`},
		{name: "an empty script", body: `<script type="text/ecmascript"/><script><![CDATA[ /* nothing */ ]]></script><circle @C/>`},
		{name: "a switch round a foreign object", body: `<switch><foreignObject requiredExtensions="http://example.org/extended" x="0" y="0" width="1" height="1"><e:data xmlns:e="http://example.org/e">x</e:data></foreignObject><g><path d="@P"/></g></switch>`},
		{name: "a switch by features", body: `<switch><g requiredFeatures="http://www.w3.org/TR/SVG11/feature#Shape"><circle @C/></g><rect @R/></switch>`},
		{name: "a link round a shape", body: `<a xlink:href="http://example.org/"><path d="@P"/></a>`},
		{name: "hidden layers", body: `<g id="layer1" style="display:none"><rect @R/></g><g id="layer2" style="display:inline"><circle @C/></g>`},
		{name: "unused definitions", body: `<defs><filter id="f"><feGaussianBlur stdDeviation="2"/></filter><pattern id="p" width="2" height="2"><path d="M0 0H1"/></pattern><image id="i" width="3" height="3" href="a.png"/></defs><path d="@P"/>`},
		{name: "symbols with a view box", body: `<symbol id="s" viewBox="0 0 10 10" overflow="visible"><path d="M1 1H9V9L5 4L1 9Z"/></symbol><use xlink:href="#s" x="3" y="3" width="12" height="12"/><use href="#s" x="20" y="@N" width="16" height="16"/>`},
		{name: "uses of uses, mirrored", body: `<defs><path id="a" d="M0 0C@N @N 9 3 9 9H0Z"/><g id="b"><use xlink:href="#a"/></g></defs><use xlink:href="#b" transform="translate(20 4) scale(-1 1.2)"/><use xlink:href="#b" x="22" y="12"/>`},
		{name: "a nested page", body: `<svg x="@N" y="4" width="20" height="18" viewBox="0 0 30 18" preserveAspectRatio="xMinYMax slice"><circle cx="9" cy="9" r="8"/></svg>`},
		{name: "sizes in em", body: `<g font-size="3"><rect x="1em" y="2em" width="5em" height="@N"/></g>`},
		{name: "sizes in shares", body: `<rect x="10%" y="20%" width="45%" height="@N"/><circle cx="75%" cy="50%" r="15%"/>`},
	}
}

func savedStyles() []savedDrawing {
	css := func(name, sheet, body string) savedDrawing {
		return savedDrawing{name: name, body: `<style>` + sheet + `</style>` + body}
	}
	twin := func(name, body, twin string) savedDrawing { return savedDrawing{name: name, body: body, twin: twin} }
	return []savedDrawing{
		css("a hover that never holds", `.a{fill:#123} .a:hover{fill:#fff} a:active .a{display:none}`, `<path class="a" d="@P"/>`),
		css("unused selectors", `.a{fill:#123} body > div::before{content:"x"} .x:nth-last-of-type(2n+1){fill:none} svg:lang(de) .y{fill:none}`, `<path class="a" d="@P"/>`),
		css("@media that changes nothing", `.a{fill:#123} @media print{.b{display:none}}`, `<path class="a" d="@P"/>`),
		css("@media of dark screens", `.a{fill:#123} @media (prefers-color-scheme: dark){.a{fill:#fff}}`, `<path class="a" d="@P"/>`),
		css("@font-face", `@font-face{font-family:"Tern";src:url(data:font/ttf;base64,AAEAAA) format("truetype")} .a{font-family:Tern}`, `<path class="a" d="@P"/>`),
		css("@charset, @namespace and @page", `@charset "utf-8"; @namespace svg url(http://www.w3.org/2000/svg); @page{margin:1cm} path{fill:#321}`, `<path d="@P"/>`),
		css("descendants", `#g path{fill:none;stroke:#000;stroke-width:.3} path{fill:#000}`, `<g id="g"><g><path d="@P"/></g></g>`),
		css("children", `g > rect{fill:none} svg > rect{fill:#000}`, `<g><rect @R/></g><rect @R/>`),
		css("siblings", `rect + circle{fill:none} rect ~ path{fill:none;stroke:#000;stroke-width:.3}`, `<rect @R/><circle @C/><path d="@P"/>`),
		css("attributes", `[data-k="hide"]{display:none} path[id^="wing"]{fill:none;stroke:#000;stroke-width:.3}`, `<rect data-k="hide" @R/><path id="wing-2" d="@P"/>`),
		css("places among children", `rect:first-child{fill:none;stroke:#000;stroke-width:.3} circle:nth-child(2n+3){display:none}`, `<g><rect @R/><circle @C/><circle @C/></g>`),
		css(":not", `path:not(.keep){display:none}`, `<path d="@P"/><path class="keep" d="@P"/>`),
		css("what is important", `.a{fill:none !important} #b{fill:#000}`, `<path class="a" id="b" style="fill:#000;stroke:#000;stroke-width:.3" d="@P"/>`),
		css("lists of selectors", `.a,.b , .c{fill:none;stroke:#000;stroke-width:.3}.b{fill:#000}`, `<rect class="a" @R/><circle class="b" @C/>`),
		css("selectors of all elements", `*{fill:none;stroke:#000;stroke-width:.3}`, `<rect @R/><path d="@P"/>`),
		twin("variables", `<style>:root{--ink:#223344;--gap:none} .a{fill:var(--gap);stroke:var(--ink);stroke-width:.3}</style><path class="a" d="@P"/>`, `<path fill="none" stroke="#000" stroke-width=".3" d="@P"/>`),
		twin("variables with something instead", `<g style="--w:.5px"><path style="fill:var(--none, none);stroke:#000;stroke-width:var(--w, 3px)" d="@P"/></g>`, `<path fill="none" stroke="#000" stroke-width=".5" d="@P"/>`),
		twin("variables of variables", `<style>svg{--a:hsl(var(--h),50%,30%);--h:200}</style><rect fill="#fff" @R/><circle style="fill:var(--a)" @C/>`, `<rect fill="#fff" @R/><circle @C/>`),
		{name: "a transform in a style", body: `<rect style="transform:translate(4px,3px) rotate(10deg)" x="6" y="2" width="@N" height="12"/>`},
		twin("a transform about an origin", `<rect style="transform:rotate(25deg);transform-origin:20px 15px" x="12" y="9" width="16" height="@N"/>`, `<rect transform="rotate(25 20 15)" x="12" y="9" width="16" height="@N"/>`),
		twin("a transform about its own middle", `<rect style="transform:scale(.5,1.5) rotate(30deg);transform-box:fill-box;transform-origin:center" x="10" y="10" width="20" height="8"/><rect @R fill="none"/>`, `<rect transform="translate(20 14) scale(.5 1.5) rotate(30) translate(-20 -14)" x="10" y="10" width="20" height="8"/>`),
		twin("rotate, scale and translate", `<rect style="translate:5px 2px;rotate:12deg;scale:1.2" x="6" y="4" width="12" height="@N"/>`, `<rect transform="translate(5 2) rotate(12) scale(1.2)" x="6" y="4" width="12" height="@N"/>`),
		{name: "sizes in a style", body: `<rect style="x:5px;y:4px;width:20px;height:10px;rx:3px"/><circle style="r:4px;cx:30px;cy:20px" cx="1"/>`},
		twin("a path in a style", `<path style="d:path('M4 4H30L20 24Z')" d="M0 0H1V1Z"/>`, `<path d="M4 4H30L20 24Z"/>`),
	}
}

func savedColours() []savedDrawing {
	fill := func(name, colour string) savedDrawing {
		return savedDrawing{name: name, body: `<path d="@P" fill="` + colour + `"/><circle @C style="fill:` + colour + `"/>`}
	}
	gradient := func(name, defs, body string) savedDrawing {
		return savedDrawing{name: name, body: `<defs>` + defs + `</defs>` + body}
	}
	const stops = `<stop offset="0" stop-color="#803"/><stop offset="1" style="stop-color:#036;stop-opacity:1"/>`
	return []savedDrawing{
		fill("hsl", "hsl(210, 60%, 30%)"),
		fill("hsla", "hsla(20, 80%, 40%, 0.9)"),
		fill("rgb in shares", "rgb(20%,10%,40%)"),
		fill("a colour profile behind a colour", "#8C3A1F icc-color(harbour, 0.1, 0.5, 0.6, 0)"),
		{name: "white by hsl takes away", body: `<rect @R/><circle @C fill="hsl(0, 0%, 100%)"/>`},
		{name: "hwb", body: `<path d="@P" fill="hwb(200 10% 60%)"/>`, twin: `<path d="@P"/>`},
		{name: "#rgba", body: `<path d="@P" fill="#123d"/>`},
		{name: "currentColor", body: `<g color="#246" fill="none" stroke="currentColor" stroke-width=".4"><path d="@P"/></g>`},
		{name: "opacity of a group", body: `<g opacity=".8"><rect @R/><circle @C fill="#060"/></g>`},
		gradient("a gradient along a line", `<linearGradient id="g">`+stops+`</linearGradient>`, `<path d="@P" fill="url(#g)"/>`),
		gradient("a gradient from a middle, by another", `<linearGradient id="a">`+stops+`</linearGradient><radialGradient id="g" xlink:href="#a" gradientUnits="userSpaceOnUse" cx="20" cy="15" r="9" gradientTransform="scale(1.1)"/>`, `<rect @R style="fill:url(#g)"/>`),
		gradient("a gradient of one colour", `<linearGradient id="g"><stop style="stop-color:#121;stop-opacity:1"/></linearGradient>`, `<circle @C fill="url('#g')"/>`),
		gradient("a gradient on a level line", `<linearGradient id="g">`+stops+`</linearGradient>`, `<circle @C/><path d="M2 4H38" stroke="url(#g)" stroke-width="2"/>`),
		gradient("a gradient along a stroke", `<linearGradient id="g" gradientUnits="userSpaceOnUse" x2="40">`+stops+`</linearGradient>`, `<path d="@L" fill="none" stroke="url(#g) #000" stroke-width=".5"/>`),
		{name: "a white page under all", body: `<rect width="100%" height="100%" fill="white"/><path d="@P"/>`},
		{name: "a fill that isn't there", body: `<rect @R fill="url(#gone) #333"/><circle @C style="fill:none"/>`},
	}
}

func savedStrokes() []savedDrawing {
	both := func(name, attrs, body string) savedDrawing {
		return savedDrawing{name: name, body: `<g fill="#345" stroke="#000" ` + attrs + `>` + body + `</g>`}
	}
	line := func(name, attrs, body string) savedDrawing {
		return savedDrawing{name: name, body: `<g fill="none" stroke="#000" stroke-width=".25" ` + attrs + `>` + body + `</g>`}
	}
	return []savedDrawing{
		both("fill and stroke", `stroke-width="1.2"`, `<rect @R/>`),
		both("fill and stroke with round corners", `stroke-width="2" stroke-linejoin="round"`, `<polygon points="@G"/>`),
		both("fill and stroke with cut corners", `stroke-width="2" stroke-linejoin="bevel"`, `<polygon points="@G"/>`),
		both("fill and stroke with a limit to corners", `stroke-width="1.5" stroke-miterlimit="1.3"`, `<polygon points="@G"/>`),
		both("fill and stroke of a curve", `stroke-width="1"`, `<path d="@P"/>`),
		both("fill and stroke of an open curve with round ends", `stroke-width="2" stroke-linecap="round" stroke-linejoin="round"`, `<path d="@L"/>`),
		both("fill and stroke of an open line with square ends", `stroke-width="1.6" stroke-linecap="square"`, `<polyline points="@Z"/>`),
		both("fill and stroke, stretched", `stroke-width="1.5" transform="translate(0 6) scale(1 .5)"`, `<circle @C/><path d="@P"/>`),
		both("fill and stroke of round corners tighter than the pen", `stroke-width="3"`, `<rect @R rx=".8"/>`),
		{name: "fill and a stroke that doesn't grow", body: `<path fill="#345" stroke="#000" stroke-width="4" transform="scale(1.2)" vector-effect="non-scaling-stroke" d="M4 4H20L12 18Z"/>`,
			twin: `<path stroke="#000" stroke-width="1.0583" d="M4.8 4.8H24L14.4 21.6Z"/>`}, // 4 px are 1.0583 mm
		both("fill and dashes", `stroke-width="1" stroke-dasharray="3 2"`, `<rect @R/>`),
		both("stroke below the fill", `stroke-width="1.4" paint-order="stroke"`, `<path d="@P"/>`),
		{name: "a white stroke round a fill", body: `<rect @R/><circle @C fill="#222" stroke="#fff" stroke-width="1.5"/>`},
		{name: "a white line across a fill", body: `<rect x="4" y="4" width="30" height="20"/><path d="M2 @NL38 @N" stroke="white" stroke-width="1.2"/>`},
		{name: "white dashes on a fill", body: `<rect x="4" y="4" width="30" height="20"/><path d="M2 14H38" stroke="white" stroke-width="1.2" stroke-dasharray="4 2.5"/>`},
		line("dashes", `stroke-dasharray="2 1"`, `<path d="@L"/>`),
		line("dashes of an odd number", `stroke-dasharray="3,1,.8"`, `<path d="@L"/>`),
		line("dashes that begin later", `stroke-dasharray="3 2" stroke-dashoffset="1.7"`, `<circle @C/>`),
		line("dashes round a closed line", `style="stroke-dasharray:2.5,1.3;stroke-dashoffset:-1"`, `<rect @R/>`),
		{name: "dashes by the length of the path", body: `<path stroke="#000" stroke-width=".3" stroke-dasharray="10 5" pathLength="100" d="M4 @NH34"/>`,
			twin: `<path stroke="#000" stroke-width=".3" stroke-dasharray="3 1.5" d="M4 @NH34"/>`},
		line("dashes in a scaled group", `transform="scale(1.3)" stroke-dasharray="2 1"`, `<path d="M2 2L24 18"/>`),
		line("dashes in a stretched group", `transform="scale(1.4 .8)" stroke-dasharray="2 1"`, `<circle @C/>`),
		{name: "dots", body: `<path fill="none" stroke="#000" stroke-width="1.2" stroke-linecap="round" stroke-dasharray="0 2.5" d="@L"/>`},
		{name: "an arrow", body: `<marker id="m" orient="auto" markerWidth="4" markerHeight="4" refX="1" refY="2"><path d="M0 0L4 2L0 4Z"/></marker><path d="M4 @NL30 20" stroke="#000" stroke-width=".8" marker-end="url(#m)"/>`},
		{name: "arrows at both ends", body: `<marker id="m" orient="auto-start-reverse" viewBox="0 0 10 10" refX="5" refY="5" markerWidth="6" markerHeight="6"><path d="M0 0L10 5L0 10z"/></marker><path d="M8 @NH32" stroke="#000" stroke-width=".6" marker-start="url(#m)" marker-end="url(#m)"/>`},
		{name: "dots along a line", body: `<marker id="m" markerUnits="userSpaceOnUse" refX="1" refY="1" markerWidth="2" markerHeight="2"><circle cx="1" cy="1" r="1"/></marker><polyline points="@Z" fill="none" stroke="#000" stroke-width=".3" style="marker-mid:url(#m)"/>`},
	}
}

func savedClips() []savedDrawing {
	clip := func(name, defs, body string) savedDrawing {
		return savedDrawing{name: name, body: `<defs>` + defs + `</defs>` + body}
	}
	return []savedDrawing{
		clip("a clip as large as the page", `<clipPath id="c"><rect width="40" height="30"/></clipPath>`, `<g clip-path="url(#c)"><path d="@P"/><rect @R/></g>`),
		clip("a clip by a circle", `<clipPath id="c"><circle @C/></clipPath>`, `<path clip-path="url(#c)" d="@P"/>`),
		clip("a clip by a path with a hole", `<clipPath id="c"><path clip-rule="evenodd" d="M4 4H36V26H4ZM12 9H28V20H12Z"/></clipPath>`, `<g style="clip-path:url(#c)"><circle @C/></g>`),
		clip("a clip by two shapes", `<clipPath id="c"><rect @R/><circle @C/></clipPath>`, `<rect x="8" y="6" width="24" height="18" clip-path="url(#c)"/>`),
		clip("a clip by what is used", `<path id="p" d="@P"/><clipPath id="c"><use xlink:href="#p" overflow="visible"/></clipPath>`, `<rect @R clip-path="url(#c)"/>`),
		clip("a clip that is clipped", `<clipPath id="a"><rect @R/></clipPath><clipPath id="c" clip-path="url(#a)"><circle @C/></clipPath>`, `<rect width="40" height="30" clip-path="url(#c)"/>`).as(`<clipPath id="a"><rect @R/></clipPath><clipPath id="c"><circle @C/></clipPath><g clip-path="url(#a)"><rect width="40" height="30" clip-path="url(#c)"/></g>`),
		clip("a clip in shares of the shape", `<clipPath id="c" clipPathUnits="objectBoundingBox"><circle cx=".5" cy=".5" r=".45"/></clipPath>`, `<rect @R clip-path="url(#c)"/>`),
		clip("a clip that is turned", `<clipPath id="c" transform="rotate(20 20 15)"><rect x="10" y="8" width="20" height="@N"/></clipPath>`, `<path d="@P" clip-path="url(#c)"/>`),
		clip("clips in one another", `<clipPath id="a"><rect @R/></clipPath><clipPath id="b"><circle @C/></clipPath>`, `<g clip-path="url(#a)"><g clip-path="url(#b)"><path d="@P"/><circle @C/></g></g>`),
		clip("a clip of lines", `<clipPath id="c"><circle @C/></clipPath>`, `<g clip-path="url(#c)" stroke="#000" stroke-width=".3"><path d="M0 8H40M0 12H40M0 16H40M0 20H40"/></g>`),
		clip("a clip of what is used", `<rect id="r" @R/><clipPath id="c"><path d="@P"/></clipPath>`, `<use xlink:href="#r" clip-path="url(#c)"/>`),
		clip("a clip of fill and stroke", `<clipPath id="c"><circle @C/></clipPath>`, `<rect @R stroke="#000" stroke-width="2" clip-path="url(#c)"/>`),
		clip("a mask of white", `<mask id="m"><circle @C fill="white"/></mask>`, `<rect @R mask="url(#m)"/>`),
		clip("a mask with a hole", `<mask id="m" maskUnits="userSpaceOnUse" x="0" y="0" width="40" height="30"><rect width="40" height="30" fill="#fff"/><circle @C fill="#000"/></mask>`, `<g style="mask:url(#m)"><path d="@P"/></g>`),
		clip("a mask of grey strokes", `<mask id="m" maskUnits="userSpaceOnUse" x="0" y="0" width="40" height="30"><path d="@P" fill="none" stroke="#eee" stroke-width="3"/></mask>`, `<rect width="40" height="30" mask="url(#m)"/>`),
		clip("a mask in shares of the shape", `<mask id="m" maskContentUnits="objectBoundingBox"><rect x=".2" y=".1" width=".6" height=".7" fill="#fff"/></mask>`, `<path d="@P" mask="url(#m)"/>`),
		clip("a mask by what is clear", `<mask id="m" style="mask-type:alpha"><circle @C fill="#000"/></mask>`, `<rect @R mask="url(#m)"/>`),
		clip("a mask and a clip", `<mask id="m"><path d="@P" fill="#fff"/></mask><clipPath id="c"><circle @C/></clipPath>`, `<g clip-path="url(#c)"><rect @R mask="url(#m)"/></g>`),
	}
}

func savedTexts() []savedDrawing {
	text := func(name, attrs, body string) savedDrawing {
		return savedDrawing{name: name, body: `<text font-family="Go" font-size="5" ` + attrs + `>` + body + `</text>`}
	}
	return []savedDrawing{
		text("a text", `x="@N" y="12"`, `Harbour log`),
		text("a text in the middle", `x="20" y="14" style="text-anchor:middle"`, `Tides`),
		text("a text at the end", `x="36" y="14" text-anchor="end"`, `Tern &amp; gull`),
		text("lines of a text", `x="4" y="8"`, `<tspan x="4" y="9">Spring</tspan><tspan x="4" dy="7">Neap</tspan>`),
		text("bold and italic in a text", `x="3" y="14"`, `High <tspan font-weight="bold">water</tspan> <tspan font-style="italic">now</tspan>`),
		text("letters at places of their own", `x="4 8.5 13 18 23" y="9 11 13 15 17"`, `Waves`).as(`<g font-family="Go" font-size="5"><text x="4" y="9">W</text><text x="8.5" y="11">a</text><text x="13" y="13">v</text><text x="18" y="15">e</text><text x="23" y="17">s</text></g>`),
		text("a text turned and scaled", `transform="rotate(15) scale(1.2 1)" x="5" y="8"`, `Lantern`),
		text("spaced letters", `x="3" y="14" letter-spacing="1"`, `TIDE`),
		text("a text with a stroke", `x="6" y="16" stroke="#000" stroke-width=".4"`, `Bay`),
		{name: "a clip by a text", body: `<clipPath id="c"><text x="5" y="20" font-family="Go" font-weight="bold" font-size="14">Sea</text></clipPath><rect @R clip-path="url(#c)"/>`},
	}
}

func savedMoves() []savedDrawing {
	return []savedDrawing{
		{name: "an animated colour", body: `<path d="@P" fill="#123"><animate attributeName="fill" values="#123;#345;#123" dur="2s" repeatCount="indefinite"/></path>`},
		{name: "an animation at a click", body: `<path d="@P"><animate attributeName="opacity" begin="click" from="0" to="1" dur="1s"/><set attributeName="display" begin="a.end+1s" to="none"/></path>`},
		{name: "a turning wheel", body: `<path d="@P"><animateTransform attributeName="transform" type="rotate" from="0 20 15" to="360 20 15" dur="9s"/></path>`},
		{name: "a boat that sails off", body: `<path d="@P"><animateMotion path="M0 0L9 9" dur="3s"/></path>`},
		{name: "an animation of the styles", body: `<style>@keyframes bob{from{transform:none;opacity:1}to{opacity:0}} .a{animation:bob 2s infinite;opacity:1}</style><g style="opacity:1"><path d="@P"/></g>`},
	}
}

func savedRefused() []savedDrawing {
	bad := func(name, body string) savedDrawing { return savedDrawing{name: name, body: body, refused: true} }
	return []savedDrawing{
		bad("a shadow", `<filter id="f"><feDropShadow dx="1" dy="1" stdDeviation="1"/></filter><rect @R filter="url(#f)"/>`),
		bad("a picture in the drawing", `<image x="1" y="1" width="9" height="9" href="data:image/png;base64,iVBORw0KGgo="/>`),
		bad("a pattern", `<pattern id="p" width="3" height="3" patternUnits="userSpaceOnUse"><path d="M0 0L3 3" stroke="#000"/></pattern><rect @R fill="url(#p)"/>`),
		bad("a gradient to nothing", `<linearGradient id="g"><stop/><stop offset="1" stop-opacity="0"/></linearGradient><rect @R fill="url(#g)"/>`),
		bad("a text along a path", `<path id="p" d="@L" fill="none"/><text font-family="Go"><textPath href="#p">Tide</textPath></text>`),
		bad("a page of another kind in it", `<foreignObject width="9" height="9"><p xmlns="http://www.w3.org/1999/xhtml">Tide</p></foreignObject>`),
	}
}

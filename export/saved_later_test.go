package export_test

import "strings"

// More drawings of the test; those before them keep their numbers.

// savedSpans are texts in spans and with blanks.
func savedSpans() []savedDrawing {
	text := func(name, attrs, body string) savedDrawing {
		return savedDrawing{name: name, body: `<text font-family="Go" font-size="5" ` + attrs + `>` + body + `</text>`}
	}
	return []savedDrawing{
		text("a place for letters in a span", `x="8" y="14"`, `<tspan>Gull</tspan> bay`),
		text("a place for letters in a span of a span, below a line's end", `x="8" y="14"`, "\n  <tspan>\n    <tspan font-weight=\"bold\">Gu</tspan>ll</tspan>"),
		text("a place for letters in a link", `x="@N" y="14"`, `<a xlink:href="http://example.org/">Gull</a> bay`).as(`<text font-family="Go" font-size="5" x="@N" y="14">Gull bay</text>`),
		text("a span with an x alone", `x="3" y="14"`, `Go<tspan x="20">on</tspan>`),
		text("a span with a y alone", `x="3" y="9"`, `Go<tspan y="19">on</tspan>`),
		text("spans moved in a text that starts with them", `x="8" y="9"`, `<tspan dx="2" dy="1">Gull</tspan><tspan x="8" dy="7">Tern</tspan>`),
		text("places of letters that a span takes up", `x="4 10 16" y="14"`, `<tspan>G</tspan><tspan>u<tspan>l</tspan></tspan>l`).
			as(`<g font-family="Go" font-size="5"><text x="4" y="14">G</text><text x="10" y="14">u</text><text x="16" y="14">ll</text></g>`),
		text("places of letters, some of them a span's own", `x="4 10 16 22" y="14"`, `G<tspan y="19 20">ul</tspan>l`).
			as(`<g font-family="Go" font-size="5"><text x="4" y="14">G</text><text x="10" y="19">u</text><text x="16" y="20">l</text><text x="22" y="20">l</text></g>`),
		text("moves of letters across a span", `x="4" y="14" dx="0 3 0 4" dy="0 1 2 -1"`, `G<tspan>ul</tspan>l`).
			as(`<text font-family="Go" font-size="5" x="4" y="14">G<tspan dx="3" dy="1">u</tspan><tspan dy="2">l</tspan><tspan dx="4" dy="-1">l</tspan></text>`),
		text("each line in the middle", `x="20" y="9" text-anchor="middle"`, `<tspan>Spring</tspan><tspan x="20" y="16">Neap <tspan font-weight="bold">tide</tspan></tspan>`),
		text("each line at an end of its own", `y="9"`, `<tspan x="20" text-anchor="end">Spring</tspan><tspan x="20" y="16" text-anchor="start">Neap</tspan>`),
		text("blanks that are kept", `x="2" y="14" xml:space="preserve"`, "  A  <tspan>  b</tspan>\nc"),
		{name: "blanks that the page keeps", page: strings.Replace(savedPage, "<svg", `<svg xml:space="preserve"`, 1), body: `<text font-family="Go" font-size="5" x="2" y="9">  A  b</text><g xml:space="default"><text font-family="Go" font-size="5" x="2" y="18">  A  b</text></g>`},
		text("blanks kept by a style", `x="2" y="14" style="white-space:pre"`, `  A  b`).as(`<text font-family="Go" font-size="5" x="2" y="14" xml:space="preserve">  A  b</text>`),
		text("spaced letters that are kerned", `x="3" y="14" letter-spacing="1.5"`, `AVATo`),
		savedBad("small capitals", `<text font-family="Go" font-size="5" x="3" y="9" style="font-variant:small-caps">Tide</text>`),
		savedBad("figures of a font's own", `<text font-family="Go" font-size="5" x="3" y="9" style="font-feature-settings:'onum' 1">1913</text>`),
		savedBad("lines by the breaks of a style", "<text font-family=\"Go\" font-size=\"5\" x=\"3\" y=\"9\" style=\"white-space:pre\">Spring\nNeap</text>"),
	}
}

func savedBad(name, body string) savedDrawing {
	return savedDrawing{name: name, body: body, refused: true}
}

// savedMoved are clips and masks of what is moved or masked itself.
func savedMoved() []savedDrawing {
	clip := func(name, defs, body string) savedDrawing {
		return savedDrawing{name: name, body: `<defs>` + defs + `</defs>` + body}
	}
	return []savedDrawing{
		clip("a clip that moves with a use", `<circle id="k" cx="9" cy="9" r="7"/><clipPath id="c"><rect x="4" y="4" width="10" height="7"/></clipPath>`, `<use xlink:href="#k" x="12" y="@N" clip-path="url(#c)"/>`),
		clip("a clip in shares of what a use moves", `<rect id="k" x="2" y="2" width="14" height="12"/><clipPath id="c" clipPathUnits="objectBoundingBox"><circle cx=".5" cy=".5" r=".5"/></clipPath>`, `<use xlink:href="#k" x="12" y="@N" clip-path="url(#c)"/>`),
		clip("a mask that moves with a use", `<circle id="k" cx="9" cy="9" r="7"/><mask id="m"><rect x="4" y="4" width="10" height="7" fill="#fff"/></mask>`, `<use xlink:href="#k" x="@N" y="9" transform="rotate(10)" mask="url(#m)"/>`),
		clip("a mask in a mask", `<mask id="n" maskUnits="userSpaceOnUse" width="40" height="30"><rect x="4" y="4" width="20" height="14" fill="#fff"/></mask><mask id="m" maskUnits="userSpaceOnUse" width="40" height="30" mask="url(#n)"><circle @C fill="#fff"/></mask>`, `<rect width="40" height="30" mask="url(#m)"/>`).
			as(`<defs><mask id="n" maskUnits="userSpaceOnUse" width="40" height="30"><rect x="4" y="4" width="20" height="14" fill="#fff"/></mask><mask id="m" maskUnits="userSpaceOnUse" width="40" height="30"><circle @C fill="#fff"/></mask></defs><g mask="url(#n)"><rect width="40" height="30" mask="url(#m)"/></g>`),
		savedBad("a mask in shares of a mask", `<mask id="n"><circle @C fill="#fff"/></mask><mask id="m" mask="url(#n)"><rect width="40" height="30" fill="#fff"/></mask><rect width="40" height="30" mask="url(#m)"/>`),
	}
}

// savedSelectors are styles whose selectors and conditions are less usual.
func savedSelectors() []savedDrawing {
	const ink, line = `<path class="q" d="@P"/>`, `<path fill="none" stroke="#000" stroke-width=".3" d="@P"/>`
	css := func(name, sheet, body string) savedDrawing {
		return savedDrawing{name: name, body: `<style>` + sheet + `</style>` + body}
	}
	const set = `{fill:none;stroke:#000;stroke-width:.3}`
	return []savedDrawing{
		css("a class that begins with a number", `.\31 q`+set, `<path class="1q" d="@P"/>`),
		css("a class with a colon", `.a\:b`+set+` #c\.d{display:none}`, `<path class="a:b" d="@P"/><rect id="c.d" @R/>`),
		css("an attribute in capitals or not", `[class="Q" i]`+set+` [class="Q"]{display:none}`, ink),
		css("@media of screens", `@media screen{.q`+set+`} @media print{.q{display:none}}`, ink).as(line),
		css("@media of all, with others", `@media print, all{.q`+set+`} @media only screen{rect{display:none}}`, ink+`<rect @R/>`).as(line),
		{name: "styles for printing alone", body: `<style media="print">.q{display:none}</style><style media="screen">.q` + set + `</style>` + ink, twin: line},
		css("@supports", `@supports (fill: none){.q`+set+`}`, ink).as(line),
		css("a rule in a rule", `.g{fill:#000; .q`+set+` &amp; > rect, circle{display:none}}`, `<g class="g">`+ink+`<rect @R/><circle @C/></g>`).as(line),
		css("a rule in a rule in a rule", `.g{ .h{ &amp;.k{ .q`+set+` } } .q{stroke:none}}`, `<g class="g"><g class="h k">`+ink+`</g></g>`).as(line),
	}
}

package art

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Small files that ask for endless work are refused before it is done, or cost
// little: what is shared by many, nested, or drawn again and again.
func TestWorkIsBounded(t *testing.T) {
	again := strings.Repeat
	each := func(n int, f func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(f(i))
		}
		return b.String()
	}
	zigzag := func(n int) string {
		return each(n, func(i int) string { return fmt.Sprintf("%d,%d ", i%190, i*7%190) })
	}
	tangle := func(n int, dx, dy float64) string {
		return each(n, func(i int) string {
			return fmt.Sprintf("%.2f,%.2f ", math.Mod(float64(i)*dx, 80), math.Mod(float64(i)*dy, 50))
		})
	}
	const styles, tangled, elements, segments = "styles are too many", "too tangled", "more than 50000 elements", "more than 100000 lines"
	for name, c := range map[string]struct{ body, want string }{
		"selectors of eight":              {`<style>` + again(`g g g g g g g g rect{fill:red}`, 1900) + `</style>` + again(`<g>`, 60) + again(`<rect/>`, 40000) + again(`</g>`, 60), styles},
		"places counted back":             {`<style>rect:nth-last-child(3n+1){fill:red}</style>` + again(`<rect/>`, 40000), styles},
		"siblings":                        {`<style>` + again(`rect ~ rect ~ rect + circle{fill:red}`, 500) + `</style>` + again(`<rect/>`, 20000) + again(`<circle/>`, 20000), styles},
		"a line to and fro across itself": {`<path d="M0 0` + each(40000, func(i int) string { return fmt.Sprintf("L%.2f %d", math.Mod(float64(i)*61.8034, 100), i%100) }) + `Z"/>`, tangled},
		"a clip of many": {`<clipPath id="c"><polygon points="` + zigzag(3000) + `"/></clipPath>` + each(3000, func(i int) string {
			return fmt.Sprintf(`<rect clip-path="url(#c)" x="%d" y="%d" width=".5" height=".5"/>`, i%140, i/140)
		}), ""},
		"clips in clips": {`<clipPath id="c0"><rect width="90" height="90"/></clipPath>` + each(60, func(i int) string {
			return fmt.Sprintf(`<clipPath id="c%d" clip-path="url(#c%d)"><rect width="90" height="90" clip-path="url(#c%d)"/><rect width="80" height="80" clip-path="url(#c%d)"/></clipPath>`, i+1, i, i, i)
		}) + `<rect clip-path="url(#c60)" width="99" height="99"/>`, ""},
		"masks in masks of two": {`<mask id="c0"><rect width="90" height="90" fill="#fff"/></mask>` + each(40, func(i int) string {
			return fmt.Sprintf(`<mask id="c%d"><rect width="90" height="90" fill="#fff" mask="url(#c%d)"/><rect width="80" height="80" fill="#fff" mask="url(#c%d)"/></mask>`, i+1, i, i)
		}) + `<rect mask="url(#c40)" width="99" height="99"/>`, segments},
		"a clip of circles apart": {`<clipPath id="c">` + each(4000, func(i int) string { return fmt.Sprintf(`<circle cx="%d.4" cy="%d.4" r=".4"/>`, i%100, i/100) }) +
			`</clipPath><g clip-path="url(#c)">` + each(4000, func(i int) string {
			return fmt.Sprintf(`<rect x="%d" y="%d" width=".8" height=".8"/>`, i%100, i/100)
		}) + `</g>`, ""},
		"a clip that crosses lines": {`<clipPath id="c"><polygon points="` + tangle(3000, 31.13, 29.7) + `"/></clipPath><polyline clip-path="url(#c)" fill="none" stroke="#000" points="` +
			tangle(3000, 37.13, 23.7) + `"/>`, "clips and masks hide is too tangled"},
		"masks in masks":           {`<mask id="m"><rect width="200" height="200" fill="#fff"/></mask>` + again(`<g mask="url(#m)">`, 60) + again(`<rect width="9" height="9"/>`, 5000) + again(`</g>`, 60), elements},
		"masks of what is used":    {`<mask id="m"><use href="#b"/></mask><g id="b"><rect width="9" height="9"/></g>` + again(`<use href="#b" mask="url(#m)"/>`, 20000), elements},
		"markers":                  {`<marker id="m"><path d="M0 0H1V1Z"/></marker><polyline fill="none" stroke="#000" marker-mid="url(#m)" points="` + zigzag(60000) + `"/>`, segments},
		"values of values":         {`<style>svg{` + each(900, func(i int) string { return fmt.Sprintf("--v%d:var(--v%d)var(--v%d);", i+1, i, i) }) + `--v0:x} rect{fill:var(--v900,red)}</style>` + again(`<rect/>`, 9000), ""},
		"the same line":            {again(`<path stroke="#000" d="M1 1H9"/>`, 40000), ""},
		"a stroke over itself":     {`<polyline fill="#000" stroke="#000" stroke-width=".1" points="` + zigzag(20000) + `"/>`, tangled},
		"dots that overlap":        {`<circle cx="100" cy="100" r="90" fill="#000" stroke="#000" stroke-width="30" stroke-linecap="round" stroke-dasharray="0 .3"/>`, tangled},
		"dots, stretched":          {`<path transform="scale(1 9000)" d="M0 0Q9 .1 190 .01" fill="#000" stroke="#000" stroke-linecap="round" stroke-dasharray="1"/>`, ""},
		"a stroke like a harbour":  {`<circle r="90" fill="#000" stroke="#000" stroke-width="90000"/>`, "wider than 10 m"},
		"gradients of gradients":   {each(3000, func(i int) string { return fmt.Sprintf(`<linearGradient id="g%d" href="#g%d"/>`, i, i+1) }) + again(`<rect fill="url(#g0)" width="4" height="4"/>`, 9000), "more than 64 deep"},
		"gradients that are rings": {`<linearGradient id="a" href="#b"/><linearGradient id="b" href="#a"/><rect fill="url(#a)" width="4" height="4"/>`, ""},
	} {
		_, err := Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">`+c.body+`</svg>`))
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

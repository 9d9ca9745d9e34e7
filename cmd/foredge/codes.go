package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/glance"
	"foredge/eval/kind"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
)

// codesTopic is the word by which help lists the codes.
const codesTopic = "codes"

// listWidth is how many characters a line takes at most about a code or of the
// shelf.
const listWidth = 96

// listCodes lists what foredge can tell, a line each.
func listCodes(w io.Writer) {
	var rows [][]string
	for _, e := range codes.All() {
		how := howTold(e)
		if e.Quiet {
			how += ", quiet"
		}
		means, _, _ := strings.Cut(strings.TrimSuffix(e.Means, "."), ". ")
		rows = append(rows, []string{string(e.Code), how, shorten(means, 64)})
	}
	glance.Table(w, "", rows)
	fmt.Fprint(w, "\nquiet = CODE silences what is marked quiet. foredge help CODE says more, with an example.\n")
}

// howTold names the severities of a code: "error or warning".
func howTold(e codes.Entry) string {
	var words []string
	for _, s := range e.Severities() {
		words = append(words, s.String())
	}
	return strings.Join(words, " or ")
}

// shorten cuts a text at a blank so that it takes at most width characters.
func shorten(text string, width int) string {
	if utf8.RuneCountInString(text) <= width {
		return text
	}
	return fill(text, width-4)[0] + " ..."
}

// writeCode says all there is to know of a code, with what its example is told.
func writeCode(ctx context.Context, w io.Writer, e codes.Entry) {
	paragraph := func(text string) { fmt.Fprintf(w, "\n%s\n", strings.Join(fill(text, listWidth), "\n")) }
	fmt.Fprintf(w, "%s: %s\n", e.Code, howTold(e))
	paragraph(e.Means)
	paragraph("What to do: " + e.Do)
	if e.From != "" {
		paragraph("Where its number comes from: " + e.From + ".")
	}
	paragraph(howSilenced(e))
	files := e.Files()
	if len(files) == 0 {
		paragraph("No short design shows it.")
		return
	}
	for i, f := range files {
		if i == 0 {
			fmt.Fprintf(w, "\nFor example, of %s:\n\n", f.Name)
		} else {
			fmt.Fprintf(w, "\nwith %s:\n\n", f.Name)
		}
		indent(w, f.Text)
	}
	fmt.Fprint(w, "\nit is told:\n\n")
	told := slices.DeleteFunc(driver.Example(ctx, e).Diagnostics, func(d *diag.Diagnostic) bool { return d.Code != e.Code })
	var text strings.Builder
	diag.WriteText(&text, told, diag.TextOptions{})
	indent(w, text.String())
}

// howSilenced says how a design silences a code, or that none can.
func howSilenced(e codes.Entry) string {
	word := "`quiet = " + string(e.Code) + "`"
	switch {
	case !e.Quiet:
		return "It can't be silenced."
	case slices.Contains(e.Severities(), diag.Info) || e.Of == kind.Laser.String():
		return word + " in the laser silences it."
	}
	if e.Of != "" {
		return word + " silences it: in a " + e.Of + " for what is told of that, in the laser for the whole design."
	}
	return word + " silences it: in a panel for that panel, in a case for all that it lays, in a stock for all " +
		"that is cut from it, in the laser for the whole design."
}

// indent writes each line a little further in.
func indent(w io.Writer, text string) {
	for line := range strings.Lines(text) {
		fmt.Fprint(w, strings.TrimRight("  "+line, " \n")+"\n")
	}
}

// fill breaks a text between its words into lines of at most width characters.
func fill(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line+" "+word) > width:
			lines, line = append(lines, line), word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}

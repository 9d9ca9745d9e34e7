package main

import (
	"flag"
	"fmt"
	"io"
	"strings"
)

// writeMan writes a manual page, made from what help prints: of the program, or of one
// command. It bears no date, so that it is the same wherever it is made.
func writeMan(w io.Writer, of *command) {
	m := man{w}
	if of != nil {
		name := "foredge-" + of.name
		fmt.Fprintf(w, ".TH %s 1 \"\" \"%s\"\n", strings.ToUpper(name), roff(version()))
		m.section("NAME", "%s \\- %s", roff(name), roff(of.short))
		fmt.Fprintf(w, ".SH SYNOPSIS\n.B foredge %s\n%s\n", of.name, roff(strings.TrimSpace(of.args+" "+of.most)))
		if of.long != "" {
			fmt.Fprintln(w, ".SH DESCRIPTION")
			m.text(of.long)
		}
		m.options(of, ".SH OPTIONS")
		m.section("SEE ALSO", ".BR foredge (1)")
		return
	}
	fmt.Fprintf(w, ".TH FOREDGE 1 \"\" \"%s\"\n", roff(version()))
	m.section("NAME", "foredge \\- turn a design of a notebook cover into files for a laser cutter")
	m.section("SYNOPSIS", ".B foredge\nCOMMAND [OPTIONS] [FILE...]")
	fmt.Fprintln(w, ".SH DESCRIPTION")
	m.text(whatItDoes + "\n\n" + howItIsCalled)
	fmt.Fprintln(w, ".SH COMMANDS")
	for _, c := range commands() {
		fmt.Fprintf(w, ".SS %s\n", roff(strings.TrimSpace("foredge "+c.name+" "+strings.TrimSpace(c.args+" "+c.most))))
		m.text(strings.ToUpper(c.short[:1]) + c.short[1:] + ".")
		if c.long != "" {
			fmt.Fprintln(w, ".PP")
			m.text(c.long)
		}
		m.options(c, "")
	}
	fmt.Fprintln(w, ".SH EXIT STATUS")
	for _, s := range [][2]string{{"0", "done"}, {"1", "a design has errors"}, {"2", "misuse, or a file that can't be read or written"}} {
		fmt.Fprintf(w, ".TP\n.B %s\n%s\n", s[0], roff(s[1]))
	}
}

// A man page is written in the macros of man(7).
type man struct{ w io.Writer }

func (m man) section(name, format string, args ...any) {
	fmt.Fprintf(m.w, ".SH %s\n"+format+"\n", append([]any{name}, args...)...)
}

// text writes paragraphs, and lines that are indented as they are.
func (m man) text(s string) {
	for i, paragraph := range strings.Split(s, "\n\n") {
		if i > 0 {
			fmt.Fprintln(m.w, ".PP")
		}
		if !strings.HasPrefix(paragraph, " ") {
			m.lines(paragraph)
			continue
		}
		fmt.Fprintln(m.w, ".nf")
		for line := range strings.Lines(paragraph) {
			fmt.Fprintln(m.w, roff(strings.TrimSuffix(line, "\n")))
		}
		fmt.Fprintln(m.w, ".fi")
	}
}

// lines writes a text in lines of a usual width.
func (m man) lines(text string) {
	for _, line := range fill(text, manWidth) {
		fmt.Fprintln(m.w, roff(line))
	}
}

// manWidth leaves room in 80 columns for the hyphens that are written longer.
const manWidth = 70

// options lists those of a command, below a heading if it has any.
func (m man) options(c *command, heading string) {
	flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
	c.setup(flags)
	flags.VisitAll(func(f *flag.Flag) {
		if heading != "" {
			fmt.Fprintln(m.w, heading)
			heading = ""
		}
		value, usage := flag.UnquoteUsage(f)
		fmt.Fprintf(m.w, ".TP\n%s\n", strings.TrimSpace("\\fB"+roff(dashed(f.Name))+"\\fR "+roff(value)))
		m.lines(usage)
	})
}

// roff writes a text so that nothing in it is taken for a request.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(s)
	if strings.HasPrefix(s, ".") || strings.HasPrefix(s, "'") {
		s = `\&` + s
	}
	return s
}

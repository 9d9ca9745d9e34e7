package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"runtime/debug"
	"strings"

	"foredge/cmd/internal/glance"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/lang/spell"
	language "foredge/lang/version"
	"foredge/layout/advise"
	"foredge/layout/lettering"
)

// safetyTopic is what help says the whole of the caution on.
const safetyTopic = "safety"

func helpCommand() *command {
	return &command{
		name:    "help",
		follows: topics,
		args:    "[COMMAND or CODE]",
		short:   "say more about a command, or about what a message in brackets means",
		long: "CODE is the word in brackets at the end of a message, as in foredge help thin-web: what it\n" +
			"means, what to do, where its number comes from, how it is silenced, and an example.\n" +
			"foredge help codes lists them all. foredge help safety says what to mind before you cut.\n" +
			"foredge help --man > foredge.1 makes the manual page.",
		setup: func(flags *flag.FlagSet) runner {
			asMan := flags.Bool("man", false, "print the manual page, of foredge or of one COMMAND, as man reads it")
			return func(ctx context.Context, t *terminal, args []string) int {
				if *asMan {
					return helpAsMan(t, args)
				}
				if len(args) == 0 {
					writeHelp(t.stdout)
					return done
				}
				if err := helpOn(ctx, t.stdout, args[0]); err != nil {
					return t.fail(err)
				}
				return done
			}
		},
	}
}

// helpAsMan prints the manual page of the program or of a command.
func helpAsMan(t *terminal, args []string) int {
	var c *command
	if len(args) > 0 {
		var err error
		if c, err = find(args[0]); err != nil {
			return t.fail(err)
		}
	}
	writeMan(t.stdout, c)
	return done
}

// helpOn says more about a command or a code; about both where a word is both.
func helpOn(ctx context.Context, w io.Writer, word string) error {
	if word == codesTopic {
		listCodes(w)
		return nil
	}
	if word == safetyTopic {
		fmt.Fprintf(w, "Before you cut\n\n%s\n", strings.Join(advise.Safety(), "\n"))
		return nil
	}
	e, isCode := codes.Find(diag.Code(strings.Trim(word, "[]")))
	c, err := find(word)
	switch {
	case err != nil && !isCode:
		return unknownTopic(word)
	case err == nil:
		c.writeHelp(w)
	}
	if isCode {
		if err == nil {
			fmt.Fprintf(w, "\n%s is the code of a message, too.\n\n", word)
		}
		writeCode(ctx, w, e)
	}
	return nil
}

// unknownTopic says that there is no help on a word, and which is nearest.
func unknownTopic(word string) error {
	topics := []string{codesTopic, safetyTopic}
	for _, c := range commands() {
		topics = append(topics, c.name)
	}
	for _, e := range codes.All() {
		topics = append(topics, string(e.Code))
	}
	help := "foredge help lists the commands, foredge help codes the codes of messages"
	if near := spell.Nearest(word, topics); near != "" {
		help = fmt.Sprintf("did you mean foredge help %s?", near)
	}
	return misused(help, "foredge has no command and no code %q", word)
}

func writeHelp(w io.Writer) {
	var b strings.Builder // in one go
	fmt.Fprint(&b, whatItDoes+"\n\n")
	var rows [][]string
	for _, c := range commands() {
		rows = append(rows, []string{"  foredge " + c.name + " " + c.args, c.short})
	}
	glance.Table(&b, "", rows)
	fmt.Fprint(&b, "\n"+howItIsCalled+"\n")
	io.WriteString(w, b.String())
}

// What help and the manual page say of the whole.
const (
	whatItDoes    = "foredge turns a design, stated as measurements and relations, into files for a laser cutter."
	howItIsCalled = "A FILE is a design (NAME.fore), or - for standard input.\n" +
		"Exit status: 0 done, 1 a design has errors, 2 misuse or a file that can't be read or written.\n" +
		"foredge help COMMAND says more; foredge help CODE says what a message with [CODE] at its end means;\n" +
		"foredge help safety says what to mind before you cut."
)

func (c *command) writeHelp(w io.Writer) {
	flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
	c.setup(flags)
	fmt.Fprintf(w, "foredge %s: %s\n\n  %s\n", c.name, c.short, strings.Join(strings.Fields("foredge "+c.name+" "+c.args+" "+c.most), " "))
	if c.long != "" {
		fmt.Fprintf(w, "\n%s\n", c.long)
	}
	first := true
	flags.VisitAll(func(f *flag.Flag) {
		if first {
			fmt.Fprintln(w)
			first = false
		}
		value, usage := flag.UnquoteUsage(f)
		fmt.Fprintf(w, "  %-16s %s\n", strings.TrimSpace(dashed(f.Name)+" "+value), usage)
	})
}

func versionCommand() *command {
	return &command{
		name:    "version",
		follows: nothing,
		short:   "say which version this is, and which of the language it reads",
		most:    "[--fonts] [--licences]",
		setup: func(flags *flag.FlagSet) runner {
			fonts := flags.Bool("fonts", false, "say also whose the built-in fonts are")
			terms := flags.Bool("licences", false, "print the licences of the fonts and of every module that is compiled in")
			return func(_ context.Context, t *terminal, _ []string) int {
				fmt.Fprintf(t.stdout, "%s\nreads %v of the language\n", version(), language.All())
				if *fonts {
					fmt.Fprint(t.stdout, "\nThe Go fonts are by Bigelow & Holmes for the Go project, under the licence of Go.\n"+
						"The DejaVu fonts are those of Bitstream Vera, changed by the DejaVu team, under its licence.\n\n"+lettering.Acknowledgement())
				}
				if *terms {
					fmt.Fprintln(t.stdout)
					writeLicences(t.stdout)
				}
				return done
			}
		},
	}
}

// version tells the version that the program was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "foredge, version unknown"
	}
	v := info.Main.Version
	if v == "" {
		v = "(devel)"
	}
	return fmt.Sprintf("foredge %s, %s", v, info.GoVersion)
}

package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"runtime/debug"
	"strings"

	"foredge/layout/lettering"
)

func helpCommand() *command {
	return &command{
		name:  "help",
		args:  "[COMMAND]",
		short: "say more about a command",
		setup: func(*flag.FlagSet) runner {
			return func(_ context.Context, t *terminal, args []string) int {
				if len(args) == 0 {
					writeHelp(t.stdout)
					return done
				}
				c, err := find(args[0])
				if err != nil {
					return t.fail(err)
				}
				c.writeHelp(t.stdout)
				return done
			}
		},
	}
}

func writeHelp(w io.Writer) {
	fmt.Fprint(w, "foredge turns a design, stated as measurements and relations, into files for a laser cutter.\n\n")
	var rows [][]string
	for _, c := range commands() {
		rows = append(rows, []string{"  foredge " + c.name + " " + c.args, c.short})
	}
	writeTable(w, rows)
	fmt.Fprint(w, "\nA FILE is a design (NAME.fore), or - for standard input.\n"+
		"Exit status: 0 done, 1 a design has errors, 2 misuse or a file that can't be read or written.\n"+
		"foredge help COMMAND says more.\n")
}

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
		name:  "version",
		short: "say which version this is",
		most:  "[--fonts] [--licences]",
		setup: func(flags *flag.FlagSet) runner {
			fonts := flags.Bool("fonts", false, "say also whose the built-in fonts are")
			terms := flags.Bool("licences", false, "print the licences of the fonts and of every module that is compiled in")
			return func(_ context.Context, t *terminal, _ []string) int {
				fmt.Fprintln(t.stdout, version())
				if *fonts {
					fmt.Fprint(t.stdout, "\nThe Go fonts are by Bigelow & Holmes for the Go project, under the licence of Go.\n\n"+lettering.Acknowledgement())
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
		return "foredge, of no known version"
	}
	v := info.Main.Version
	if v == "" {
		v = "(devel)"
	}
	return fmt.Sprintf("foredge %s, %s", v, info.GoVersion)
}

package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"

	"foredge/lang/spell"
)

// A command is one thing that foredge does.
type command struct {
	name  string
	args  string // what follows the name: FILE...
	most  string // the options that are used most, for the command's own help
	short string // what it does, for the list of commands
	long  string // more about it, in whole sentences
	// follows completes the arguments; where it is nil they are designs.
	follows completer
	// setup declares the flags and returns what runs the command once they and
	// the arguments are read.
	setup func(*flag.FlagSet) runner
}

// A runner runs a command on its arguments and returns the exit status.
type runner func(ctx context.Context, t *terminal, args []string) int

// commands lists what foredge can do, in the order in which a person meets it.
func commands() []*command {
	return []*command{buildCommand(), watchCommand(), viewCommand(), checkCommand(), fmtCommand(), serveCommand(), solveCommand(), timeCommand(), fitCommand(), diffCommand(), batchCommand(), jobCommand(), proofCommand(), shelfCommand(), completionCommand(), versionCommand(), helpCommand()}
}

// run runs the command that args name.
func run(ctx context.Context, t *terminal, args []string) int {
	// A watch has nothing to do any more once nobody reads what it tells.
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	to := *t
	out, errs := &results{w: t.stdout, lost: stop}, &results{w: t.stderr}
	to.stdout, to.stderr = out, errs
	status := out.arrived(&to, runCommand(ctx, &to, args))
	if errs.err != nil {
		return misuse // there is nowhere left to say so
	}
	return status
}

func runCommand(ctx context.Context, t *terminal, args []string) int {
	if len(args) == 0 {
		writeHelp(t.stderr)
		return misuse
	}
	switch args[0] {
	case "-h", "-help", "--help":
		args = append([]string{"help"}, args[1:]...)
	case "-version", "--version":
		args = append([]string{"version"}, args[1:]...)
	}
	if asksForWords(args) {
		return answerShell(ctx, t, args)
	}
	c, err := find(args[0])
	if err != nil {
		return t.fail(err)
	}
	flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
	flags.SetOutput(io.Discard) // errors are told in our own words
	start := c.setup(flags)
	rest, err := parse(flags, args[1:])
	switch {
	case errors.Is(err, flag.ErrHelp):
		c.writeHelp(t.stdout)
		return done
	case err != nil:
		return t.fail(err)
	}
	return start(ctx, t, rest)
}

func find(name string) (*command, error) {
	var names []string
	for _, c := range commands() {
		if c.name == name {
			return c, nil
		}
		names = append(names, c.name)
	}
	help := "foredge help lists the commands"
	if near := spell.Nearest(name, names); near != "" {
		help = fmt.Sprintf("did you mean foredge %s?", near)
	}
	return nil, misused(help, "foredge has no command %q", name)
}

// parse reads flags wherever they stand among the arguments, which it returns.
// After "--" everything is an argument.
func parse(flags *flag.FlagSet, args []string) (rest []string, err error) {
	for {
		before := args
		if err := flags.Parse(args); err != nil {
			return nil, flagError(flags, err)
		}
		args = flags.Args()
		if n := len(before) - len(args); n > 0 && before[n-1] == "--" {
			return append(rest, args...), nil
		}
		if len(args) == 0 {
			return rest, nil
		}
		rest, args = append(rest, args[0]), args[1:]
	}
}

// flagError puts what package flag says into our words.
func flagError(flags *flag.FlagSet, err error) error {
	if errors.Is(err, flag.ErrHelp) {
		return err
	}
	help := fmt.Sprintf("foredge help %s lists its options", flags.Name())
	text := err.Error()
	if name, ok := strings.CutPrefix(text, "flag provided but not defined: -"); ok {
		var names []string
		flags.VisitAll(func(f *flag.Flag) { names = append(names, f.Name) })
		if near := spell.Nearest(name, names); near != "" {
			help = fmt.Sprintf("did you mean %s?", dashed(near))
		}
		return misused(help, "foredge %s has no option %s", flags.Name(), dashed(name))
	}
	if name, ok := strings.CutPrefix(text, "flag needs an argument: -"); ok {
		return misused(help, "%s needs a value after it", dashed(name))
	}
	return misused(help, "an option of foredge %s has a value that doesn't fit it: %s", flags.Name(), text)
}

// dashed writes an option as a person types it.
func dashed(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}

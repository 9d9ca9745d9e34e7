package main

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/revision"
	"foredge/eval/shelf"
	"foredge/export"
	"foredge/lang/diag/codes"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// Options are read by package flag; cobra only writes what shells load and answers
// them. DEVELOPERS.md has the reason, measured.

// A completer lists what may follow: words, each perhaps with a tab and what is said
// of it behind, and what else the shell is to do. given are the arguments before it.
type completer func(ctx context.Context, given []string, begun string) ([]string, cobra.ShellCompDirective)

// shells are those that completions are made for, with how each loads them.
func shells() [][2]string {
	return [][2]string{
		{"bash", "foredge completion bash > ~/.local/share/bash-completion/completions/foredge"},
		{"zsh", "foredge completion zsh > a folder of $fpath, as _foredge"},
		{"fish", "foredge completion fish > ~/.config/fish/completions/foredge.fish"},
		{"powershell", "foredge completion powershell | Out-String | Invoke-Expression, in the profile"},
	}
}

func completionCommand() *command {
	var lines []string
	for _, s := range shells() {
		lines = append(lines, fmt.Sprintf("  %-10s %s", s[0], s[1]))
	}
	return &command{
		name:    "completion",
		args:    "SHELL",
		short:   "print what a shell needs to complete commands, options, dimensions and names of the shelf",
		long:    "A shell is told once; then it asks foredge itself whenever the tab key is pressed:\n\n" + strings.Join(lines, "\n") + "\n\nbash needs the package bash-completion.",
		follows: shellNames,
		setup: func(*flag.FlagSet) runner {
			return func(ctx context.Context, t *terminal, args []string) int {
				if len(args) != 1 {
					return t.fail(misused("as in foredge completion bash", "completion wants the name of one shell"))
				}
				if err := writeCompletion(ctx, t, args[0]); err != nil {
					return t.fail(err)
				}
				return done
			}
		},
	}
}

// writeCompletion writes what a shell loads.
func writeCompletion(ctx context.Context, t *terminal, shell string) error {
	root := completed(ctx, t)
	switch shell {
	case "bash":
		return root.GenBashCompletionV2(t.stdout, true)
	case "zsh":
		return root.GenZshCompletion(t.stdout)
	case "fish":
		return root.GenFishCompletion(t.stdout, true)
	case "powershell":
		return root.GenPowerShellCompletionWithDesc(t.stdout)
	}
	var names []string
	for _, s := range shells() {
		names = append(names, s[0])
	}
	help := "it can be " + spell.Or(names)
	if near := spell.Nearest(shell, names); near != "" {
		help = fmt.Sprintf("did you mean foredge completion %s?", near)
	}
	return misused(help, "foredge makes no completions for %q", shell)
}

// asksForWords reports whether it is a shell that asks what may follow.
func asksForWords(args []string) bool {
	return args[0] == cobra.ShellCompRequestCmd || args[0] == cobra.ShellCompNoDescRequestCmd
}

// answerShell tells a shell what may follow.
func answerShell(ctx context.Context, t *terminal, args []string) int {
	root := completed(ctx, t)
	root.SetArgs(args)
	if err := root.ExecuteContext(ctx); err != nil {
		return t.fail(err)
	}
	return done
}

// completed is the program as its completions know it.
func completed(ctx context.Context, t *terminal) *cobra.Command {
	root := &cobra.Command{Use: "foredge", SilenceErrors: true, SilenceUsage: true, CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true}}
	root.SetOut(t.stdout)
	root.SetErr(io.Discard)
	root.SetHelpCommand(&cobra.Command{Hidden: true})
	for _, c := range commands() {
		flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
		c.setup(flags)
		flags.VisitAll(func(f *flag.Flag) { _, f.Usage = flag.UnquoteUsage(f) })
		part := &cobra.Command{Use: c.name, Short: c.short, Run: func(*cobra.Command, []string) {}}
		part.Flags().AddGoFlagSet(flags)
		part.Flags().BoolP("help", "h", false, "say more about the command")
		follows := c.follows
		if follows == nil {
			follows = designs
		}
		part.ValidArgsFunction = follows.bound(ctx)
		for name, of := range optionValues() {
			if flags.Lookup(name) != nil {
				part.RegisterFlagCompletionFunc(name, of.bound(ctx))
			}
		}
		root.AddCommand(part)
	}
	return root
}

// bound is a completer in cobra's form: of its words those that begin as the word under
// the cursor does.
func (c completer) bound(ctx context.Context) cobra.CompletionFunc {
	return func(_ *cobra.Command, given []string, begun string) ([]string, cobra.ShellCompDirective) {
		words, directive := c(ctx, given, begun)
		if directive&(cobra.ShellCompDirectiveFilterFileExt|cobra.ShellCompDirectiveFilterDirs) == 0 {
			words = slices.DeleteFunc(words, func(w string) bool { return !strings.HasPrefix(w, begun) })
		}
		return words, directive
	}
}

// optionValues complete the values of options, by the option's name.
func optionValues() map[string]completer {
	return map[string]completer{
		"o":       foldersOnly,
		"as":      formatNames,
		"dxf":     words("r12\tfor old controllers", "inches", "r12,inches"),
		"why":     dimensionNames,
		"orders":  filesOf("csv", "tsv", "txt"),
		"overlay": filesOf("svg", "png"),
	}
}

// words are always the same.
func words(all ...string) completer {
	return func(context.Context, []string, string) ([]string, cobra.ShellCompDirective) {
		return slices.Clone(all), cobra.ShellCompDirectiveNoFileComp
	}
}

// filesOf are those with an ending.
func filesOf(endings ...string) completer {
	return func(context.Context, []string, string) ([]string, cobra.ShellCompDirective) {
		return endings, cobra.ShellCompDirectiveFilterFileExt
	}
}

func designs(ctx context.Context, given []string, begun string) ([]string, cobra.ShellCompDirective) {
	return filesOf("fore")(ctx, given, begun)
}

func foldersOnly(context.Context, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveFilterDirs
}

func nothing(context.Context, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveNoFileComp
}

func shellNames(ctx context.Context, given []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(given) > 0 {
		return nothing(ctx, given, begun)
	}
	var all []string
	for _, s := range shells() {
		all = append(all, s[0])
	}
	return words(all...)(ctx, given, begun)
}

// formatNames are formats behind those that are there already.
func formatNames(_ context.Context, _ []string, begun string) (all []string, _ cobra.ShellCompDirective) {
	before := begun[:strings.LastIndexByte(begun, ',')+1]
	for _, e := range export.Encoders(export.Options{}) {
		switch {
		case slices.Contains(list(before), e.Name()):
		case before != "": // bash finds what has a comma in it only where nothing is said of it
			all = append(all, before+e.Name())
		default:
			all = append(all, e.Name()+"\t"+e.Purpose())
		}
	}
	return all, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
}

// designThenName is a design and then the name of something in it.
func designThenName(ctx context.Context, given []string, begun string) ([]string, cobra.ShellCompDirective) {
	switch len(given) {
	case 0:
		return designs(ctx, given, begun)
	case 1:
		return dimensionNames(ctx, given, begun)
	}
	return nothing(ctx, given, begun)
}

// dimensionNames are the things and dimensions of the design that is named, with what
// each comes to.
func dimensionNames(ctx context.Context, given []string, _ string) (all []string, _ cobra.ShellCompDirective) {
	if len(given) == 0 {
		return namesHere(ctx), cobra.ShellCompDirectiveNoFileComp
	}
	if given[0] == driver.Stdin {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	r := driver.NewSession(nil).Solve(ctx, given[0])
	if r.Solution == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	for _, n := range r.Solution.Things {
		if path := n.Base().Path; path != "" {
			all = append(all, path)
		}
	}
	for _, d := range r.Solution.Dimensions() {
		word := d.Name
		if d.Value == d.Value { // else it is open
			word += "\t" + unit.Format(d.Value, d.Kind, r.Solution.Unit)
		}
		all = append(all, word)
	}
	return all, cobra.ShellCompDirectiveNoFileComp
}

// mostHere is how many designs are looked at for names where none is named yet.
const mostHere = 20

// namesHere are the names of things and dimensions in the designs of the working folder.
func namesHere(ctx context.Context) (all []string) {
	names, _ := disk.Designs(".") // without them there is nothing to complete
	for _, name := range names[:min(len(names), mostHere)] {
		words, _ := dimensionNames(ctx, []string{name}, "")
		for _, word := range words {
			word, _, _ = strings.Cut(word, "\t") // its value is that of one of them
			all = append(all, word)
		}
	}
	return unique(all)
}

// versions are revisions and designs, of which diff takes two or three.
func versions(ctx context.Context, given []string, begun string) (all []string, _ cobra.ShellCompDirective) {
	if len(given) > 2 {
		return nothing(ctx, given, begun)
	}
	if len(given) < 2 {
		all = revision.Names(ctx, ".")
	}
	// A shell lists files only where nothing else is listed.
	folder, file := filepath.Split(begun)
	entries, _ := os.ReadDir(cmp.Or(folder, "."))
	directive := cobra.ShellCompDirectiveNoFileComp
	for _, e := range entries {
		name := folder + e.Name()
		switch {
		case !strings.HasPrefix(e.Name(), file) || strings.HasPrefix(e.Name(), ".") != strings.HasPrefix(file, "."):
		case e.IsDir():
			all = append(all, name+string(filepath.Separator))
			directive |= cobra.ShellCompDirectiveNoSpace
		case disk.IsDesign(name):
			all = append(all, name)
		}
	}
	return all, directive
}

// shelfWords are the names of what is on the shelf, and words of the trade.
func shelfWords(context.Context, []string, string) (all []string, _ cobra.ShellCompDirective) {
	for _, p := range shelf.All() {
		all = append(all, p.Name+"\ta part of the shelf")
		for _, t := range p.Things {
			all = append(all, t.Name+"\t"+t.Kind)
		}
	}
	for _, w := range shelf.Words() {
		for _, name := range w.Names {
			if !strings.Contains(name, " ") {
				all = append(all, name+"\ta word of the trade")
			}
		}
	}
	return unique(all), cobra.ShellCompDirectiveNoFileComp
}

// unique sorts words by themselves, and leaves each once.
func unique(all []string) []string {
	name := func(w string) string { before, _, _ := strings.Cut(w, "\t"); return before }
	slices.SortStableFunc(all, func(a, b string) int { return cmp.Compare(name(a), name(b)) })
	return slices.CompactFunc(all, func(a, b string) bool { return name(a) == name(b) })
}

// topics are what help says more about.
func topics(ctx context.Context, given []string, begun string) (all []string, _ cobra.ShellCompDirective) {
	if len(given) > 0 {
		return nothing(ctx, given, begun)
	}
	for _, c := range commands() {
		all = append(all, c.name+"\t"+c.short)
	}
	all = append(all, codesTopic+"\tall that foredge can tell", safetyTopic+"\twhat to mind before you cut")
	for _, e := range codes.All() {
		means, _, _ := strings.Cut(strings.TrimSuffix(e.Means, "."), ". ")
		all = append(all, string(e.Code)+"\t"+shorten(means, 64))
	}
	return all, cobra.ShellCompDirectiveNoFileComp
}

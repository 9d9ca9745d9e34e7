package main

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"io"
	"strings"

	"foredge/eval/kind"
	"foredge/eval/shelf"
)

func shelfCommand() *command {
	return &command{
		name:    "shelf",
		follows: shelfWords,
		args:    "[NAME|WORD...]",
		short:   "list the papers, patterns, boards and materials that come with foredge, search them, show one",
		long: "A design brings a part of the shelf in by its name, as in `use bindings`. NAME is a part or\n" +
			"a thing in it; it is shown as it is written, with where each of its numbers comes from. Other\n" +
			"words are searched for: what has all of them in its name, in what is said of it or in its lines\n" +
			"is listed. A word that the trade uses for it is explained, as it may mean another thing on the\n" +
			"other side of the ocean: foredge shelf chipboard. A shop keeps its own things in a file of its\n" +
			"own and says `use \"shop.fore\"`.",
		setup: func(*flag.FlagSet) runner {
			return func(_ context.Context, t *terminal, args []string) int {
				w := bufio.NewWriter(t.stdout)
				defer w.Flush()
				if len(args) == 0 {
					listShelf(w)
					return done
				}
				words := strings.Fields(strings.Join(args, " ")) // quoted or not
				if len(words) == 1 && showShelf(w, words[0]) || searchShelf(w, words) {
					return done
				}
				return t.fail(notOnShelf(words))
			}
		},
	}
}

// listShelf lists the parts and what is in each.
func listShelf(w io.Writer) {
	for i, p := range shelf.All() {
		if i > 0 {
			fmt.Fprintln(w)
		}
		about, _, _ := strings.Cut(strings.ReplaceAll(p.About, "\n", " "), ". ")
		fmt.Fprintf(w, "use %s\n  %s.\n", p.Name, strings.TrimSuffix(about, "."))
		var kinds []string
		names := map[string][]string{}
		for _, t := range p.Things {
			if names[t.Kind] == nil {
				kinds = append(kinds, t.Kind)
			}
			names[t.Kind] = append(names[t.Kind], t.Name)
		}
		for _, k := range kinds {
			for _, line := range fill(strings.Join(names[k], ", "), listWidth-12) {
				fmt.Fprintf(w, "  %-9s %s\n", k, line)
				k = ""
			}
		}
	}
	fmt.Fprintln(w, "\nforedge shelf NAME shows one of them, with its sources, and foredge shelf WORD searches.")
}

// showShelf shows a part, or a thing with all that it is like, and reports whether
// there is one of that name.
func showShelf(w io.Writer, name string) bool {
	if p, ok := shelf.Read(name); ok {
		io.WriteString(w, p.Text)
		return true
	}
	all := shelf.All()
	t, ok := onShelf(all, name)
	if !ok {
		return false
	}
	fmt.Fprintf(w, "use %s\n\n", t.Part)
	told := ""
	for {
		if t.About != told {
			for _, line := range strings.Split(t.About, "\n") {
				fmt.Fprintln(w, strings.TrimRight("# "+line, " "))
			}
			told = t.About
		}
		fmt.Fprintln(w, t.Text)
		base, more := onShelf(all, t.Like)
		if !more {
			break
		}
		fmt.Fprintf(w, "\n%s is like %s, except for what it states itself:\n\n", t.Name, base.Name)
		t = base
	}
	if say := useOf(name, all); say != "" {
		fmt.Fprintf(w, "\nIn a design: %s\n", say)
	}
	for _, word := range shelf.Meant(name) {
		fmt.Fprintln(w)
		explain(w, word)
	}
	return true
}

func onShelf(all []*shelf.Part, name string) (shelf.Thing, bool) {
	for _, p := range all {
		for _, t := range p.Things {
			if t.Name == name {
				return t, true
			}
		}
	}
	return shelf.Thing{}, false
}

// base is what a thing comes from in the end.
func base(t shelf.Thing, all []*shelf.Part) shelf.Thing {
	for {
		b, more := onShelf(all, t.Like)
		if !more {
			return t
		}
		t = b
	}
}

// useOf is how a design makes use of a thing.
func useOf(name string, all []*shelf.Part) string {
	t, _ := onShelf(all, name)
	k := kind.Find(t.Kind)
	if k == nil {
		return fmt.Sprintf("its value, wherever a number may stand: %s", name)
	}
	switch k.ID {
	case kind.Notebook:
		return fmt.Sprintf("notebook log like %s { ... }", name)
	case kind.Pattern:
		return fmt.Sprintf("row holes on spine like %s { ... }", name)
	case kind.Material:
		if strings.Contains(base(t, all).Text, "never") {
			return ""
		}
		return fmt.Sprintf("stock sheet { material = %s; ... }", name)
	case kind.Panel:
		if strings.HasPrefix(name, "board-") {
			return fmt.Sprintf("panel front covers block like %s { ... }, where block is the notebook", name)
		}
		return fmt.Sprintf("panel strip like %s { ... }", name)
	case kind.Binding:
		return fmt.Sprintf("row wire on spine { binding = %s; ... }, in a notebook", name)
	case kind.Gap:
		return fmt.Sprintf("gap joint like %s { ... }", name)
	}
	return fmt.Sprintf("%s this like %s { ... }, in a panel", t.Kind, name)
}

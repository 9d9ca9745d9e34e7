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
	"foredge/lang/spell"
)

func shelfCommand() *command {
	return &command{
		name:  "shelf",
		args:  "[NAME]",
		short: "list the papers, patterns, boards and materials that come with foredge, or show one",
		long: "A design brings a part of the shelf in by its name, as in `use bindings`. NAME is a part or\n" +
			"a thing in it; it is shown as it is written, with where each of its numbers comes from. A\n" +
			"shop keeps its own things in a file of its own and says `use \"shop.fore\"`.",
		setup: func(*flag.FlagSet) runner {
			return func(_ context.Context, t *terminal, args []string) int {
				w := bufio.NewWriter(t.stdout)
				defer w.Flush()
				switch len(args) {
				case 0:
					listShelf(w)
				case 1:
					if err := showShelf(w, args[0]); err != nil {
						return t.fail(err)
					}
				default:
					return t.fail(misused("as in foredge shelf twin-loop-3", "shelf shows one thing at a time, and %d are named", len(args)))
				}
				return done
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
	fmt.Fprintln(w, "\nforedge shelf NAME shows one of them, with its sources.")
}

// showShelf shows a part, or a thing with all that it is like.
func showShelf(w io.Writer, name string) error {
	if p, ok := shelf.Read(name); ok {
		_, err := io.WriteString(w, p.Text)
		return err
	}
	all := shelf.All()
	t, ok := onShelf(all, name)
	if !ok {
		var known []string
		for _, p := range all {
			known = append(known, p.Name)
			for _, t := range p.Things {
				known = append(known, t.Name)
			}
		}
		help := "foredge shelf lists what is there"
		if now := shelf.Renamed(name); now != "" {
			help = fmt.Sprintf("it is called %s now: foredge shelf %s", now, now)
		} else if near := spell.Nearest(name, known); near != "" {
			help = fmt.Sprintf("did you mean foredge shelf %s?", near)
		}
		return misused(help, "there is nothing called %q on the shelf", name)
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
	return nil
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
	case kind.Gap:
		return fmt.Sprintf("gap joint like %s { ... }", name)
	}
	return fmt.Sprintf("%s this like %s { ... }, in a panel", t.Kind, name)
}

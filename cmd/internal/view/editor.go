package view

import (
	"bytes"
	"errors"
	"fmt"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"foredge/lang/spell"
)

// An Editor opens files by a command that the maker stated.
type Editor struct {
	words   []string // {file}, {line} and {column} stand for the place
	running chan struct{}
}

// mostEditors is how many commands that were started may run at the same time.
const mostEditors = 16

// NewEditor reads a command such as
//
//	gvim --remote +{line} {file}
//
// It is split at blanks, but not within quotes, and run as it is, by no shell. The
// error says in a maker's words what is wrong with it.
func NewEditor(command string) (*Editor, error) {
	words, err := splitWords(command)
	switch {
	case err != nil:
		return nil, err
	case len(words) == 0:
		return nil, errors.New("the command of the editor is empty")
	case !strings.Contains(strings.Join(words[1:], " "), "{file}"):
		return nil, errors.New("the command of the editor doesn't say where the file's name goes: write {file} there")
	}
	for _, place := range places().FindAllString(strings.Join(words, " "), -1) {
		if !slices.Contains(placed(), place) {
			return nil, fmt.Errorf("the command of the editor has %s, and only %s stand for something", place, spell.And(placed()))
		}
	}
	if _, err := exec.LookPath(words[0]); err != nil {
		return nil, fmt.Errorf("the editor %q can't be found: write the name of a program as your shell finds it, or its path", words[0])
	}
	return &Editor{words, make(chan struct{}, mostEditors)}, nil
}

// placed stand for the place in an editor's command.
func placed() []string { return []string{"{file}", "{line}", "{column}"} }

// places finds what looks as if it stood for a place: braces of one word.
var places = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\{[A-Za-z]+\}`) })

// splitWords splits a command at blanks; quotes of either sort hold a word together.
func splitWords(command string) (words []string, err error) {
	var word strings.Builder
	begun, quote := false, rune(0)
	for _, r := range command {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote == 0 && (r == '"' || r == '\''):
			quote, begun = r, true
		case quote == 0 && (r == ' ' || r == '\t'):
			if begun {
				words = append(words, word.String())
				word.Reset()
				begun = false
			}
		default:
			word.WriteRune(r)
			begun = true
		}
	}
	if quote != 0 {
		return nil, fmt.Errorf("the command of the editor has a %c that isn't closed", quote)
	}
	if begun {
		words = append(words, word.String())
	}
	return words, nil
}

// settled is how long a command may take to fail for the page to be told so.
const settled = 300 * time.Millisecond

// Open starts the editor on a place; lines and columns count from 1. The error, in a
// maker's words, is of a command that can't be started or fails at once. The editor
// is left to itself, also when the server ends.
func (e *Editor) Open(file string, line, column int) error {
	select {
	case e.running <- struct{}{}:
	default:
		return fmt.Errorf("%d editors that were opened here are still running: close some of them", mostEditors)
	}
	fill := strings.NewReplacer("{file}", file, "{line}", strconv.Itoa(line), "{column}", strconv.Itoa(column))
	args := make([]string, len(e.words))
	for i, w := range e.words {
		args[i] = fill.Replace(w)
	}
	cmd := exec.Command(args[0], args[1:]...)
	apart(cmd)
	var errs start
	cmd.Stderr = &errs
	if err := cmd.Start(); err != nil {
		<-e.running
		return fmt.Errorf("the editor %s can't be started: %w", args[0], err)
	}
	ended := make(chan error, 1)
	go func() {
		ended <- cmd.Wait()
		<-e.running
	}()
	select {
	case err := <-ended:
		if err != nil {
			return fmt.Errorf("the editor %s failed: %w %s", args[0], err, strings.TrimSpace(errs.said.String()))
		}
	case <-time.After(settled):
	}
	return nil
}

// A start is what a command says first; it lets the rest go.
type start struct{ said bytes.Buffer }

func (s *start) Write(b []byte) (int, error) {
	if room := 500 - s.said.Len(); room > 0 {
		s.said.Write(b[:min(room, len(b))])
	}
	return len(b), nil
}

package main

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// readResults reads what runs before have found; nothing if there were none.
// Of two results of one mutant the later one holds.
func readResults(path string) (map[key]result, error) {
	found := map[key]result{}
	err := readTable(path, 7, func(f []string) error {
		k, err := keyOf(f[2:])
		found[k] = result{k, f[0], f[1]}
		return err
	})
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return found, err
}

// A record is the file to which results are added.
type record struct{ file *os.File }

func openRecord(path string) (*record, error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o666)
	return &record{f}, err
}

func (r *record) add(x result) error {
	_, err := fmt.Fprintln(r.file, strings.Join(append([]string{x.State, x.By}, x.fields()...), "\t"))
	return err
}

// readJudged reads which mutants were judged to change nothing that could be
// seen, with the reasons.
func readJudged(path string) (map[key]string, error) {
	judged := map[key]string{}
	err := readTable(path, 6, func(f []string) error {
		k, err := keyOf(f)
		if strings.TrimSpace(f[5]) == "" {
			return fmt.Errorf("%s: no reason is given", k.Line)
		}
		judged[k] = f[5]
		return err
	})
	return judged, err
}

// readTable reads a file of columns divided by tabs. Empty lines and those that
// begin with # are left out.
func readTable(path string, columns int, row func([]string) error) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for n := 1; lines.Scan(); n++ {
		if lines.Text() == "" || lines.Text()[0] == '#' {
			continue
		}
		f := strings.Split(lines.Text(), "\t")
		if len(f) != columns {
			return fmt.Errorf("%s:%d: %d columns, want %d", path, n, len(f), columns)
		}
		if err := row(f); err != nil {
			return fmt.Errorf("%s:%d: %w", path, n, err)
		}
	}
	return lines.Err()
}

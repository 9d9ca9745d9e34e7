package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// systems are those for which the program is built; what is compiled in differs
// a little among them.
var systems = []string{"linux", "darwin", "windows"}

// A compiledModule is a module of which at least one package is compiled in.
type compiledModule struct {
	path, version, dir string
	packages           []string // their folders
}

// latinTables is the package whose tables eval/orders holds as a text.
const latinTables = "github.com/mozillazg/go-unidecode/table"

// compiledModules lists the modules of which the program is built, by path. All
// of it comes from the module cache.
func compiledModules(t *testing.T) []*compiledModule {
	t.Helper()
	found := map[string]*compiledModule{}
	for _, system := range systems {
		cmd := exec.Command("go", "list", "-deps", "-f",
			"{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}\t{{$.Dir}}{{end}}{{end}}", ".", latinTables)
		cmd.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0", "GOFLAGS=-mod=readonly")
		cmd.Stderr = os.Stderr
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("what is compiled in for %s can't be listed: %v", system, err)
		}
		for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
			f := strings.Split(line, "\t")
			if len(f) != 4 {
				continue // of the standard library or our own
			}
			m := found[f[0]]
			if m == nil {
				m = &compiledModule{path: f[0], version: f[1], dir: f[2]}
				found[f[0]] = m
			}
			if !slices.Contains(m.packages, f[3]) {
				m.packages = append(m.packages, f[3])
			}
		}
	}
	var all []*compiledModule
	for _, m := range found {
		all = append(all, m)
	}
	slices.SortFunc(all, func(a, b *compiledModule) int { return strings.Compare(a.path, b.path) })
	return all
}

// noticeName is what files with a licence or a notice are called. Freetype may be
// had under the FreeType Project's licence (ftl.txt) or under the GPL; we take
// it under the first.
var noticeName = regexp.MustCompile(`(?i)^(?:.*-)?(?:licen[cs]e|copying|notice|patents|ftl)(?:[-.].*)?$`)

// noticeFolders stand at the top of a module and hold the licences of what it
// took over from others.
var noticeFolders = []string{"licenses", "LICENSES", "THIRD_PARTY_LICENSES"}

// goFonts is where the notice of the Go fonts stands in their module.
const goFonts = "font/gofont/ttfs/README"

// notices finds a module's notices: by name, of all folders from its compiled
// packages up to its top, and those of work that it took over. Of a module
// without any it is the heads of its compiled files that tell of a copyright.
func (m *compiledModule) notices(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	read := func(path string) string {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	name := func(path string) string {
		rel, err := filepath.Rel(m.dir, path)
		if err != nil {
			t.Fatal(err)
		}
		return filepath.ToSlash(rel)
	}
	folder := func(dir string) {
		entries, err := os.ReadDir(dir)
		if err != nil {
			return // a module need not have it
		}
		for _, e := range entries {
			if path := filepath.Join(dir, e.Name()); !e.IsDir() && noticeName.MatchString(e.Name()) && filepath.Ext(path) != ".go" {
				all[name(path)] = read(path)
			}
		}
	}
	for _, dir := range m.packages {
		if strings.HasPrefix(name(dir), "font/gofont/") {
			all[goFonts] = read(filepath.Join(m.dir, goFonts))
		}
		for ; len(dir) > len(m.dir); dir = filepath.Dir(dir) {
			folder(dir)
		}
	}
	folder(m.dir)
	for _, f := range noticeFolders {
		folder(filepath.Join(m.dir, f))
	}
	if len(all) > 0 {
		return all
	}
	for _, dir := range m.packages {
		files, _ := filepath.Glob(filepath.Join(dir, "*.go"))
		for _, f := range files {
			head, _, _ := strings.Cut(read(f), "\npackage ")
			if !strings.HasSuffix(f, "_test.go") && strings.Contains(head, "Copyright") {
				all[name(f)+", its head"] = head
			}
		}
	}
	return all
}

// licenceText is what licences.txt must hold. A text that several modules share
// stands once, below the names of all of them.
func licenceText(t *testing.T) string {
	t.Helper()
	of, first := map[string][]string{}, []string{}
	for _, m := range compiledModules(t) {
		notices := m.notices(t)
		if len(notices) == 0 {
			t.Errorf("%s is compiled in and has no notice: find out on what terms", m.path)
		}
		names := []string{}
		for name := range notices {
			names = append(names, name)
		}
		slices.Sort(names)
		for _, name := range names {
			var lines []string
			for _, line := range strings.Split(strings.ReplaceAll(notices[name], "\r\n", "\n"), "\n") {
				lines = append(lines, strings.TrimRight(line, " \t\f"))
			}
			text := strings.Trim(strings.Join(lines, "\n"), "\n")
			if of[text] == nil {
				first = append(first, text)
			}
			of[text] = append(of[text], fmt.Sprintf("%s %s (%s)", m.path, m.version, name))
			// The Go project has one licence for its library and its modules.
			if m.path == "golang.org/x/sys" {
				of[text] = append(of[text], fmt.Sprintf("the Go standard library (%s)", name))
			}
		}
	}
	var b strings.Builder
	b.WriteString("The program is built from the modules named below and from the Go standard library. Each name\n" +
		"stands above the notice that is to be passed on with it.\n")
	for _, text := range first {
		fmt.Fprintf(&b, "\n%s\n%s\n\n%s\n", strings.Repeat("=", 80), strings.Join(of[text], "\n"), text)
	}
	return b.String()
}

// Every module that is compiled in has its notice in the program, word for word.
// With -update licences.txt is made anew.
func TestLicences(t *testing.T) {
	got := foretest.GoldenFile(t, "licences.txt", []byte(licenceText(t)))
	if want := licenceText(t); want != string(got) {
		t.Errorf("licences.txt is not what the program is built from: run go test ./cmd/foredge -run TestLicences -update%s", foretest.Difference([]byte(want), got))
	}
}

// The notices themselves, told by words that each must have.
func TestLicencesOfAll(t *testing.T) {
	var out bytes.Buffer
	writeLicences(&out)
	for _, want := range []string{
		"originally created by Dr. A. V. Hershey", "James Hurt", // the stroke fonts
		"Bigelow & Holmes foundry",     // the Go fonts
		"GUST Font License",            // Latin Modern
		"The FreeType Project LICENSE", // rasteriser
		"GNU LESSER GENERAL PUBLIC LICENSE",
		"the Go standard library (LICENSE)",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is missing", want)
		}
	}
	for _, m := range compiledModules(t) {
		if !strings.Contains(out.String(), "\n"+m.path+" "+m.version+" (") {
			t.Errorf("%s is compiled in, and nothing says on what terms", m.path)
		}
	}
	// What we say of Go's own library holds for the Go that builds the program.
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	if data, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(goroot)), "LICENSE")); err == nil &&
		!strings.Contains(out.String(), strings.TrimSpace(string(data))) {
		t.Error("the licence of this Go is another than that of its modules")
	}
}

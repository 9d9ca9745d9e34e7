package sarif_test

import (
	"bytes"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"foredge/lang/diag"
	"foredge/lang/diag/sarif"
	"foredge/lang/foretest"
	"foredge/lang/source"
)

func written(t *testing.T, l diag.List) string {
	var b bytes.Buffer
	foretest.Must(t, sarif.Write(&b, []sarif.Report{{File: "shop/gull %.fore", Told: l}}))
	return b.String()
}

// The schema of the standard (OASIS, sarif-schema-2.1.0.json) holds what is written.
func TestBySchema(t *testing.T) {
	src := source.New("shop/gull %.fore", []byte("panel p {\n  tëm = 3\n}\n"))
	at := func(text string) source.Span {
		i := strings.Index(src.Text(), text)
		return source.Span{File: src, Start: i, End: i + len(text)}
	}
	var l diag.List
	l.Errorf("unknown-name", at("tëm"), "p has no tëm").WithHelp("did you mean thick?").Note(at("panel p"), "p begins here")
	l.Warnf("no-kerf", source.Span{}, "no kerf").Note(source.Span{}, "none at all")
	l.Errorf("unknown-name", at("3"), "a second one")
	compiler := jsonschema.NewCompiler()
	schema, err := compiler.Compile("testdata/sarif-schema-2.1.0.json")
	foretest.Must(t, err)
	for name, list := range map[string]diag.List{"none": nil, "some": l} {
		text := written(t, list)
		log, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		foretest.Must(t, err)
		if err := schema.Validate(log); err != nil {
			t.Errorf("%s: %v\n%s", name, err, text)
		}
	}
	foretest.Golden(t, "testdata/some.sarif", []byte(written(t, l)))
}

// Names lead nowhere but down from the working folder, or are whole addresses.
func TestAddresses(t *testing.T) {
	t.Chdir(t.TempDir())
	here, err := os.Getwd()
	foretest.Must(t, err)
	for name, want := range map[string]string{
		"gull.fore": "gull.fore", "./gull.fore": "gull.fore", "shop/../gull.fore": "gull.fore",
		"../gull.fore": "file://" + path.Join("/", filepath.ToSlash(filepath.Dir(here)), "gull.fore"),
	} {
		var l diag.List
		l.Errorf("missing-file", source.Span{}, "there is no file")
		var b bytes.Buffer
		foretest.Must(t, sarif.Write(&b, []sarif.Report{{File: name, Told: l}}))
		if !strings.Contains(b.String(), `"uri": "`+want+`"`) {
			t.Errorf("%s: want %s in\n%s", name, want, b.String())
		}
	}
}

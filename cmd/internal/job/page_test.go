package job_test

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foredge/cmd/internal/browsertest"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/job"
	"foredge/export"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

// pageOf is the page of a job.
func pageOf(r *job.Result) string { return string(r.Files[len(r.Files)-1].Data) }

// The page stands by itself: no script and nothing from elsewhere; its pictures are whole,
// and each has words in its place. It is known as foredge made it.
func TestJobPage(t *testing.T) {
	tag := "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\npanel tag { width = 30; height = 20; thick = 3; quiet = small-part, small-text\n" +
		" region r { width = 20; height = 8; engrave text \"tern\" } }\n"
	for copies, plain := range map[int]bool{300: false, 301: true} {
		r := made(t, t.Context(), folder(t, map[string]string{"day.fore": fmt.Sprintf("job day { make \"tag.fore\" { copies = %d } }\n", copies), "tag.fore": tag}),
			job.Options{Options: driver.Options{Effort: 0.1}})
		text := pageOf(r)
		if !export.Ours([]byte(text)) {
			t.Error("it isn't known as foredge's")
		}
		for _, never := range []string{"<script", "http:", "https:", "src=", "@import", "url("} {
			if strings.Contains(text, never) {
				t.Errorf("it has %s", never)
			}
		}
		if fills := strings.Count(text, `<path class="fill"`); (fills == 0) != plain || !plain && fills != copies {
			t.Errorf("of %d parts %d are engraved in the pictures", copies, fills)
		}
		pictures := regexp.MustCompile(`(?s)<svg [^>]*>.*?</svg>`).FindAllString(text, -1)
		if len(pictures) != len(r.Files)-1 {
			t.Errorf("%d pictures of %d sheets", len(pictures), len(r.Files)-1)
		}
		for _, p := range pictures {
			if !strings.HasPrefix(p, `<svg role="img" aria-label="a sheet of 3 mm stock, 300 mm by 200 mm with `) {
				t.Errorf("no words in the place of a picture: %.100s", p)
			}
			for dec := xml.NewDecoder(strings.NewReader(p)); ; {
				if _, err := dec.Token(); errors.Is(err, io.EOF) {
					break
				} else if err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// Names that are written from right to left stand by themselves, so that the sizes behind them stay where they are,
// and none turns round what follows it.
func TestNamesFromRightToLeft(t *testing.T) {
	design := "laser bench { kerf = 0.2; quiet = caution }\nstock שלום { thick = 3; size = 600 by 400 }\npanel tag { stock = שלום; width = 60; height = 50 }\n"
	r := made(t, t.Context(), folder(t, map[string]string{"day.fore": "job day { make \"כחול.fore\" { copies = 2 }; make \"log\u202e.fore\" }\n", "כחול.fore": design, "log\u202e.fore": design}), job.Options{})
	page := pageOf(r)
	for _, want := range []string{"a sheet of \u2068שלום\u2069, 600 mm by 400 mm", `aria-label="a sheet of ` + "\u2068שלום\u2069", "<b>\u2068כחול\u2069</b>, 2 times: 2 parts", "<title>\u2068כחול\u2069.2.tag</title>"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if strings.Contains(page, "\u202e") {
		t.Error("a name turns round what follows it")
	}
	if told := diagtest.Text(r.Diagnostics); !strings.Contains(told, "note: \u2068שלום\u2069: 1 sheet or offcut") {
		t.Errorf("told is\n%s", told)
	}
}

// As Chromium shows it on a telephone and on a desk: nothing sticks out, nothing is told on
// the console, nothing keeps people from using it.
func TestPageInABrowser(t *testing.T) {
	axe := browsertest.Axe(t)
	var console []string
	b := browsertest.Start(t, func(_, method string, params json.RawMessage) {
		if method == "Runtime.consoleAPICalled" || method == "Log.entryAdded" || method == "Runtime.exceptionThrown" {
			console = append(console, string(params))
		}
	})
	path, _ := shopDay(t)
	page := filepath.Join(t.TempDir(), "day.html")
	foretest.Must(t, os.WriteFile(page, []byte(pageOf(made(t, t.Context(), path, job.Options{Options: driver.Options{Effort: 0.1}}))), 0o666))
	for _, wide := range []int{360, 1280} {
		for _, scheme := range []string{"light", "dark"} {
			b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": wide, "height": 800, "deviceScaleFactor": 1, "mobile": false}, nil)
			b.Call("Emulation.setEmulatedMedia", map[string]any{"features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}}}, nil)
			b.Open("file://" + page)
			var over float64
			b.Run(`document.documentElement.scrollWidth - innerWidth`, &over)
			if over > 0 {
				t.Errorf("%g pixels stick out of %d", over, wide)
			}
			b.Accessible(axe, fmt.Sprintf("%d pixels, %s", wide, scheme))
		}
	}
	if len(console) > 0 {
		t.Errorf("the console says %s", console)
	}
}

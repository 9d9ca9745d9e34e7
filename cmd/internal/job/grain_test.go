package job_test

import (
	"strings"
	"testing"

	"foredge/cmd/internal/job"
)

// The page of a job and its sheets say which way the grain runs, as each sheet lies: upright, or
// turned by a quarter as a bed asks for it.
func TestGrainOfSheets(t *testing.T) {
	const design = "laser bench { kerf = 0.2; bed = 400 by 300; quiet = caution }\nstock ply { thick = 3; size = 290 by 600; GRAIN }\npanel tag { width = 120; height = HIGH; stock = ply }\n"
	for _, test := range []struct{ grain, high, want, never string }{
		{"grain = along height", "200", "the grain along the height", "along the width"},
		{"grain = along height", "350", "the grain along the width", "along the height"},
		{"grain = along width", "200", "the grain along the width", "along the height"},
		{"", "200", "", "grain"},
	} {
		path := folder(t, map[string]string{"day.fore": "job day { make \"a.fore\" { copies = 3 } }\n", "a.fore": strings.NewReplacer("GRAIN", test.grain, "HIGH", test.high).Replace(design)})
		looked := 0
		for _, f := range made(t, t.Context(), path, job.Options{}).Files {
			if !strings.HasSuffix(f.Path, ".svg") && !strings.HasSuffix(f.Path, ".html") {
				continue
			}
			looked++
			if text := string(f.Data); !strings.Contains(text, test.want) || strings.Contains(text, test.never) {
				t.Errorf("%+v: not so in %s", test, f.Path)
			}
		}
		if looked < 2 {
			t.Errorf("%+v: %d files looked at", test, looked)
		}
	}
}

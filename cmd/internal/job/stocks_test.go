package job_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/job"
	"foredge/export"
	"foredge/export/svg"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

// folder writes files and gives the path of the first, day.fore.
func folder(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		foretest.Must(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666))
	}
	return filepath.Join(dir, "day.fore")
}

// wrong is what is told of a job that can't be made.
func wrong(t testing.TB, path string) string {
	t.Helper()
	text := ""
	for _, r := range job.Make(t.Context(), driver.NewSession(nil), path, job.Options{Options: driver.Options{Encoders: []export.Encoder{svg.Encoder{}}}}) {
		if text += diagtest.Text(r.Diagnostics); len(r.Files) > 0 {
			t.Error("files are made")
		}
	}
	return text
}

// A kerf that the job's file states would change nothing: another one than the designs' is
// an error, theirs is none.
func TestKerfOfAJob(t *testing.T) {
	files := map[string]string{
		"day.fore": "laser bench { bed = 300 by 200 }\nstock ply { kerf = 0.3 }\njob day { make \"tag.fore\" }\n",
		"tag.fore": "laser bench { kerf = 0.2; quiet = caution }\nstock ply { thick = 3; kerf = 0.2 }\npanel tag { width = 60; height = 50; stock = ply }\n",
	}
	if told := wrong(t, folder(t, files)); !strings.Contains(told, "the kerf of ply stands here, and parts are cut by that of their own design") {
		t.Error(told)
	}
	files["day.fore"] = strings.Replace(files["day.fore"], "0.3", "0.2", 1)
	made(t, t.Context(), folder(t, files), job.Options{})
}

// No sheet is larger than the bed of any of a job's designs, unless its file states one.
func TestBedOfAJob(t *testing.T) {
	files := map[string]string{
		"day.fore": "job day { make \"a.fore\"; make \"b.fore\" }\n",
		"a.fore":   "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\nstock ply { thick = 3 }\npanel tag { width = 60; height = 50; stock = ply }\n",
		"b.fore":   "laser bench { kerf = 0.2; bed = 250 by 220; quiet = caution }\nstock ply { thick = 3 }\npanel tag { width = 60; height = 50; stock = ply }\n",
	}
	size := func() string {
		return string(regexp.MustCompile(`width="[0-9]+mm" height="[0-9]+mm"`).Find(made(t, t.Context(), folder(t, files), job.Options{}).Files[0].Data))
	}
	if got := size(); got != `width="250mm" height="200mm"` {
		t.Error(got)
	}
	files["day.fore"] = "laser bench { bed = 500 by 400 }\n" + files["day.fore"]
	if got := size(); got != `width="500mm" height="400mm"` {
		t.Error(got)
	}
}

// Jobs of a file that is used are passed over.
func TestUsedJobs(t *testing.T) {
	path := folder(t, map[string]string{
		"day.fore":  "use \"shop.fore\"\njob day { make \"a.fore\" }\n",
		"shop.fore": "job day { make \"gone.fore\" }\njob other { make \"gone.fore\" }\n",
		"a.fore":    "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\npanel tag { width = 60; height = 50; thick = 3 }\n",
	})
	if r := made(t, t.Context(), path, job.Options{}); filepath.Base(r.Files[0].Path) != "day.svg" {
		t.Error(r.Files[0].Path)
	}
}

// Designs can't be mixed up by a name that is another one only in its signs, and a job
// doesn't make itself.
func TestNamesOfAJob(t *testing.T) {
	tag := "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\npanel tag { width = 60; height = 50; thick = 3 }\n"
	path := folder(t, map[string]string{"day.fore": "job day { make \"a b.fore\"; make \"a-b.fore\" }\n", "a b.fore": tag, "a-b.fore": tag})
	if told := wrong(t, path); !strings.Contains(told, `the parts of "a-b.fore" would be called as those of "a b.fore"`) {
		t.Error(told)
	}
	path = folder(t, map[string]string{"day.fore": "job day { make \"day.fore\" }\n"})
	if told := wrong(t, path); !strings.Contains(told, `there is no panel in "day.fore"`) {
		t.Error(told)
	}
}

package browsertest

import (
	"os"
	"path/filepath"
	"testing"

	"foredge/lang/foretest"
)

// Axe is npm's axe-core as a script, which finds what keeps people from using a page.
// A machine without it skips the test, but where CI=true.
func Axe(t testing.TB) string {
	t.Helper()
	folder := os.Getenv("FOREDGE_NPM")
	if folder == "" {
		foretest.Missing(t, "npm's axe-core (FOREDGE_NPM names the node_modules that it is in)")
	}
	return foretest.Read(t, filepath.Join(folder, "axe-core", "axe.min.js"))
}

// Accessible fails where axe-core finds anything in the page as it is.
func (b *Browser) Accessible(axe, what string) {
	b.t.Helper()
	b.Run(`window.axe ? 0 : (`+"() => {"+axe+"\n; return 0 }"+`)()`, nil)
	var found []string
	b.Run(`axe.run(document, { resultTypes: ["violations"] }).then((r) => r.violations.flatMap((v) => v.nodes.map((n) => v.id + ": " + n.target + ": " + n.failureSummary)))`, &found)
	for _, f := range found {
		b.t.Errorf("%s: %s", what, f)
	}
}

package sheet_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/sheet"
)

func TestRandomJobs(t *testing.T) {
	sheets, least := 0, 0
	for seed := range uint64(foretest.Sample(500, 60)) {
		job := randomJob(rand.New(rand.NewPCG(seed, 16)))
		result, err := sheet.Lay(context.Background(), job, sheet.Options{Effort: 0.01, Seed: seed})
		if err != nil {
			t.Errorf("job %d: %v", seed, err)
			continue
		}
		for _, w := range check(job, result) {
			t.Errorf("job %d: %s", seed, w)
		}
		for _, g := range result.Groups {
			sheets, least = sheets+g.Sheets, least+g.LeastSheets
		}
		if t.Failed() {
			break
		}
	}
	t.Logf("%d sheets where no fewer than %d can do", sheets, least)
}

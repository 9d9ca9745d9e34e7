package geos

import (
	"os/exec"
	"testing"

	"foredge/lang/foretest"
)

// prelude has what most scripts ask for: area makes a polygon of rings, of
// which those that lie in others are holes, and pieces counts what it falls into.
const prelude = `import json, sys
from math import *
from shapely.geometry import Polygon, box
def area(rings):
    out = Polygon()
    for r in rings:
        out = out.symmetric_difference(Polygon(r))
    return out
def pieces(g):
    return sum(1 for p in getattr(g, 'geoms', [g]) if p.area > 1e-6)
data = json.load(sys.stdin)
`

// Ask runs a Python script that finds in as the variable data and leaves its
// answer in the variable answer, and decodes that into out. It may use Polygon,
// box, area(rings) and pieces(g), which stand in front of it. Without shapely the
// test is skipped, unless the environment says CI=true: then it fails.
func Ask(t testing.TB, script string, in, out any) {
	t.Helper()
	python := foretest.Python(t, "shapely.geometry")
	foretest.Ask(t, exec.Command(python, "-c", prelude+script+"\njson.dump(answer, sys.stdout)\n"), in, out)
}

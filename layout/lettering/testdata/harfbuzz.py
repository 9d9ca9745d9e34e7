"""Sets texts by HarfBuzz (hb-shape) and the outlines that fonttools reads, unites
them by GEOS, and says how far that is from how they were set by us. Capitals
are 10 mm high. Reads a list of texts from standard input."""

import json
import subprocess
import sys
import tempfile

import numpy as np
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont
from shapely.geometry import LineString, Polygon
from shapely.ops import polygonize, unary_union

STEPS = 20


def filled(rings):
    """The area that rings fill by the non-zero rule."""
    rings = [np.asarray(r) for r in rings if len(r) > 3]
    if not rings:
        return Polygon()
    lines = unary_union([LineString(r) for r in rings])
    a = np.concatenate([r[:-1] for r in rings])
    b = np.concatenate([r[1:] for r in rings])
    kept = []
    for face in polygonize(lines):
        p = face.representative_point()
        x, y = p.x, p.y
        up = (a[:, 1] <= y) & (b[:, 1] > y)
        down = (a[:, 1] > y) & (b[:, 1] <= y)
        side = (b[:, 0] - a[:, 0]) * (y - a[:, 1]) - (x - a[:, 0]) * (b[:, 1] - a[:, 1])
        if np.sum(up & (side > 0)) - np.sum(down & (side < 0)) != 0:
            kept.append(face)
    return unary_union(kept)


class Font:
    def __init__(self, path):
        self.path = path
        self.font = TTFont(path)
        self.glyphs = self.font.getGlyphSet()
        pen = BoundsPen(self.glyphs)
        self.glyphs[self.font.getBestCmap()[ord("H")]].draw(pen)
        self.k = 10 / pen.bounds[3]
        self.cache = {}

    def rings(self, gid):
        if gid not in self.cache:
            self.cache[gid] = self.draw(self.font.getGlyphName(gid))
        return self.cache[gid]

    def draw(self, name):
        pen = DecomposingRecordingPen(self.glyphs)
        self.glyphs[name].draw(pen)
        out, ring = [], []
        for op, args in pen.value:
            if op == "moveTo":
                ring = [args[0]]
            elif op == "lineTo":
                ring.append(args[0])
            elif op == "qCurveTo":
                points = list(args)
                if points[-1] is None:
                    points = points[:-1]
                    first = ((points[-1][0] + points[0][0]) / 2, (points[-1][1] + points[0][1]) / 2)
                    ring = [first]
                    points.append(first)
                for i, c in enumerate(points[:-1]):
                    end = points[i + 1]
                    if i + 2 < len(points):
                        end = ((c[0] + end[0]) / 2, (c[1] + end[1]) / 2)
                    start = ring[-1]
                    for n in range(1, STEPS + 1):
                        t = n / STEPS
                        ring.append(tuple((1 - t) ** 2 * start[j] + 2 * t * (1 - t) * c[j] + t * t * end[j] for j in (0, 1)))
            elif op == "curveTo":
                start, (c1, c2, end) = ring[-1], args
                for n in range(1, STEPS + 1):
                    t = n / STEPS
                    ring.append(tuple((1 - t) ** 3 * start[j] + 3 * t * (1 - t) ** 2 * c1[j] + 3 * t * t * (1 - t) * c2[j] + t ** 3 * end[j] for j in (0, 1)))
            elif op in ("closePath", "endPath"):
                if len(ring) > 2:
                    if ring[-1] != ring[0]:
                        ring.append(ring[0])
                    out.append(np.asarray(ring))
        return out


def shape(path, texts):
    with tempfile.NamedTemporaryFile("w", suffix=".txt", encoding="utf-8") as f:
        f.write("\n".join(texts) + "\n")
        f.flush()
        out = subprocess.run(
            ["hb-shape", "--output-format=json", "--no-glyph-names", "--language=und", "--font-file=" + path, "--text-file=" + f.name],
            check=True, stdout=subprocess.PIPE, encoding="utf-8").stdout
    return [json.loads(line) for line in out.splitlines()]


texts = json.load(sys.stdin)
answer = [None] * len(texts)
for path in sorted({t["Path"] for t in texts}):
    font = Font(path)
    mine = [i for i, t in enumerate(texts) if t["Path"] == path]
    shaped = shape(path, [texts[i]["Text"] for i in mine])
    assert len(shaped) == len(mine)
    for i, glyphs in zip(mine, shaped):
        pen, rings = 0, []
        for g in glyphs:
            for r in font.rings(g["g"]):
                p = (r + np.array([pen + g["dx"], g["dy"]])) * font.k
                rings.append(p * np.array([1, -1]))
            pen += g["ax"]
        theirs, ours = filled(rings), filled(texts[i]["Rings"])
        answer[i] = {"Advance": pen * font.k, "Area": theirs.area, "Apart": theirs.symmetric_difference(ours).area}
json.dump(answer, sys.stdout)

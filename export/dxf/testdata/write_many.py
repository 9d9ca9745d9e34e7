# Encodes the shapes on standard input by ezdxf's r12 writer and by ezdxf itself
# in memory, prints the seconds that each took, and then puts the results into
# the two files named. The r12 writer has two ways to write a polyline, of which
# the faster counts, best of three; the library takes long and runs once.
import io
import json
import sys
import time

import ezdxf
from ezdxf.addons.r12writer import r12writer

shapes = []
for s in json.load(sys.stdin):
    x, y, w, h = s["X"], s["Y"], s["W"], s["H"]
    if s["Circle"]:
        shapes.append(((x, y), w))
    else:
        shapes.append(([(x, y + h), (x + w, y + h), (x + w, y), (x, y)], None))


def r12(polyline):
    text = io.StringIO()
    with r12writer(text) as dxf:
        add = getattr(dxf, polyline)
        for at, r in shapes:
            if r is None:
                add(at, closed=True, layer="CUT")
            else:
                dxf.add_circle(at, r, layer="CUT")
    return text


def full():
    doc = ezdxf.new("R2000")
    doc.layers.add("CUT")
    space = doc.modelspace()
    cut = {"layer": "CUT"}
    for at, r in shapes:
        if r is None:
            space.add_lwpolyline(at, close=True, dxfattribs=cut)
        else:
            space.add_circle(at, r, dxfattribs=cut)
    text = io.StringIO()
    doc.write(text)
    return text


def seconds(path, f, *args):
    start = time.perf_counter()
    text = f(*args)
    taken = time.perf_counter() - start
    with open(path, "w") as out:
        out.write(text.getvalue())
    return taken


r12_path, full_path = sys.argv[1:]
json.dump({
    "R12": min(seconds(r12_path, r12, p) for p in ("add_polyline", "add_polyline_2d") for _ in range(3)),
    "Full": seconds(full_path, full),
}, sys.stdout)

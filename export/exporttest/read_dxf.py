# Reads DXF files by ezdxf, audits them and prints what they hold as JSON.
import json
import sys

import ezdxf


def entity(e):
    d = e.dxf
    kind = e.dxftype()
    out = {"type": kind, "layer": d.layer, "closed": False}
    if kind == "LINE":
        out["points"] = [[d.start.x, d.start.y, 0], [d.end.x, d.end.y, 0]]
    elif kind in ("CIRCLE", "ARC"):
        out["center"] = [d.center.x, d.center.y]
        out["r"] = d.radius
        if kind == "ARC":
            out["start"], out["end"] = d.start_angle, d.end_angle
    elif kind == "LWPOLYLINE":
        out["closed"] = bool(e.closed)
        out["points"] = [list(p) for p in e.get_points("xyb")]
    elif kind == "POLYLINE":
        out["closed"] = bool(e.is_closed)
        out["points"] = [[v.dxf.location.x, v.dxf.location.y, v.dxf.bulge] for v in e.vertices]
    return out


files = []
for path in sys.argv[1:]:
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    head = doc.header
    files.append({
        "version": doc.dxfversion,
        "insunits": head.get("$INSUNITS", 0),
        "measurement": head.get("$MEASUREMENT", 0),
        "extmin": list(head["$EXTMIN"])[:2],
        "extmax": list(head["$EXTMAX"])[:2],
        "errors": [e.message for e in audit.errors],
        "fixes": [e.message for e in audit.fixes],
        "layers": {l.dxf.name: l.dxf.color for l in doc.layers},
        "entities": [entity(e) for e in doc.modelspace()],
    })
json.dump(files, sys.stdout)

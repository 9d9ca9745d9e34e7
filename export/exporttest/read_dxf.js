// Reads DXF files by dxf-parser and prints what they hold as JSON.
const fs = require("fs");
const library = require("dxf-parser");
const DxfParser = library.DxfParser || library.default || library;

const degrees = (a) => (a * 180) / Math.PI;

function entity(e) {
  const out = { type: e.type, layer: e.layer, closed: !!e.shape };
  if (e.vertices) out.points = e.vertices.map((v) => [v.x, v.y, v.bulge || 0]);
  if (e.center) {
    out.center = [e.center.x, e.center.y];
    out.r = e.radius;
  }
  if (e.type === "ARC") {
    out.start = degrees(e.startAngle);
    out.end = degrees(e.endAngle);
  }
  return out;
}

const files = process.argv.slice(2).map((path) => {
  const dxf = new DxfParser().parseSync(fs.readFileSync(path, "utf8"));
  const head = dxf.header;
  const layers = {};
  for (const [name, l] of Object.entries(dxf.tables.layer.layers)) layers[name] = l.colorIndex;
  return {
    version: head.$ACADVER,
    insunits: head.$INSUNITS,
    measurement: head.$MEASUREMENT,
    extmin: [head.$EXTMIN.x, head.$EXTMIN.y],
    extmax: [head.$EXTMAX.x, head.$EXTMAX.y],
    layers,
    entities: dxf.entities.map(entity),
  };
});
process.stdout.write(JSON.stringify(files));

// Lays rectangles on a strip by maxrects-packer, and gives the least of the lengths, in
// steps of a quarter of a percent, at which it finds room for all of them on one sheet: the
// best of its two ways to choose and of three orders. Standard input and output are JSON;
// argument 1 is the file of the module.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const { MaxRectsPacker } = await import(pathToFileURL(process.argv[2]).href);
const answer = JSON.parse(readFileSync(0, "utf8")).map(({ width, least, turn, rects }) => {
  const orders = [
    (a, b) => b[0] * b[1] - a[0] * a[1],
    (a, b) => Math.max(...b) - Math.max(...a),
    (a, b) => b[1] - a[1],
  ].map((order) => [...rects].sort(order));
  const fits = (length) => orders.some((sorted) => [0, 1].some((logic) => {
    const packer = new MaxRectsPacker(width, length, 0, { smart: false, pot: false, square: false, allowRotation: turn, border: 0, logic });
    for (const [w, h] of sorted) packer.add(w, h, {});
    return packer.bins.length === 1 && !packer.bins[0].rects.some((r) => r.oversized);
  }));
  let length = least;
  while (!fits(length)) length += least / 400;
  return length;
});
process.stdout.write(JSON.stringify(answer));

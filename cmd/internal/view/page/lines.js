// Dimension lines, laid over a drawing: as wide and written as large at every scale.

import { figure } from "/elements.js";

const away = { left: [-1, 0], right: [1, 0], up: [0, -1], down: [0, 1], "": [0, 0] };
const nearest = 16; // of a line to its board, in pixels
const apart = 19; // one line from the next
const narrow = 480; // a drawing less wide than that has its lines nearer together

// offset is how many pixels a line lies away from its board.
function offset(rank, width) {
	return (nearest + apart * rank) * (width < narrow ? 0.75 : 1);
}

const tick = 4; // half the length of the stroke at an end
const letter = 6.4; // about how wide a letter of a label is
export const size = 11.5; // of labels

// visible are the dimensions that are shown: those of the sort that is asked for, and
// the one that is pointed at.
function visible(view, shown, active) {
	return view.dimensions.filter((d) => d.value === active || (d.sort === "reading" ? shown.readings : shown.lines === "all" || shown.lines === d.sort));
}

// ranks say at which place beside its board a line is drawn: none is left empty.
function ranks(dims) {
	const sides = new Map();
	const level = (d) => d.level + (d.sort === "reading" ? 10 : 0);
	for (const d of dims) {
		const key = d.part + d.away;
		if (!sides.has(key)) sides.set(key, new Set());
		sides.get(key).add(level(d));
	}
	return (d) => [...sides.get(d.part + d.away)].sort((a, b) => a - b).indexOf(level(d));
}

// room is how many pixels the lines take up at each side of the boards.
export function room(view, shown, width) {
	const dims = visible(view, shown, -1).filter((d) => d.away);
	const rank = ranks(dims);
	const sides = { left: 0, right: 0, up: 0, down: 0 };
	for (const d of dims) sides[d.away] = Math.max(sides[d.away], offset(rank(d), width) + 14);
	return sides;
}

// paintLines draws the dimensions into g and gives where each can be pointed at. k is
// how many mm a pixel is, width how many pixels the drawing is wide.
export function paintLines(g, view, values, shown, active, k, width) {
	const dims = visible(view, shown, active);
	const rank = ranks(dims);
	const places = [];
	const labels = [];
	g.replaceChildren(...dims.map((d) => {
		const [dx, dy] = away[d.away];
		const off = d.away ? offset(rank(d), width) * k : 0;
		const from = [d.from[0] + dx * off, d.from[1] + dy * off];
		const to = [d.to[0] + dx * off, d.to[1] + dy * off];
		// Both ends lie on one line along the measured distance, however they were given.
		if (dx) from[0] = to[0] = dx < 0 ? Math.min(from[0], to[0]) : Math.max(from[0], to[0]);
		if (dy) from[1] = to[1] = dy < 0 ? Math.min(from[1], to[1]) : Math.max(from[1], to[1]);
		const middle = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
		places.push({ x: middle[0], y: middle[1], value: d.value });
		const lineOf = line(d, from, to, values[d.value], d.value === active, k);
		const l = label(d, from, to, middle, values[d.value], d.value === active, k);
		if (l) labels.push({ ...l, line: lineOf, first: d.value === active ? 0 : order.indexOf(d.sort) });
		return lineOf;
	}));
	for (const l of roomy(labels)) l.line.append(l.text);
	return places;
}

const order = ["", "board", "reading", "thing"]; // in which labels are given room

// roomy are the labels that can be read: of those that would lie on one another, the first.
// What the others say is told where their lines are pointed at.
function roomy(labels) {
	const there = [];
	const over = (a, b) => Math.abs(a.x - b.x) < (a.wide + b.wide) / 2 && Math.abs(a.y - b.y) < (a.high + b.high) / 2;
	for (const l of [...labels].sort((a, b) => a.first - b.first)) {
		if (!there.some((t) => over(l, t))) there.push(l);
	}
	return there;
}

function line(d, from, to, value, hot, k) {
	const g = figure("g", { class: `${d.sort}${hot ? " hot" : ""}`, "data-value": d.value });
	const stroke = (a, b, className) => figure("line", { x1: a[0], y1: a[1], x2: b[0], y2: b[1], class: className });
	if (d.away) g.append(stroke(d.from, from, "reach"), stroke(d.to, to, "reach"));
	const t = tick * k;
	g.append(stroke(from, to, ""), stroke([from[0] - t, from[1] + t], [from[0] + t, from[1] - t], ""),
		stroke([to[0] - t, to[1] + t], [to[0] + t, to[1] - t], ""), stroke(from, to, "wide"));
	return g;
}

const clear = 5; // of a label from its line, in pixels
const high = size * 0.73; // of its figures

// label is what is written beside a line, on the side that is away from the board, and the
// box that it takes up; null where the line is too short for it.
function label(d, from, to, [x, y], value, hot, k) {
	const text = value.short + (value.within && (hot || d.sort === "reading") ? ` ± ${value.within}` : "");
	const upright = Math.abs(to[1] - from[1]) > Math.abs(to[0] - from[0]);
	const wide = text.length * letter;
	const fits = Math.hypot(to[0] - from[0], to[1] - from[1]) / k > wide + 8;
	if (!fits && !hot) return null;
	const attributes = { "font-size": size * k };
	if (upright && fits) {
		const base = d.away === "right" ? x + (clear + high) * k : x - clear * k;
		Object.assign(attributes, { x: 0, y: 0, transform: `translate(${base} ${y}) rotate(-90)` });
		return { text: figure("text", attributes, text), x: base - (high / 2) * k, y, wide: size * k, high: wide * k };
	}
	const base = d.away === "down" ? y + (clear + high) * k : y - clear * k;
	Object.assign(attributes, { x, y: base });
	return { text: figure("text", attributes, text), x, y: base - (high / 2) * k, wide: wide * k, high: size * k };
}

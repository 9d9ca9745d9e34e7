// Measuring from one point of a drawing to another.
import { size } from "/lines.js";
import { figure, length } from "/elements.js";

const reach = 12; // pixels from which the pointer goes to a point of the drawing

export class Measure {
	constructor() {
		this.points = []; // those that are set, two at most
		this.at = null; // where the next would be set
	}

	clear() {
		this.points = [];
		this.at = null;
	}

	// near is the point of a drawing that is meant by a place; the place itself where
	// there is none.
	near(view, x, y, k) {
		let best = reach * k;
		let found = [x, y];
		for (let i = 0; i < view.points.length; i += 2) {
			const d = Math.hypot(view.points[i] - x, view.points[i + 1] - y);
			if (d < best) {
				best = d;
				found = [view.points[i], view.points[i + 1]];
			}
		}
		return found;
	}

	// next is the nearest point in a direction.
	next(view, dx, dy) {
		const [x, y] = this.at || [view.width / 2, view.height / 2];
		let best = Infinity;
		let found = this.at || [x, y];
		for (let i = 0; i < view.points.length; i += 2) {
			const cost = costOf(view.points[i] - x, view.points[i + 1] - y, dx, dy);
			if (cost < best) {
				best = cost;
				found = [view.points[i], view.points[i + 1]];
			}
		}
		this.at = found;
	}

	set() {
		if (!this.at) return;
		if (this.points.length === 2) this.points = [];
		this.points.push(this.at);
	}

	// says is what was measured, in words; "" before there are two points.
	says(unit) {
		const [a, b] = this.ends();
		if (!b) return "";
		const across = length(Math.abs(b[0] - a[0]), unit);
		const down = length(Math.abs(b[1] - a[1]), unit);
		return `${length(Math.hypot(b[0] - a[0], b[1] - a[1]), unit)} (${across} across, ${down} down)`;
	}

	// ends are the two points that are shown, the second where it would be set.
	ends() {
		return this.points.length === 1 && this.at ? [this.points[0], this.at] : this.points;
	}

	paint(g, unit, k) {
		const [a, b] = this.ends();
		const marks = [];
		if (a && b) marks.push(figure("line", { x1: a[0], y1: a[1], x2: b[0], y2: b[1] }));
		for (const p of [...this.points, ...(this.at ? [this.at] : [])]) marks.push(figure("circle", { cx: p[0], cy: p[1], r: 4 * k }));
		if (a && b) {
			const text = length(Math.hypot(b[0] - a[0], b[1] - a[1]), unit);
			marks.push(figure("text", { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2 - 8 * k, "font-size": (size + 1.5) * k }, text));
		}
		g.replaceChildren(...marks);
	}
}

// costOf says how far away something lies in a direction; what lies beside that counts
// twice, and what lies behind isn't there.
export function costOf(x, y, dx, dy) {
	const along = x * dx + y * dy;
	const beside = Math.abs(x * dy) + Math.abs(y * dx);
	return along > 1e-3 ? along + 2 * beside : Infinity;
}

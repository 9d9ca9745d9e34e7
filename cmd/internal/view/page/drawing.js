// The drawing of one design: which part of it is seen, what the pointer and the keys
// point at, and what is laid over it.
import { paintLines, room, size } from "/lines.js";
import { Measure, costOf } from "/measure.js";
import { element, figure, length } from "/elements.js";

const margin = 24; // the least number of pixels round a drawing
const most = 200; // times that a drawing can be enlarged
const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export class Drawing {
	constructor(article, design) {
		this.design = design;
		this.shown = design.shown;
		this.svg = article.querySelector("svg.drawing");
		this.sheet = article.querySelector(".sheet");
		this.tip = article.querySelector(".tip");
		this.zooms = article.querySelector(".zoom");
		this.layer = Object.fromEntries(["books", "shapes", "names", "lines", "measure"].map((name) => [name, this.svg.querySelector(`.${name}`)]));
		this.measure = new Measure();
		this.box = null; // what is seen, in mm
		this.whole = true;
		this.active = null; // what is pointed at or selected
		this.lineItems = [];
		this.width = 0; // of the drawing in pixels, kept so that nothing has to be laid out to ask for it
		new ResizeObserver(([seen]) => this.resized(Math.round(seen.contentRect.width))).observe(this.svg);
		this.listen();
	}

	listen() {
		const on = (name, f, options) => this.svg.addEventListener(name, f, options);
		on("pointermove", (e) => this.moved(e));
		on("pointerdown", (e) => this.pressed(e));
		on("pointerup", () => (this.drag = null));
		on("pointercancel", () => (this.drag = null));
		on("pointerleave", () => this.left());
		on("click", (e) => this.clicked(e));
		on("wheel", (e) => this.turned(e), { passive: false });
		on("keydown", (e) => this.key(e));
		on("blur", () => (this.tip.hidden = true));
		this.zooms.addEventListener("click", (e) => this.zoom({ in: 1.5, out: 1 / 1.5, all: 0 }[e.target.dataset.zoom]));
	}

	resized(width) {
		if (width === this.width || !width) return;
		this.width = width;
		this.show(this.view, this.scene, false);
	}

	// show shows a view of a scene; anew if they are others than before.
	show(view, scene, anew) {
		this.svg.toggleAttribute("hidden", !view);
		this.zooms.hidden = !view;
		if (!view) return;
		const last = this.view;
		this.view = view;
		this.scene = scene;
		if (anew) this.take(view, last);
		if (!this.width) return; // it is not to be seen yet; the observer tells
		this.fit(this.width);
		this.svg.classList.toggle("measuring", this.shown.doing === "measure");
		if (this.shown.doing !== "measure") this.measure.clear();
		this.svg.setAttribute("aria-label", `${this.design.name}, ${view.title}: ${view.parts.map((p) => p.about).join(", ")}`);
		this.paint();
	}

	// take puts the shapes of a view into the page. The markup is the server's own, with
	// all names escaped; the page's policy lets no script in it run.
	take(view, last) {
		this.tip.hidden = true;
		this.at = null;
		if (!last || last.id !== view.id) {
			this.whole = true;
			this.measure.clear();
		}
		if (last && last.drawing === view.drawing) return;
		const { shapes } = this.layer;
		shapes.innerHTML = view.drawing;
		const boards = [...shapes.querySelectorAll('[data-name$=".outline"]')].map((e) => {
			const under = e.cloneNode(false);
			under.removeAttribute("data-name");
			under.setAttribute("class", "under");
			return under;
		});
		shapes.prepend(...boards);
	}

	// fit makes the drawing as large as there is room for; what was enlarged stays so.
	fit(width) {
		const { view } = this;
		const side = room(view, this.shown, width);
		for (const name of Object.keys(side)) side[name] = Math.max(side[name] + 6, margin);
		const across = Math.max(width - side.left - side.right, width / 3);
		const high = Math.min(Math.max((view.height * across) / Math.max(view.width, 1) + side.up + side.down, 240), Math.max(300, window.innerHeight * 0.72), 760);
		const height = Math.round(high);
		this.svg.style.height = `${height}px`;
		const k = Math.max(view.width / across, view.height / Math.max(height - side.up - side.down, height / 3), 0.01);
		this.least = width * k;
		if (this.whole || !this.box) {
			const x = view.width / 2 - ((width + side.left - side.right) * k) / 2;
			const y = view.height / 2 - ((height + side.up - side.down) * k) / 2;
			this.box = { x, y, w: width * k, h: height * k };
		} else {
			const middle = this.box.y + this.box.h / 2;
			this.box.h = (this.box.w * height) / width;
			this.box.y = middle - this.box.h / 2;
		}
		this.k = this.box.w / width;
	}

	paint() {
		const { x, y, w, h } = this.box;
		const { view, layer, k } = this;
		this.svg.setAttribute("viewBox", `${x} ${y} ${w} ${h}`);
		this.svg.classList.toggle("near", !this.whole);
		for (const g of layer.shapes.querySelectorAll("[data-operation]")) g.toggleAttribute("hidden", !this.shown.operations.get(g.dataset.operation));
		const text = (name, tx, ty) => figure("text", { x: tx, y: ty, "font-size": size * k }, name);
		layer.names.replaceChildren(...(this.shown.names ? view.parts : []).filter((p) => roomFor(p, k)).map((p) => text(p.name, p.x + p.width / 2, p.y + p.height - 10 * k)));
		layer.books.replaceChildren(...(this.shown.readings ? view.books : []).map((b) => figure("rect", { x: b.x, y: b.y, width: b.width, height: b.height })));
		this.paintLines();
		this.measure.paint(layer.measure, this.scene.unit, k);
	}

	paintLines() {
		const value = this.active && this.active.value !== undefined ? this.active.value : -1;
		this.lineItems = paintLines(this.layer.lines, this.view, this.scene.values, this.shown, value, this.k, this.width);
	}

	// mark shows what is pointed at or selected; null for nothing.
	mark(item) {
		const before = this.active;
		this.active = item;
		if (!this.view || !this.box) return;
		for (const e of this.layer.shapes.querySelectorAll(".hot")) e.classList.remove("hot");
		if (item && item.value === undefined) this.shape(item)?.classList.add("hot");
		if (before?.value !== undefined || item?.value !== undefined) this.paintLines();
	}

	shape(item) {
		const all = this.layer.shapes.querySelectorAll(`[data-name="${CSS.escape(item.name)}"]`);
		return [...all].find((e) => operationOf(e) === item.operation);
	}

	// itemOf is the thing that an element of the drawing stands for; null for none.
	itemOf(e) {
		const line = e.closest("[data-value]");
		if (line) return this.lineItem(Number(line.dataset.value));
		const shape = e.closest("[data-name]");
		if (!shape) return null;
		const box = shape.getBBox();
		const { unit } = this.scene;
		const operation = operationOf(shape);
		const about = `${operation}, ${length(box.width, unit)} by ${length(box.height, unit)}`;
		return { name: shape.dataset.name, operation, about, at: this.view.places[Number(shape.dataset.at)] };
	}

	lineItem(value) {
		const v = this.scene.values[value];
		return { name: v.name, value, at: v.at };
	}

	showTip(item, px, py) {
		const place = item.at ? [element("br"), `line ${item.at.line} of ${this.scene.files[item.at.file].name}`] : [];
		this.tip.replaceChildren(element("b", "", item.name), ...this.design.saying(item), ...place);
		this.tip.hidden = false;
		const room = this.sheet.getBoundingClientRect();
		const left = Math.min(Math.max(px - room.left + 14, 4), room.width - this.tip.offsetWidth - 4);
		let top = py - room.top + 16;
		if (top + this.tip.offsetHeight > room.height) top = py - room.top - this.tip.offsetHeight - 12;
		this.tip.style.left = `${left}px`;
		this.tip.style.top = `${top}px`;
	}

	// inMM is where on the drawing a pointer is.
	inMM(e) {
		const at = this.svg.getBoundingClientRect();
		return [this.box.x + (e.clientX - at.left) * this.k, this.box.y + (e.clientY - at.top) * this.k];
	}

	pressed(e) {
		this.dragged = false;
		if (!this.whole) this.drag = { x: e.clientX, y: e.clientY, box: { ...this.box } };
	}

	moved(e) {
		if (!this.box) return;
		if (this.drag && e.buttons) {
			const dx = e.clientX - this.drag.x;
			const dy = e.clientY - this.drag.y;
			if (!this.dragged && Math.hypot(dx, dy) < 5) return;
			this.dragged = true;
			this.tip.hidden = true;
			this.box.x = this.drag.box.x - dx * this.k;
			this.box.y = this.drag.box.y - dy * this.k;
			this.paint();
			return;
		}
		if (this.shown.doing === "measure") {
			this.measure.at = this.measure.near(this.view, ...this.inMM(e), this.k);
			this.measured();
			return;
		}
		const item = this.itemOf(e.target);
		if (!same(item, this.active)) this.mark(item || this.design.current());
		if (item) this.showTip(item, e.clientX, e.clientY);
		else this.tip.hidden = true;
	}

	left() {
		this.drag = null;
		this.tip.hidden = true;
		if (this.view) this.mark(this.design.current());
	}

	clicked(e) {
		if (this.dragged || !this.box) return;
		if (this.shown.doing === "measure") {
			this.measure.at = this.measure.near(this.view, ...this.inMM(e), this.k);
			this.measure.set();
			this.measured(true);
			return;
		}
		const item = this.itemOf(e.target);
		this.design.select(item && { ...item, clicked: true });
	}

	turned(e) {
		if (!e.ctrlKey || !this.box) return;
		e.preventDefault();
		this.zoom(e.deltaY < 0 ? 1.2 : 1 / 1.2, this.inMM(e));
	}

	// zoom enlarges by a factor about a place, the middle if none is given; 0 shows all.
	zoom(by, about) {
		if (by === undefined || !this.view) return;
		const { box } = this;
		const middle = [box.x + box.w / 2, box.y + box.h / 2];
		const [x, y] = about || this.measure.at || (this.at ? [this.at.x, this.at.y] : middle);
		const w = by ? Math.max(box.w / by, this.least / most) : this.least;
		this.whole = w >= this.least * 0.999;
		const f = w / box.w;
		this.box = { x: x - (x - box.x) * f, y: y - (y - box.y) * f, w, h: box.h * f };
		this.fit(this.width);
		this.paint();
	}

	key(e) {
		if (e.ctrlKey || e.altKey || e.metaKey || !this.view) return;
		const measuring = this.shown.doing === "measure";
		const zoom = { "+": 1.5, "=": 1.5, "-": 1 / 1.5, "−": 1 / 1.5, 0: 0 }[e.key];
		if (zoom !== undefined) this.zoom(zoom);
		else if (arrows[e.key] && measuring) this.step(arrows[e.key], e.shiftKey);
		else if (arrows[e.key]) this.go(...arrows[e.key]);
		else if ((e.key === "Enter" || e.key === " ") && measuring) {
			this.measure.set();
			this.measured(true);
		} else if (e.key === "Enter" || e.key === " ") {
			if (this.active) this.design.select({ ...this.active, clicked: true });
		} else if (e.key === "Escape") this.letGo();
		else return;
		e.preventDefault();
	}

	letGo() {
		this.measure.clear();
		this.at = null;
		this.tip.hidden = true;
		this.design.select(null);
		this.paint();
	}

	step([dx, dy], fine) {
		if (fine && this.measure.at) {
			const by = this.scene.unit.size / 10;
			this.measure.at = [this.measure.at[0] + dx * by, this.measure.at[1] + dy * by];
		} else this.measure.next(this.view, dx, dy);
		this.keepInSight(...this.measure.at);
		this.measured(true);
	}

	// measured shows what is measured, and says it where a key or a click set it.
	measured(say) {
		this.measure.paint(this.layer.measure, this.scene.unit, this.k);
		const text = this.measure.says(this.scene.unit);
		if (say) this.design.parts.told.replaceChildren(element("p", "", text ? `measured: ${text}` : this.measureStart()));
	}

	measureStart() {
		const [x, y] = this.measure.at || [0, 0];
		return `at ${length(x, this.scene.unit)} across, ${length(y, this.scene.unit)} down; ${this.measure.points.length ? "set the second point" : "set the first point"}`;
	}

	// go selects the nearest thing in a direction.
	go(dx, dy) {
		const from = this.at || { x: this.box.x, y: this.view.height / 2 };
		let best = Infinity;
		let found = null;
		for (const place of this.places()) {
			const cost = costOf(place.x - from.x, place.y - from.y, dx, dy);
			if (cost < best) {
				best = cost;
				found = place;
			}
		}
		if (!found) return;
		this.at = found;
		this.keepInSight(found.x, found.y);
		this.design.select(found.value === undefined ? this.itemOf(found.element) : this.lineItem(found.value));
		const at = this.svg.getBoundingClientRect();
		this.showTip(this.active, at.left + (found.x - this.box.x) / this.k, at.top + (found.y - this.box.y) / this.k);
	}

	// places are the middles of all that is seen and can be selected.
	places() {
		const all = [...this.lineItems];
		for (const e of this.layer.shapes.querySelectorAll("[data-operation]:not([hidden]) [data-name]")) {
			const b = e.getBBox();
			all.push({ x: b.x + b.width / 2, y: b.y + b.height / 2, element: e });
		}
		return all;
	}

	keepInSight(x, y) {
		const { box } = this;
		if (this.whole || (x > box.x && x < box.x + box.w && y > box.y && y < box.y + box.h)) return;
		box.x = x - box.w / 2;
		box.y = y - box.h / 2;
		this.paint();
	}
}

// roomFor says whether a part is large enough on the page to have its name on it.
function roomFor(part, k) {
	return part.width > (part.name.length * 6.4 + 6) * k && part.height > 44 * k;
}

function operationOf(e) {
	return e.closest("[data-operation]").dataset.operation;
}

function same(a, b) {
	return (a && a.name) === (b && b.name) && (a && a.value) === (b && b.value);
}

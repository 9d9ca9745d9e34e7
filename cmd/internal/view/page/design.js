// One design: its problems over its drawing, what is selected, and the table of all
// dimensions.
import { Drawing } from "/drawing.js";
import { element } from "/elements.js";

export class Design {
	constructor(index, name, shown) {
		this.index = index;
		this.name = name;
		this.shown = shown;
		this.scene = null;
		this.selected = null; // a name, and whether it is that of a dimension
		this.face = "outside";
		this.wanted = 0;
		this.busy = false;
		this.article = document.getElementById("design").content.cloneNode(true).querySelector("article");
		const part = (selector) => this.article.querySelector(selector);
		this.parts = {
			state: part(".state"), faces: part(".faces"), problems: part(".problems"), sheet: part(".sheet"),
			told: part(".told"), values: part(".values"), rows: part("tbody"), search: part("input"), empty: part(".empty"),
		};
		part("h2").textContent = name;
		this.article.setAttribute("aria-label", name);
		this.parts.told.setAttribute("aria-label", `what is selected in ${name}`);
		part(".rows").setAttribute("aria-label", `all dimensions of ${name}`);
		this.drawing = new Drawing(this.article, this);
		this.parts.search.addEventListener("input", () => this.filter());
		this.parts.values.addEventListener("toggle", () => this.table());
		this.tell();
	}

	// want asks for what is shown at a revision, once at a time: what comes meanwhile
	// is asked for when that is here.
	async want(revision, again) {
		if (revision === this.wanted && !again) return;
		this.wanted = revision;
		if (this.busy) {
			this.more = true;
			return;
		}
		this.busy = true;
		try {
			do {
				this.more = false;
				const answer = await fetch(`/designs/${this.index}`);
				if (answer.ok) this.show(await answer.json(), answer.headers.get("Foredge-Revision"));
			} while (this.more);
		} catch {
			this.wanted = 0; // the stream says when there is a server again
		} finally {
			this.busy = false;
		}
	}

	show(scene, revision) {
		this.scene = scene;
		this.article.classList.toggle("stale", !scene.good);
		const views = scene.views || [];
		if (!views.some((v) => v.id === this.face)) this.face = views.length ? views[0].id : "outside";
		this.problems();
		this.faces(views);
		this.redraw(true);
		this.filled = false;
		this.table();
		this.tell();
		this.article.dataset.revision = revision;
	}

	view() {
		return ((this.scene && this.scene.views) || []).find((v) => v.id === this.face);
	}

	faces(views) {
		const pressed = document.activeElement && this.parts.faces.contains(document.activeElement) ? document.activeElement.dataset.face : null;
		this.parts.faces.replaceChildren(...(views.length < 2 ? [] : views).map((v) => {
			const b = element("button", "", v.title);
			b.type = "button";
			b.dataset.face = v.id;
			b.setAttribute("aria-pressed", String(v.id === this.face));
			b.addEventListener("click", () => {
				this.face = v.id;
				this.faces(views);
				this.redraw(true);
			});
			return b;
		}));
		if (pressed) [...this.parts.faces.children].find((b) => b.dataset.face === pressed)?.focus();
	}

	redraw(anew) {
		if (!this.scene || this.article.hidden) return;
		const view = this.view();
		const { empty } = this.parts;
		empty.hidden = Boolean(view);
		if (!view) empty.textContent = this.scene.good ? "There is nothing to cut in this file." : "There is no good drawing yet.";
		this.drawing.show(view, this.scene, anew);
	}

	// problems shows what is wrong over the drawing, each with its place.
	problems() {
		const { problems, state } = this.parts;
		const all = this.scene.problems || [];
		const count = (severity) => all.filter((p) => p.severity === severity).length;
		const say = (n, one, many) => (n === 0 ? [] : [n === 1 ? `1 ${one}` : `${n} ${many}`]);
		const words = [...say(count("error"), "error", "errors"), ...say(count("warning"), "warning", "warnings"), ...say(count("note"), "note", "notes")];
		const said = words.length ? words.join(", ") : "no problems";
		if (state.textContent !== said) state.textContent = said;
		const stale = !this.scene.good && this.scene.views;
		const title = stale ? "This is the last good drawing. What is wrong since:" : this.scene.good ? "To mind" : "What is wrong";
		problems.querySelector("h3").textContent = title;
		problems.hidden = all.length === 0;
		problems.querySelector("ol").replaceChildren(...all.map((p) => this.problem(p)));
	}

	problem(p) {
		const li = element("li", p.severity, element("strong", "", `${p.severity}: `), p.message);
		if (p.at) li.append(this.source(p.at), this.place(p.at));
		for (const n of p.notes || []) {
			const line = element("p", "", `${n.message} `);
			if (n.at) line.append(this.place(n.at));
			li.append(line);
		}
		if (p.help) li.append(element("p", "", `what to do: ${p.help}`));
		return li;
	}

	// source shows the line of a place with what is meant marked.
	source(at) {
		const letters = [...at.text];
		const from = Math.min(at.column - 1, letters.length);
		const to = at.end ? Math.max(at.end - 1, from + 1) : letters.length;
		const text = (a, b) => letters.slice(a, b).join("");
		return element("code", "source", text(0, from), element("mark", "", text(from, to).trimEnd()), text(to));
	}

	placeText(at) {
		return `${this.scene.files[at.file].name}:${at.line}:${at.column}`;
	}

	// lineText is a place in short: the line alone in the design's own file.
	lineText(at) {
		const { name } = this.scene.files[at.file];
		return name === this.name ? String(at.line) : `${name}:${at.line}`;
	}

	// place is a button that opens a place in the editor, or copies it where none is stated.
	place(at, text = this.placeText(at)) {
		const b = element("button", "place", text);
		b.type = "button";
		if (text !== this.placeText(at)) b.setAttribute("aria-label", this.placeText(at));
		b.title = this.shown.editor ? "open in the editor" : "copy";
		b.addEventListener("click", () => (this.shown.editor ? this.open(at, b) : this.copy(at, b)));
		return b;
	}

	async open(at, by) {
		const body = JSON.stringify({ design: this.index, file: at.file, line: at.line, column: at.column });
		const answer = await fetch("/open", { method: "POST", headers: { "Content-Type": "application/json" }, body });
		const note = answer.ok ? "" : (await answer.text()) || "that file can't be opened: it is a part of the shelf";
		by.parentNode.querySelector(".failed")?.remove();
		if (note) by.after(element("span", "failed", ` ${note}`));
	}

	async copy(at, by) {
		await navigator.clipboard?.writeText(this.placeText(at)).catch(() => {});
		by.after(element("span", "copied", " copied"));
		setTimeout(() => by.parentNode?.querySelector(".copied")?.remove(), 1500);
	}

	// select tells of a dimension or a shape, and where it stands.
	select(item) {
		this.selected = item;
		this.tell();
		this.drawing.mark(item);
		if (item && item.at && this.shown.editor && item.clicked) this.open(item.at, this.parts.told.firstElementChild);
	}

	// current is the selected thing as it is now; null where it is gone.
	current() {
		if (!this.selected || !this.scene) return null;
		if (this.selected.value === undefined) return this.selected;
		const value = (this.scene.values || []).findIndex((v) => v.name === this.selected.name);
		return value < 0 ? null : { ...this.selected, value, at: this.scene.values[value].at };
	}

	tell() {
		const { told } = this.parts;
		const item = this.current();
		if (!item) {
			told.replaceChildren(element("p", "none", "Point at a line or a dimension, or go there by the arrow keys; a click tells its line in the text."));
			return;
		}
		const lines = [element("p", "", element("b", "", item.name), " ", ...this.saying(item))];
		if (item.at) {
			lines.push(element("p", "", element("code", "source", item.at.text.trim()), this.place(item.at)));
		}
		told.replaceChildren(...lines);
		if (item.value !== undefined) this.why(item.name);
	}

	// saying is what there is to say of a thing in one line.
	saying(item) {
		if (item.value === undefined) return [item.about];
		const v = this.scene.values[item.value];
		return [element("span", "value", v.text + (v.within ? ` ± ${v.within}` : "")), ` (${v.from})`];
	}

	async why(name) {
		const answer = await fetch(`/designs/${this.index}/why?name=${encodeURIComponent(name)}`).catch(() => null);
		if (!answer || !answer.ok || this.selected?.name !== name) return;
		const text = await answer.text();
		if (this.selected?.name !== name) return;
		this.parts.told.querySelector("pre")?.remove();
		this.parts.told.append(element("pre", "", text.trimEnd()));
	}

	// table fills the table of dimensions as soon as somebody looks at it.
	table() {
		const { values, rows } = this.parts;
		const all = (this.scene && this.scene.values) || [];
		values.querySelector("summary").textContent = `All dimensions (${all.length})`;
		if (!values.open || this.filled) return;
		this.filled = true;
		const focused = rows.contains(document.activeElement) ? document.activeElement.textContent : null;
		rows.replaceChildren(...all.map((v, value) => this.row(v, value)));
		this.filter();
		if (focused) [...rows.querySelectorAll("button")].find((b) => b.textContent === focused)?.focus();
	}

	row(v, value) {
		const name = element("button", "place", v.name);
		name.type = "button";
		const item = { name: v.name, value, at: v.at };
		const hot = (on) => () => {
			tr.classList.toggle("hot", on);
			this.drawing.mark(on ? item : this.current());
		};
		name.addEventListener("click", () => this.select(item));
		name.addEventListener("focus", () => hot(true)());
		name.addEventListener("blur", () => hot(false)());
		const tr = element("tr", "", element("td", "", name), element("td", "value", v.text), element("td", "value", v.within),
			element("td", "", v.from), element("td", "", ...(v.at ? [this.place(v.at, this.lineText(v.at))] : [])));
		tr.addEventListener("pointerenter", hot(true));
		tr.addEventListener("pointerleave", hot(false));
		return tr;
	}

	filter() {
		const word = this.parts.search.value.trim().toLowerCase();
		for (const tr of this.parts.rows.children) tr.hidden = !tr.firstChild.textContent.toLowerCase().includes(word);
	}
}

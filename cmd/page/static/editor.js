// The editor: a plain text area, so that all that a browser and its helpers do with
// text works, over a copy of the text that shows marks, beside the numbers of the lines.

const words = { error: "error", warning: "warning", note: "note" };

export class Editor {
	#area; #under; #gutter;
	#marks = [];

	// changed is called after each change that a person makes, moved when the caret
	// comes to another line.
	constructor(area, under, gutter, changed, moved) {
		[this.#area, this.#under, this.#gutter] = [area, under, gutter];
		let line = 0;
		area.addEventListener("input", () => {
			this.#marks = []; // their places are those of the text before
			this.#draw();
			changed();
		});
		area.addEventListener("scroll", () => this.#follow());
		area.addEventListener("keydown", (event) => this.#indent(event));
		document.addEventListener("selectionchange", () => {
			if (document.activeElement === area && line !== (line = this.line)) moved(line);
		});
	}

	get text() { return this.#area.value; }

	// line is that of the caret, from 1.
	get line() { return this.#area.value.slice(0, this.#area.selectionStart).split("\n").length; }

	show(text) {
		this.#area.value = text;
		this.#area.setSelectionRange(0, 0);
		this.#area.scrollTop = this.#area.scrollLeft = 0;
		this.#marks = [];
		this.#draw();
	}

	// mark shows where something is to be told: { severity, line, from, to, message }.
	mark(marks) {
		this.#marks = marks;
		this.#draw();
	}

	// select goes to a stretch of the text.
	select(from, to) {
		const before = this.#area.value.slice(0, from).split("\n");
		const { lineHeight, fontSize } = getComputedStyle(this.#area);
		const left = before.at(-1).length * parseFloat(fontSize) * 0.6; // about as wide as a character
		const width = this.#area.clientWidth;
		this.#area.focus();
		this.#area.setSelectionRange(from, to);
		this.#area.scrollTop = Math.max(0, (before.length - 4) * parseFloat(lineHeight));
		this.#area.scrollLeft = left < 0.8 * width ? 0 : left - width / 2;
	}

	// replace writes text in place of a stretch, as if it were typed: it can be undone.
	replace(from, to, text) {
		this.select(from, to);
		const done = text === "" ? document.execCommand("delete") : document.execCommand("insertText", false, text);
		if (!done) {
			this.#area.setRangeText(text, from, to, "end");
			this.#area.dispatchEvent(new Event("input"));
		}
	}

	// replaceAll writes the whole text anew, and stays where the person was in it.
	replaceAll(text) {
		const line = this.line, top = this.#area.scrollTop;
		this.replace(0, this.#area.value.length, text);
		const start = text.split("\n").slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
		this.#area.setSelectionRange(start, start);
		this.#area.scrollTop = top;
	}

	// indent begins a new line as far in as the one before it, and one step further after
	// a brace.
	#indent(event) {
		const { value, selectionStart: at, selectionEnd: end } = this.#area;
		if (event.key !== "Enter" || event.isComposing || event.ctrlKey || event.altKey || event.metaKey || at !== end) return;
		const line = value.slice(value.lastIndexOf("\n", at - 1) + 1, at);
		const blank = line.match(/^ */)[0] + (/\{\s*$/.test(line) ? "  " : "");
		if (blank !== "" && document.execCommand("insertText", false, "\n" + blank)) event.preventDefault();
	}

	#draw() {
		const text = this.#area.value;
		const lines = text.split("\n").length;
		const worst = new Map(); // of each line
		for (const m of this.#marks) worst.set(m.line, worst.has(m.line) ? [...worst.get(m.line), m] : [m]);
		this.#gutter.replaceChildren(...Array.from({ length: lines }, (_, i) => {
			const number = document.createElement("span");
			number.textContent = i + 1;
			const of = worst.get(i + 1);
			if (of) {
				number.className = Object.keys(words).find((s) => of.some((m) => m.severity === s));
				number.title = of.map((m) => m.message).join("\n");
			}
			return number;
		}));
		this.#under.replaceChildren();
		let at = 0;
		for (const m of [...this.#marks].sort((a, b) => a.from - b.from)) {
			const from = Math.max(at, m.from), to = Math.min(Math.max(m.to, m.from + 1), text.length);
			if (to <= from) continue;
			const mark = document.createElement("mark");
			mark.className = m.severity;
			mark.textContent = text.slice(from, to);
			this.#under.append(text.slice(at, from), mark);
			at = to;
		}
		this.#under.append(text.slice(at) + "\n");
		this.#follow();
	}

	#follow() {
		this.#under.scrollTop = this.#gutter.scrollTop = this.#area.scrollTop;
		this.#under.scrollLeft = this.#area.scrollLeft;
	}
}

// What there is to tell of a design, as a list.

function element(name, text, className) {
	const e = document.createElement(name);
	if (text !== undefined) e.textContent = text;
	if (className) e.className = className;
	return e;
}

// showNotes fills a list with notes. go is told a place to go to, mend a fix to make;
// known says whether a file can be gone to, and what it is called beside the design.
export function showNotes(list, notes, { go, mend, known, shown }) {
	const place = (at) => {
		const name = at.file === shown ? `line ${at.line}` : `${at.file}, line ${at.line}`;
		if (!known(at.file)) return element("span", name, "place");
		const button = element("button", name, "place");
		button.type = "button";
		button.addEventListener("click", () => go(at));
		return button;
	};
	list.replaceChildren(...notes.map((note) => {
		const item = element("li", undefined, note.severity);
		const said = element("p");
		if (note.at) {
			item.dataset.file = note.at.file;
			item.dataset.line = note.at.line;
			said.append(place(note.at), " ");
		}
		said.append(element("strong", note.severity), ": " + note.message);
		item.append(said);
		for (const more of note.more ?? []) {
			const also = element("p", undefined, "more");
			if (more.at) also.append(place(more.at), " ");
			also.append(more.message);
			item.append(also);
		}
		if (note.help) item.append(element("p", "hint: " + note.help, "help"));
		for (const fix of note.fixes ?? []) {
			if (!known(fix.at.file)) continue;
			const button = element("button", fix.was ? `Write ${fix.text} for ${fix.was}` : `Add ${fix.text}`);
			button.type = "button";
			button.addEventListener("click", () => mend(fix));
			item.append(button);
		}
		if (note.means) {
			const means = element("details");
			means.append(element("summary", note.code), element("p", note.means));
			item.append(means);
		}
		return item;
	}));
}

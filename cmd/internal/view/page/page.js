// The page as a whole: which designs there are, what is shown of all of them, and
// the stream that tells which are new.
import { Design } from "/design.js";

const find = (id) => document.getElementById(id);

// What is shown of every design; each design looks here when it draws itself.
const shown = { operations: new Map(), names: true, readings: false, lines: "board", doing: "look", editor: false };
const operations = ["engrave", "mark", "score", "cut", "guide"];
let designs = [];

function redraw() {
	for (const d of designs) d.redraw();
}

function operationSwitches() {
	for (const name of operations) {
		shown.operations.set(name, true);
		const label = document.createElement("label");
		const box = Object.assign(document.createElement("input"), { type: "checkbox", checked: true, name });
		box.addEventListener("change", () => {
			shown.operations.set(name, box.checked);
			redraw();
		});
		label.append(box, swatch(name), name);
		find("operations").append(label);
	}
}

// swatch shows how the lines of an operation look.
function swatch(name) {
	const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
	svg.setAttribute("class", "swatch shapes");
	svg.setAttribute("viewBox", "0 0 24 12");
	svg.setAttribute("aria-hidden", "true");
	const figure = name === "engrave" ? `<rect x="1" y="3" width="22" height="6"/>` : `<line x1="0" x2="24" y1="6" y2="6"/>`;
	svg.innerHTML = `<g data-operation="${name}"><g>${figure}</g></g>`;
	return svg;
}

function switches() {
	operationSwitches();
	for (const name of ["names", "readings"]) {
		find(name).addEventListener("change", (e) => {
			shown[name] = e.target.checked;
			redraw();
		});
	}
	find("lines").addEventListener("change", (e) => {
		shown.lines = e.target.value;
		redraw();
	});
	for (const radio of document.getElementsByName("doing")) {
		radio.addEventListener("change", () => {
			shown.doing = radio.value;
			redraw();
		});
	}
	find("tools").open = window.matchMedia("(min-width: 48rem)").matches;
}

// designSwitches lets several designs be put away and taken out again.
function designSwitches() {
	find("which").hidden = designs.length < 2;
	for (const d of designs) {
		const label = document.createElement("label");
		const box = Object.assign(document.createElement("input"), { type: "checkbox", checked: true });
		box.addEventListener("change", () => {
			d.article.hidden = !box.checked;
			redraw();
		});
		label.append(box, d.name);
		find("which").append(label);
	}
}

function linked(text, lost) {
	const link = find("link");
	if (link.textContent !== text) link.textContent = text;
	link.classList.toggle("lost", lost);
}

// follow asks for each design anew as soon as it has another revision. A server that
// was started again counts from 1, so after each connection all are asked for.
function follow() {
	const events = new EventSource("/events");
	let fresh = true;
	events.addEventListener("open", () => {
		fresh = true;
		linked("live", false);
	});
	events.addEventListener("error", () => linked("not connected: is foredge view still running?", true));
	events.addEventListener("revisions", (e) => {
		JSON.parse(e.data).forEach((revision, i) => {
			if (revision > 0 && designs[i]) designs[i].want(revision, fresh);
		});
		fresh = false;
	});
}

async function start() {
	switches();
	const answer = await fetch("/designs");
	const about = await answer.json();
	shown.editor = about.editor;
	designs = about.designs.map((name, i) => new Design(i, name, shown));
	find("designs").append(...designs.map((d) => d.article));
	document.title = about.designs.join(", ") + " - foredge";
	designSwitches();
	follow();
}

start().catch(() => linked("not connected: is foredge view still running?", true));

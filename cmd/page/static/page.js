import { Compiler, get } from "./compiler.js";
import { Editor } from "./editor.js";
import { offerFiles, showDrawings } from "./drawing.js";
import { showNotes } from "./notes.js";

const $ = (id) => document.getElementById(id);
const pause = 150; // ms without a key before a text is built

const files = new Map(); // by name: { bytes, first, about, design, mine }, first as it was opened
let compiler;
let design = ""; // the file that is built
let shown = ""; // the file that is in the editor
let answer = { notes: [], reads: [] };
let toSend = new Set(); // files that the compiler doesn't have as they are here
let pending = 0, busy = false, again = false, saving = "";

const text = (name) => new TextDecoder().decode(files.get(name).bytes);
const isText = (name) => files.has(name) && /\.(fore|svg|csv|tsv|txt)$/i.test(name);
const changed = (file) => file.bytes !== file.first;

const editor = new Editor($("text"), document.querySelector(".under"), document.querySelector(".gutter"), () => {
	write(shown, editor.text);
	clearTimeout(pending);
	pending = setTimeout(build, pause);
}, here);

// write puts a text into a file.
function write(name, text) {
	files.get(name).bytes = new TextEncoder().encode(text);
	toSend.add(name);
	$("restore").disabled = false;
	offerText();
}

// build builds the design once more, after what is under way.
async function build() {
	if (busy) {
		again = true;
		return;
	}
	busy = true;
	do {
		again = false;
		const asked = design;
		const slow = setTimeout(() => { $("state").textContent = "At work."; }, 400);
		const sent = [...toSend].map((name) => ({ name, bytes: files.get(name).bytes }));
		toSend = new Set();
		let got;
		try {
			got = await compiler.ask({ build: asked, files: sent });
		} catch (error) {
			got = null;
		}
		clearTimeout(slow);
		if (!again && asked === design) show(got);
	} while (again);
	busy = false;
	document.body.dataset.built = Number(document.body.dataset.built ?? 0) + 1;
}

// show shows what became of the design.
function show(got) {
	if (got === null) {
		$("state").textContent = "The compiler gave up on this text and was started anew. Please report the text: this is a fault of foredge.";
		return;
	}
	answer = got.answer;
	const made = answer.files.map((name, i) => ({ name, bytes: got.files[i] }));
	const errors = answer.notes.filter((n) => n.severity === "error").length;
	const warnings = answer.notes.filter((n) => n.severity === "warning").length;
	const count = (n, word) => (n === 0 ? "" : `${n} ${word}${n === 1 ? "" : "s"}`);
	const counts = [count(errors, "error"), count(warnings, "warning")].filter(Boolean).join(", ");
	$("state").textContent = `${design}: ${counts || (made.length > 0 ? "no errors" : "nothing to draw")}.`;
	$("state").className = errors > 0 ? "error" : warnings > 0 ? "warning" : "";
	$("stale").hidden = errors === 0 || $("drawings").childElementCount === 0;
	$("drawings").classList.toggle("stale", errors > 0);
	if (errors === 0) showDrawings($("drawings"), made);
	offerFiles($("downloads"), made);
	$("sizes").hidden = answer.sizes === "";
	if (answer.sizes !== "") $("sizes").querySelector("pre").textContent = answer.sizes;
	listTexts();
	showTold();
}

// showTold shows the notes, in the list and in the text.
function showTold() {
	showNotes($("notes"), answer.notes, { go, mend, known: isText, shown });
	editor.mark(answer.notes.filter((n) => n.at?.file === shown).map((n) => ({ ...n.at, severity: n.severity, message: n.message })));
	$("text").ariaInvalid = answer.notes.some((n) => n.severity === "error" && n.at?.file === shown);
	here(editor.line);
}

// here points out what is told of a line.
function here(line) {
	for (const item of $("notes").children) {
		item.classList.toggle("here", item.dataset.file === shown && Number(item.dataset.line) === line);
	}
}

function go(at) {
	if (at.file !== shown) edit(at.file);
	editor.select(at.from, at.to);
}

function mend(fix) {
	if (fix.at.file !== shown) edit(fix.at.file);
	editor.replace(fix.at.from, fix.at.to, fix.text);
}

// edit puts a file into the editor.
function edit(name) {
	shown = name;
	editor.show(text(name));
	listTexts();
	offerText();
	$("lay-out").disabled = !name.endsWith(".fore");
	showTold();
}

// offerText offers the text in the editor to be saved.
function offerText() {
	URL.revokeObjectURL(saving);
	saving = URL.createObjectURL(new Blob([files.get(shown).bytes], { type: "text/plain" }));
	Object.assign($("save"), { href: saving, download: shown.split("/").pop(), hidden: false });
}

// listTexts lists the texts that the design is read from.
function listTexts() {
	const names = [...new Set([design, ...answer.reads.filter(isText), shown])];
	if (names.join() !== [...$("texts").options].map((o) => o.value).join()) {
		$("texts").replaceChildren(...names.map((name) => new Option(name, name)));
	}
	$("texts").value = shown;
}

function listDesigns() {
	const group = (label, of) => {
		const names = [...files.keys()].filter((name) => files.get(name).design && of(files.get(name)));
		if (names.length === 0) return [];
		const g = document.createElement("optgroup");
		g.label = label;
		g.append(...names.map((name) => new Option(name.replace(/\.fore$/, ""), name)));
		return [g];
	};
	$("designs").replaceChildren(...group("Yours", (f) => f.mine), ...group("Examples", (f) => !f.mine));
}

// choose builds another design.
function choose(name) {
	design = name;
	answer = { notes: [], reads: [] };
	$("drawings").replaceChildren();
	$("designs").value = name;
	$("about").textContent = files.get(name).about ?? "";
	edit(name);
	return build();
}

// open takes files of a person's own.
async function open(list) {
	let first = "";
	for (const file of list) {
		let bytes = new Uint8Array(await file.arrayBuffer());
		if (/\.(fore|csv|tsv|txt)$/i.test(file.name)) { // an editor has only one way to end a line
			bytes = new TextEncoder().encode(new TextDecoder().decode(bytes).replaceAll("\r\n", "\n"));
		}
		const isDesign = file.name.endsWith(".fore");
		files.set(file.name, { bytes, first: bytes, design: isDesign, mine: true });
		toSend.add(file.name);
		if (isDesign && first === "") first = file.name;
	}
	listDesigns();
	await choose(first || design);
}

// restore takes all changes back.
function restore() {
	for (const [name, file] of files) {
		if (!changed(file)) continue;
		file.bytes = file.first;
		toSend.add(name);
	}
	$("restore").disabled = true;
	edit(shown);
	build();
}

async function layOut() {
	const name = shown, before = editor.text;
	const got = await compiler.ask({ layOut: name, text: before });
	if (shown !== name || editor.text !== before) return;
	if (!got?.laid) $("state").textContent = `${name} can't be laid out before its errors are mended.`;
	else if (got.laid === before) $("state").textContent = `${name} is laid out.`;
	else editor.replaceAll(got.laid);
}

async function start() {
	for (const e of await (await get("examples.json")).json()) {
		const bytes = Uint8Array.from(atob(e.text), (c) => c.charCodeAt(0));
		files.set(e.name, { bytes, first: bytes, about: e.about, design: e.design, mine: false });
	}
	const all = () => [...files].map(([name, { bytes }]) => ({ name, bytes }));
	compiler = await Compiler.fetched(all, (size) => {
		$("state").textContent = `The compiler is being fetched: ${(size / 2 ** 20).toFixed(1)} MiB.`;
	});
	$("designs").addEventListener("change", (event) => choose(event.target.value));
	$("texts").addEventListener("change", (event) => edit(event.target.value));
	$("open").addEventListener("click", () => $("files").click());
	$("files").addEventListener("change", (event) => open(event.target.files));
	$("lay-out").addEventListener("click", layOut);
	$("restore").addEventListener("click", restore);
	$("actual").addEventListener("change", (event) => $("drawings").classList.toggle("actual", event.target.checked));
	window.addEventListener("beforeunload", (event) => {
		if ([...files.values()].some(changed)) event.preventDefault();
	});
	listDesigns();
	for (const id of ["designs", "texts", "open", "text"]) $(id).disabled = false;
	await choose(files.has("harbour-log.fore") ? "harbour-log.fore" : $("designs").options[0].value);
}

start().catch((error) => {
	$("state").textContent = `The page can't start: ${error.message}`;
	$("state").className = "error";
});

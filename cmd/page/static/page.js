import { Compiler, get } from "./compiler.js";
import { Editor } from "./editor.js";
import { offerFiles, showDrawings } from "./drawing.js";
import { showNotes } from "./notes.js";

const $ = (id) => document.getElementById(id);
const pause = 150; // ms without a key before a text is built

// By path: { bytes, first, about, design, mine, foreign }, first as it was opened; foreign is
// in no encoding that can be edited here. Examples lie in the folder "examples", what a person
// opens in "yours", so that neither reads the other.
const files = new Map();
let compiler;
let design = ""; // path of the file that is built
let shown = ""; // path of the file that is in the editor
let answer = { notes: [], reads: [] };
let toSend = new Set(); // files that the compiler doesn't have as they are here
let pending = 0, busy = false, again = false, saving = "";

const nameOf = (path) => path.slice(path.indexOf("/") + 1); // as the compiler calls it
const folderOf = (path) => path.slice(0, path.indexOf("/"));
const pathOf = (name) => `${folderOf(design)}/${name}`; // of what the compiler speaks of
const text = (path) => new TextDecoder().decode(files.get(path).bytes);
const isText = (path) => files.has(path) && /\.(fore|svg|csv|tsv|txt)$/i.test(path);
const changed = (file) => file.bytes !== file.first;

const editor = new Editor($("text"), document.querySelector(".under"), document.querySelector(".gutter"), () => {
	write(shown, editor.text);
	clearTimeout(pending);
	pending = setTimeout(build, pause);
}, here);

// write puts a text into a file.
function write(path, text) {
	files.get(path).bytes = new TextEncoder().encode(text);
	toSend.add(path);
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
			got = await compiler.ask({ build: nameOf(asked), folder: folderOf(asked), files: sent });
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
	$("state").textContent = `${nameOf(design)}: ${counts || (made.length > 0 ? "no errors" : "nothing to draw")}.`;
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

// lacks reports whether a note is about a file that isn't there.
const lacks = (note) => note.message.startsWith("there is no file ");

// showTold shows the notes, in the list and in the text.
function showTold() {
	const name = nameOf(shown);
	const notes = answer.notes.map((n) => lacks(n) && files.get(design).mine
		? { ...n, help: [n.help, "Open it, too; what lies in a folder is found if that is opened as a whole."].filter(Boolean).join(". ") } : n);
	showNotes($("notes"), notes, { go, mend, known: (name) => isText(pathOf(name)), shown: name });
	editor.mark(notes.filter((n) => n.at?.file === name).map((n) => ({ ...n.at, severity: n.severity, message: n.message })));
	$("text").ariaInvalid = notes.some((n) => n.severity === "error" && n.at?.file === name);
	here(editor.line);
}

// here points out what is told of a line.
function here(line) {
	for (const item of $("notes").children) {
		item.classList.toggle("here", item.dataset.file === nameOf(shown) && Number(item.dataset.line) === line);
	}
}

function go(at) {
	if (pathOf(at.file) !== shown) edit(pathOf(at.file));
	editor.select(at.from, at.to);
}

function mend(fix) {
	if (pathOf(fix.at.file) !== shown) edit(pathOf(fix.at.file));
	editor.replace(fix.at.from, fix.at.to, fix.text);
}

// edit puts a file into the editor.
function edit(path) {
	shown = path;
	editor.show(text(path));
	$("text").readOnly = files.get(path).foreign === true;
	listTexts();
	offerText();
	$("lay-out").disabled = $("text").readOnly || !/\.fore$/i.test(path);
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
	const paths = [...new Set([design, ...answer.reads.map(pathOf).filter(isText), shown])];
	if (paths.join() !== [...$("texts").options].map((o) => o.value).join()) {
		$("texts").replaceChildren(...paths.map((path) => new Option(nameOf(path), path)));
	}
	$("texts").value = shown;
}

function listDesigns() {
	const group = (label, of) => {
		const paths = [...files.keys()].filter((path) => files.get(path).design && of(files.get(path)));
		if (paths.length === 0) return [];
		const g = document.createElement("optgroup");
		g.label = label;
		g.append(...paths.map((path) => new Option(nameOf(path).replace(/\.fore$/i, ""), path)));
		return [g];
	};
	$("designs").replaceChildren(...group("Yours", (f) => f.mine), ...group("Examples", (f) => !f.mine));
}

// choose builds another design.
function choose(path) {
	design = path;
	answer = { notes: [], reads: [] };
	$("drawings").replaceChildren();
	$("designs").value = path;
	$("about").textContent = files.get(path).about ?? "";
	edit(path);
	return build();
}

// What of a folder a design may read.
const readable = /\.(fore|svg|png|jpe?g|csv|tsv|txt|ttf|otf)$/i;

// open takes files of a person's own; those of a folder are called by their place in it.
async function open(list) {
	let first = "";
	for (const file of list) {
		const name = file.webkitRelativePath || file.name;
		if (file.webkitRelativePath !== "" && (!readable.test(name) || /(^|\/)\./.test(name))) continue;
		const path = `yours/${name}`;
		const before = files.get(path);
		const opened = await taken(file);
		if (before && changed(before) && !same(before.bytes, opened.bytes) &&
			!confirm(`The text of ${name} in this page isn't saved. Replace it by the file?`)) continue;
		const isDesign = /\.fore$/i.test(name);
		files.set(path, { ...opened, first: opened.bytes, design: isDesign, mine: true });
		toSend.add(path);
		if (isDesign && first === "") first = path;
	}
	listDesigns();
	const lacked = files.get(design).mine && answer.notes.some(lacks);
	await choose(lacked ? design : first || design);
}

const same = (a, b) => a.length === b.length && a.every((byte, i) => byte === b[i]);

// taken is what is in a file. A text that isn't UTF-8 stays as it is: the compiler says so
// of a design, and reads the tables of orders that come from offices.
async function taken(file) {
	const bytes = new Uint8Array(await file.arrayBuffer());
	if (!/\.(fore|svg|csv|tsv|txt)$/i.test(file.name)) return { bytes };
	try {
		const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
		// An editor has only one way to end a line.
		return { bytes: /\.svg$/i.test(file.name) ? bytes : new TextEncoder().encode(text.replaceAll("\r\n", "\n")) };
	} catch {
		return { bytes, foreign: true };
	}
}

// restore takes all changes back.
function restore() {
	for (const [path, file] of files) {
		if (!changed(file)) continue;
		file.bytes = file.first;
		toSend.add(path);
	}
	$("restore").disabled = true;
	edit(shown);
	build();
}

async function layOut() {
	const path = shown, name = nameOf(path), before = editor.text;
	const got = await compiler.ask({ layOut: name, text: before });
	if (shown !== path || editor.text !== before) return;
	if (!got?.laid) $("state").textContent = `${name} can't be laid out before its errors are mended.`;
	else if (got.laid === before) $("state").textContent = `${name} is laid out.`;
	else editor.replaceAll(got.laid);
}

async function start() {
	for (const e of await (await get("examples.json")).json()) {
		const bytes = Uint8Array.from(atob(e.text), (c) => c.charCodeAt(0));
		files.set(`examples/${e.name}`, { bytes, first: bytes, about: e.about, design: e.design, mine: false });
	}
	const all = () => [...files].map(([name, { bytes }]) => ({ name, bytes }));
	compiler = await Compiler.fetched(all, (size) => {
		$("state").textContent = `The compiler is being fetched: ${(size / 2 ** 20).toFixed(1)} MiB.`;
	});
	$("designs").addEventListener("change", (event) => choose(event.target.value));
	$("texts").addEventListener("change", (event) => edit(event.target.value));
	for (const [button, input] of [["open", "files"], ["open-folder", "folder"]]) {
		$(button).addEventListener("click", () => {
			$(input).value = ""; // so that the same can be opened again
			$(input).click();
		});
		$(input).addEventListener("change", (event) => open(event.target.files));
	}
	$("lay-out").addEventListener("click", layOut);
	$("restore").addEventListener("click", restore);
	$("actual").addEventListener("change", (event) => $("drawings").classList.toggle("actual", event.target.checked));
	window.addEventListener("beforeunload", (event) => {
		if ([...files.values()].some(changed)) event.preventDefault();
	});
	listDesigns();
	for (const id of ["designs", "texts", "open", "open-folder", "text"]) $(id).disabled = false;
	const log = "examples/harbour-log.fore";
	await choose(files.has(log) ? log : $("designs").options[0].value);
}

start().catch((error) => {
	$("state").textContent = `The page can't start: ${error.message}`;
	$("state").className = "error";
});

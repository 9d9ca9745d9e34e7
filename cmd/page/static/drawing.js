// The drawings of a design, and its files to take away.

const types = { svg: "image/svg+xml", dxf: "image/vnd.dxf" };
// operations, in the order in which a laser runs them, are the ids of the groups of a file.
const operations = ["engrave", "mark", "score", "cut", "guide"];
let addresses = []; // of the files that are offered

// showDrawings shows each SVG file among files: { name, bytes }.
export function showDrawings(place, files) {
	place.replaceChildren(...files.filter((f) => f.name.endsWith(".svg")).map(({ name, bytes }, _, all) => {
		const read = new DOMParser().parseFromString(new TextDecoder().decode(bytes), types.svg);
		const svg = document.importNode(read.documentElement, true);
		const used = operations.filter((operation) => {
			const group = svg.querySelector(`:scope > [id="${operation}"]`);
			if (group) group.dataset.operation = operation;
			return group;
		});
		for (const e of svg.querySelectorAll("[id]")) e.removeAttribute("id"); // the page has ids of its own
		svg.setAttribute("role", "img");
		svg.setAttribute("aria-label", `${name}: ${svg.querySelector("desc")?.textContent ?? ""}`);
		const figure = document.createElement("figure");
		const scroll = document.createElement("div");
		scroll.className = "scroll";
		scroll.append(svg);
		figure.append(scroll);
		const caption = document.createElement("figcaption");
		caption.textContent = (all.length > 1 ? name.replace(/\.svg$/, "") + ": " : "") + (svg.querySelector("desc")?.textContent ?? "");
		const legend = document.createElement("p");
		legend.className = "legend";
		legend.append(...used.map((operation) => {
			const entry = document.createElement("span");
			entry.dataset.operation = operation;
			entry.textContent = operation;
			return entry;
		}));
		figure.append(legend, caption);
		svg.querySelector("title")?.remove(); // it would be shown wherever the pointer rests
		return figure;
	}));
}

// offerFiles offers files to be saved.
export function offerFiles(list, files) {
	for (const address of addresses) URL.revokeObjectURL(address);
	addresses = [];
	list.replaceChildren(...files.map(({ name, bytes }) => {
		const link = document.createElement("a");
		link.className = "button";
		link.download = name;
		link.href = URL.createObjectURL(new Blob([bytes], { type: types[name.split(".").pop()] }));
		link.textContent = `Save ${name}`;
		addresses.push(link.href);
		const item = document.createElement("li");
		item.append(link, ` ${Math.ceil(bytes.length / 1024)} KiB`);
		return item;
	}));
}

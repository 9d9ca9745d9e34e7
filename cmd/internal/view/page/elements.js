// Elements of the page and of drawings, and lengths in words.

const space = "http://www.w3.org/2000/svg";

// figure makes an SVG element.
export function figure(name, attributes, ...inside) {
	const e = document.createElementNS(space, name);
	for (const [key, value] of Object.entries(attributes)) e.setAttribute(key, value);
	e.append(...inside);
	return e;
}

// element makes an element with a class and what is in it.
export function element(name, className, ...inside) {
	const e = document.createElement(name);
	if (className) e.className = className;
	e.append(...inside);
	return e;
}

// length writes a length of so many mm in the unit of the design.
export function length(mm, unit) {
	return `${Number((mm / unit.size).toFixed(unit.decimals))} ${unit.name}`;
}

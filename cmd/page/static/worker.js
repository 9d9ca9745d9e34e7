"use strict";
// The worker in which the compiler runs, after wasm_exec.js and disk.js. It is told
// { module, files } once, then { build, folder } or { layOut, text } with an id, and answers
// with the same id. Only one design is built at a time. Files that changed come with what is asked.

globalThis.compilerIsThere = () => postMessage({ ready: true });

async function start(module) {
	const go = new Go();
	const instance = await WebAssembly.instantiate(module, go.importObject);
	await go.run(instance);
	postMessage({ ended: true }); // it never ends by itself
}

onmessage = ({ data }) => {
	for (const { name, bytes } of data.files ?? []) put(name, bytes);
	if (data.module) {
		start(data.module).catch((error) => postMessage({ ended: true, why: String(error) }));
	} else if (data.build !== undefined) {
		workIn(data.folder);
		build(data.build, (answer, files) => postMessage({ id: data.id, answer: JSON.parse(answer), files }));
	} else {
		postMessage({ id: data.id, laid: layOut(data.layOut, data.text) });
	}
};

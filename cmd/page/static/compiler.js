// The compiler: a worker that is started again if it doesn't answer. All that this
// needs is fetched at the start, so it works on without the server.

const patience = 60_000; // ms, longer than any design takes that the compiler doesn't refuse

export class Compiler {
	#module;
	#code; // address of the worker's script
	#worker = null;
	#ready; // promise that the worker takes questions
	#asked = new Map(); // who waits for an answer, by number
	#next = 1;
	#disk; // gives all files, for a worker that starts

	// fetched gets all that a compiler needs. progress is told the bytes fetched.
	static async fetched(disk, progress) {
		const made = new Compiler();
		made.#disk = disk;
		const texts = ["wasm_exec.js", "disk.js", "worker.js"].map(async (name) => (await get(name)).text());
		const packed = await whole(await get("compiler.gz"), progress);
		// A server may have undone the compression itself.
		const bytes = packed[0] === 0x1f && packed[1] === 0x8b
			? await new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer()
			: packed;
		made.#module = await WebAssembly.compile(bytes);
		made.#code = URL.createObjectURL(new Blob([(await Promise.all(texts)).join("\n;\n")], { type: "text/javascript" }));
		made.#start();
		await made.#ready;
		return made;
	}

	#start() {
		this.#worker = new Worker(this.#code);
		this.#ready = new Promise((resolve, reject) => {
			this.#worker.onmessage = ({ data }) => {
				if (data.ready) return resolve();
				if (data.ended) {
					this.#stop();
					return reject(new Error(data.why ?? "the compiler ended"));
				}
				this.#asked.get(data.id)?.(data);
				this.#asked.delete(data.id);
			};
			this.#worker.onerror = (event) => {
				this.#stop();
				reject(new Error(event.message));
			};
			this.#worker.postMessage({ module: this.#module, files: this.#disk() });
		});
	}

	#stop() {
		this.#worker?.terminate();
		this.#worker = null;
		for (const tell of this.#asked.values()) tell(null);
		this.#asked.clear();
	}

	// ask gives an answer, or null if there is none: the compiler is then started anew.
	async ask(message) {
		if (this.#worker === null) this.#start();
		await this.#ready;
		const id = this.#next++;
		return new Promise((resolve) => {
			const late = setTimeout(() => this.#stop(), patience);
			this.#asked.set(id, (data) => {
				clearTimeout(late);
				resolve(data);
			});
			this.#worker.postMessage({ ...message, id });
		});
	}
}

// get fetches a file of the page.
export async function get(name) {
	const response = await fetch(name, { cache: "no-cache" });
	if (!response.ok) throw new Error(`${name} can't be fetched: ${response.status}`);
	return response;
}

async function whole(response, progress) {
	const parts = [];
	let size = 0;
	for (let reader = response.body.getReader(), step; !(step = await reader.read()).done;) {
		parts.push(step.value);
		progress(size += step.value.length);
	}
	return new Uint8Array(await new Blob(parts).arrayBuffer());
}

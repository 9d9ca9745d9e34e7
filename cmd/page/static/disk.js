"use strict";
// The disk of the compiler: files in memory, read by the calls that wasm_exec.js expects
// of a system. Nothing can be written to it but by put. The examples have a folder of their
// own, so that no design of a person's reads them.
let folder = "/examples"; // in which the compiler works
const contents = new Map(); // bytes by path

const put = (name, bytes) => contents.set(`/${name}`, bytes);
const workIn = (name) => { folder = `/${name}`; };

globalThis.process = {
	cwd: () => folder,
	getuid: () => -1, getgid: () => -1, geteuid: () => -1, getegid: () => -1, getgroups: () => [],
	pid: -1, ppid: -1, umask: () => 0o22,
};

globalThis.fs = (() => {
	const opened = new Map(); // path and place by number
	let next = 3; // after the three that every program has

	const whole = (path) => {
		const parts = [];
		for (const part of (path.startsWith("/") ? path : `${folder}/${path}`).split("/")) {
			if (part === "..") parts.pop();
			else if (part !== "" && part !== ".") parts.push(part);
		}
		return "/" + parts.join("/");
	};
	const inside = (path) => [...contents.keys()]
		.filter((file) => file.startsWith(path === "/" ? "/" : path + "/"))
		.map((file) => file.slice(path === "/" ? 1 : path.length + 1).split("/")[0]);
	const wrong = (code) => Object.assign(new Error(code), { code });
	const stat = (path) => {
		const bytes = contents.get(path);
		const isFolder = bytes === undefined;
		if (isFolder && path !== "/" && inside(path).length === 0) {
			const above = path.slice(0, path.lastIndexOf("/"));
			throw wrong(contents.has(above) ? "ENOTDIR" : "ENOENT");
		}
		return {
			dev: 0, ino: 0, nlink: 1, uid: 0, gid: 0, rdev: 0, blksize: 4096, blocks: 0, atimeMs: 0, mtimeMs: 0, ctimeMs: 0,
			mode: isFolder ? 0o040555 : 0o100444, size: isFolder ? 0 : bytes.length, isDirectory: () => isFolder,
		};
	};
	// answers makes a call of one that returns its answer or throws.
	const answers = (call) => (...args) => {
		const tell = args.pop();
		let answer;
		try {
			answer = call(...args);
		} catch (error) {
			if (!error.code) throw error;
			return tell(error);
		}
		tell(null, answer);
	};
	const refuses = answers(() => { throw wrong("EROFS"); });
	const said = new TextDecoder();
	let line = "";
	const writeSync = (_, bytes) => { // what the program says of a fault of its own
		line += said.decode(bytes, { stream: true });
		const end = line.lastIndexOf("\n");
		if (end >= 0) {
			console.error(line.slice(0, end));
			line = line.slice(end + 1);
		}
		return bytes.length;
	};
	return {
		constants: { O_WRONLY: 1, O_RDWR: 2, O_CREAT: 0o100, O_EXCL: 0o200, O_TRUNC: 0o1000, O_APPEND: 0o2000, O_DIRECTORY: 0o200000 },
		writeSync,
		write: answers((number, bytes, from, length) => writeSync(number, bytes.subarray(from, from + length))),
		stat: answers((path) => stat(whole(path))),
		lstat: answers((path) => stat(whole(path))),
		readdir: answers((path) => [...new Set(inside(whole(path)))].sort()),
		readlink: answers(() => { throw wrong("EINVAL"); }),
		open: answers((path, flags) => {
			if (flags & 3) throw wrong("EROFS");
			path = whole(path);
			stat(path);
			opened.set(next, { path, at: 0 });
			return next++;
		}),
		fstat: answers((number) => {
			if (!opened.has(number)) throw wrong("EBADF");
			return stat(opened.get(number).path);
		}),
		read: answers((number, into, from, length, at) => {
			const file = opened.get(number);
			const bytes = file && contents.get(file.path);
			if (!bytes) throw wrong(file ? "EISDIR" : "EBADF");
			const start = at ?? file.at;
			const part = bytes.subarray(start, start + length);
			into.set(part, from);
			if (at === null) file.at += part.length;
			return part.length;
		}),
		close: answers((number) => { opened.delete(number); }),
		fsync: answers(() => {}),
		chmod: refuses, chown: refuses, fchmod: refuses, fchown: refuses, ftruncate: refuses, lchown: refuses, link: refuses,
		mkdir: refuses, rename: refuses, rmdir: refuses, symlink: refuses, truncate: refuses, unlink: refuses, utimes: refuses,
	};
})();

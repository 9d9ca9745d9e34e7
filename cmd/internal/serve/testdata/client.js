// A client made of npm's vscode-languageserver-protocol, as the editors are that use it.
// Arguments: the program, the design, the text to open. Writes what came of it as JSON.
const cp = require("child_process"), fs = require("fs"), url = require("url");
const p = require("vscode-languageserver-protocol/node");
const [program, design] = process.argv.slice(2);
const text = fs.readFileSync(design, "utf8"), uri = url.pathToFileURL(design).href;
const server = cp.spawn(program, ["serve"], { stdio: ["pipe", "pipe", "inherit"] });
const c = p.createProtocolConnection(new p.StreamMessageReader(server.stdout), new p.StreamMessageWriter(server.stdin));
const trace = [];
let got; const wait = () => new Promise((r) => { got = r; });
c.onNotification(p.PublishDiagnosticsNotification.type, (d) => { trace.push(["told", d]); if (got) { const g = got; got = null; g(d); } });
c.listen();
const place = (word) => { const i = text.indexOf(word), b = text.slice(0, i); return { line: b.split("\n").length - 1, character: i - (b.lastIndexOf("\n") + 1) }; };
(async () => {
  const out = {};
  out.capabilities = Object.keys((await c.sendRequest(p.InitializeRequest.type, { processId: process.pid, rootUri: null, capabilities: {} })).capabilities).sort();
  await c.sendNotification(p.InitializedNotification.type, {});
  let told = wait();
  await c.sendNotification(p.DidOpenTextDocumentNotification.type, { textDocument: { uri, languageId: "foredge", version: 1, text } });
  out.first = (await told).diagnostics;
  const doc = { textDocument: { uri } };
  out.hover = await c.sendRequest(p.HoverRequest.type, { ...doc, position: place("inset") });
  out.symbols = await c.sendRequest(p.DocumentSymbolRequest.type, doc);
  out.folds = await c.sendRequest(p.FoldingRangeRequest.type, doc);
  out.tokens = (await c.sendRequest(p.SemanticTokensRequest.type, doc)).data.length;
  out.hints = await c.sendRequest(p.InlayHintRequest.type, { ...doc, range: { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } } });
  out.actions = await c.sendRequest(p.CodeActionRequest.type, { ...doc, range: out.first[0].range, context: { diagnostics: out.first } });
  out.completion = (await c.sendRequest(p.CompletionRequest.type, { ...doc, position: place("hieght") })).map((i) => i.label);
  out.references = await c.sendRequest(p.ReferencesRequest.type, { ...doc, position: place("margin"), context: { includeDeclaration: true } });
  try { await c.sendRequest(p.RenameRequest.type, { ...doc, position: place("width"), newName: "breadth" }); } catch (e) { out.refused = e.message; }
  out.edits = await c.sendRequest(p.DocumentFormattingRequest.type, { ...doc, options: { tabSize: 2, insertSpaces: true } });
  const change = { start: place("hieght"), end: { line: place("hieght").line, character: place("hieght").character + 6 } };
  told = wait();
  await c.sendNotification(p.DidChangeTextDocumentNotification.type, { textDocument: { uri, version: 2 }, contentChanges: [{ range: change, text: "height" }] });
  out.mended = (await told).diagnostics;
  out.nothing = await c.sendRequest(p.HoverRequest.type, { textDocument: { uri: "file:///gone.fore" }, position: { line: 0, character: 0 } });
  await c.sendRequest(p.ShutdownRequest.type);
  server.on("exit", (code) => { out.exit = code; process.stdout.write(JSON.stringify(out, null, 1).replaceAll(uri, "URI")); });
  await c.sendNotification(p.ExitNotification.type);
})().catch((e) => { console.error(e); process.exit(1); });

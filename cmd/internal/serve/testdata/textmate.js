// Colours the files it is given as editors with TextMate grammars do, and writes for each
// its stretches: line from 0, start and end in UTF-16 units, the innermost scope.
// NODE_PATH names the packages vscode-textmate and vscode-oniguruma.
const fs = require("fs"), path = require("path");
const tm = require("vscode-textmate"), onig = require("vscode-oniguruma");
const [grammarFile, ...files] = process.argv.slice(2);
const wasm = fs.readFileSync(path.join(path.dirname(require.resolve("vscode-oniguruma")), "onig.wasm")).buffer;
const lib = onig.loadWASM(wasm).then(() => ({
  createOnigScanner: (patterns) => new onig.OnigScanner(patterns),
  createOnigString: (s) => new onig.OnigString(s),
}));
const registry = new tm.Registry({
  onigLib: lib,
  loadGrammar: async (scope) => scope === "source.foredge" ? tm.parseRawGrammar(fs.readFileSync(grammarFile, "utf8"), grammarFile) : null,
});
registry.loadGrammar("source.foredge").then((grammar) => {
  const out = {};
  for (const file of files) {
    const all = [];
    let stack = tm.INITIAL;
    fs.readFileSync(file, "utf8").split("\n").forEach((line, n) => {
      const r = grammar.tokenizeLine(line.replace(/\r$/, ""), stack);
      for (const t of r.tokens) {
        const scope = t.scopes[t.scopes.length - 1];
        if (scope !== "source.foredge") all.push([n, t.startIndex, t.endIndex, scope]);
      }
      stack = r.ruleStack;
    });
    out[file] = all;
  }
  process.stdout.write(JSON.stringify(out));
});

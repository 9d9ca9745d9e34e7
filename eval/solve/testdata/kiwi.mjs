// Solves a system of linear equations, limits and wishes by the Cassowary
// algorithm of @lume/kiwi. Standard input and output are JSON; argument 1 is
// the file of the module.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const kiwi = await import(pathToFileURL(process.argv[2]).href);
const k = kiwi.Solver ? kiwi : kiwi.default;
const { vars, rows } = JSON.parse(readFileSync(0, "utf8"));
const operators = { "=": k.Operator.Eq, ">=": k.Operator.Ge, "<=": k.Operator.Le };

const start = process.hrtime.bigint();
const xs = Array.from({ length: vars }, () => new k.Variable());
const solver = new k.Solver();
for (const { at, by, right, sign, wish } of rows) {
  const terms = at.map((v, i) => [by[i], xs[v]]);
  solver.addConstraint(new k.Constraint(new k.Expression(...terms), operators[sign], right,
    wish ? k.Strength.weak : k.Strength.required));
}
solver.updateVariables();
const seconds = Number(process.hrtime.bigint() - start) / 1e9;
process.stdout.write(JSON.stringify({ x: xs.map((x) => x.value()), seconds }));

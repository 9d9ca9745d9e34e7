# Says of each set of rows over n unknowns, none negative unless signed,
# whether it can hold with the background rows: with all of the set, and with
# each member left out. A row is [terms, sense, right] with terms {index: k}.
import json
import sys

from scipy.optimize import linprog
from scipy.sparse import coo_matrix


def holds(n, rows):
    parts = {"=": ([], [], [], []), ">": ([], [], [], [])}
    for terms, sense, b in rows:
        k = 1.0 if sense != "<" else -1.0
        i, j, v, right = parts["=" if sense == "=" else ">"]
        for c, x in terms.items():
            i.append(len(right))
            j.append(int(c))
            v.append(k * x)
        right.append(k * b)

    def matrix(p, s):
        i, j, v, right = p
        if not right:
            return None, None
        return coo_matrix(([s * x for x in v], (i, j)), shape=(len(right), n)).tocsr(), [s * b for b in right]

    a, b = matrix(parts["="], 1.0)
    g, h = matrix(parts[">"], -1.0)
    r = linprog([0.0] * n, A_eq=a, b_eq=b, A_ub=g, b_ub=h, bounds=[(0, None)] * n, method="highs",
                options={"primal_feasibility_tolerance": 1e-8})
    return r.status == 0


out = []
for p in json.load(sys.stdin):
    n, own, members = p["n"], p["own"], p["members"]
    out.append({"all": holds(n, own + members),
                "without": [holds(n, own + members[:i] + members[i + 1:]) for i in range(len(members))]})
json.dump(out, sys.stdout)

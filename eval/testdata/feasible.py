# Says of each system of rows over n unknowns whether it can hold. The unknowns
# named in "free" may be negative. A row is [terms, sense, right] with terms
# {index: k}. The linear programme is SciPy's linprog by HiGHS.
import json
import sys

from scipy.optimize import linprog
from scipy.sparse import coo_matrix


def holds(n, free, rows):
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

    bounds = [(0, None)] * n
    for v in free:
        bounds[v] = (None, None)
    a, b = matrix(parts["="], 1.0)
    g, h = matrix(parts[">"], -1.0)
    r = linprog([0.0] * n, A_eq=a, b_eq=b, A_ub=g, b_ub=h, bounds=bounds, method="highs",
                options={"primal_feasibility_tolerance": 1e-8})
    return r.status == 0


json.dump([holds(p["n"], p["free"], p["rows"]) for p in json.load(sys.stdin)], sys.stdout)

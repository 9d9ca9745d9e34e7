# Adjusts readings under equations with SciPy's sparse solver: the equations of
# Lagrange of min |(D x - y)/u|² with A x = c, factored by SuperLU. Gives the
# values, their standard uncertainties (from the inverse), and the time that
# each took.
import json
import sys
import time

import numpy as np
from scipy.sparse import bmat, coo_matrix
from scipy.sparse.linalg import splu

p = json.load(sys.stdin)
n = p["n"]
a = coo_matrix((p["av"], (p["ai"], p["aj"])), shape=(p["am"], n)).tocsr()
d = coo_matrix((p["dv"], (p["di"], p["dj"])), shape=(p["dm"], n)).tocsr()
y, u = np.array(p["y"]), np.array(p["u"])
best, spread = np.inf, np.inf
for _ in range(5):
    start = time.perf_counter()
    w = coo_matrix((1 / u, (range(len(u)), range(len(u))))).tocsr() @ d
    k = splu(bmat([[w.T @ w, a.T], [a, None]]).tocsc())
    x = k.solve(np.concatenate([w.T @ (y / u), np.array(p["c"])]))[:n]
    best = min(best, time.perf_counter() - start)
start = time.perf_counter()
var = np.zeros(n)
for i in range(0, n, 200):
    m = min(n, i + 200)
    e = np.zeros((n + p["am"], m - i))
    e[range(i, m), range(m - i)] = 1
    var[i:m] = k.solve(e)[range(i, m), range(m - i)]
spread = time.perf_counter() - start
json.dump({"x": list(x), "u": list(np.sqrt(np.maximum(var, 0))), "seconds": best, "spread": spread}, sys.stdout)

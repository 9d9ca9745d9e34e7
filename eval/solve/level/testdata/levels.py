# Solves systems level by level with SciPy: HiGHS for what is linear, SLSQP for
# the wishes. Reads a list of problems, writes a list of outcomes.
import json
import sys

import numpy as np
from scipy.optimize import linprog, minimize

TIGHT = {"primal_feasibility_tolerance": 1e-9, "dual_feasibility_tolerance": 1e-9}


def lp(c, p, n, extra=None):
    eq, be = list(p["eq"]), list(p["be"])
    ub, bu = [[-x for x in r] for r in p["ge"]], [-b for b in p["bg"]]
    for row, b in extra or []:
        eq, be = eq + [row], be + [b]
    return linprog(c, A_eq=eq or None, b_eq=be or None, A_ub=ub or None, b_ub=bu or None,
                   bounds=[(0, None)] * n, method="highs", options=TIGHT)


def extreme(row, p, n, extra, sign):
    r = lp([sign * x for x in row], p, n, extra)
    if r.status == 3:
        return None
    if r.status != 0:
        raise RuntimeError(r.message)
    return sign * r.fun


def solve(p):
    n = p["n"]
    r = lp([0.0] * n, p, n)
    out = {"feasible": r.status == 0}
    if r.status != 0:
        return out
    wishes, goal = np.array(p["wish"]).reshape(-1, n), np.array(p["goal"])
    weight = np.array(p["weight"])
    if len(goal):
        cons = []
        if p["eq"]:
            a, b = np.array(p["eq"]), np.array(p["be"])
            cons.append({"type": "eq", "fun": lambda x: a @ x - b, "jac": lambda x: a})
        if p["ge"]:
            g, h = np.array(p["ge"]), np.array(p["bg"])
            cons.append({"type": "ineq", "fun": lambda x: g @ x - h, "jac": lambda x: g})
        f = lambda x: float(weight @ (wishes @ x - goal) ** 2)
        df = lambda x: 2 * wishes.T @ (weight * (wishes @ x - goal))
        best = np.inf
        for start in (r.x, np.array(p["start"])):
            m = minimize(f, start, jac=df, bounds=[(0, None)] * n, constraints=cons,
                         method="SLSQP", options={"ftol": 1e-14, "maxiter": 500})
            ok = all(np.all(c["fun"](m.x) > -1e-8) if c["type"] == "ineq" else
                     np.all(abs(c["fun"](m.x)) < 1e-8) for c in cons)
            if ok and m.x.min() > -1e-8:
                best = min(best, f(m.x))
        out["best"] = best if np.isfinite(best) else None
    # Then each default as near to 0 as the limits allow. A fixed row takes the
    # value that the other solver found once that is known to be right.
    extra = list(zip(p["wish"], p["wished"]))
    out["default"] = []
    for row, b, got in zip(p["default"], p["target"], p["kept"]):
        low = extreme(row, p, n, extra, 1)
        high = extreme(row, p, n, extra, -1)
        v = b if (low is None or low <= b) and (high is None or high >= b) else low if low is not None and low > b else high
        out["default"].append(v)
        if abs(v - got) > 1e-5:
            break
        extra.append((row, min(max(got, low if low is not None else got), high if high is not None else got)))
    return out


json.dump([solve(p) for p in json.load(sys.stdin)], sys.stdout)

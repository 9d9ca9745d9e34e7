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


def least(p, rows, goal, weight, extra, starts):
    """The least sum of squares, None where SLSQP finds no point."""
    n, cons = p["n"], []
    eq = list(p["eq"]) + [list(r) for r, _ in extra]
    be = list(p["be"]) + [b for _, b in extra]
    kept = []  # SLSQP takes no more equations than are independent
    for i in range(len(eq)):
        if np.linalg.matrix_rank(np.array([eq[k] for k in kept + [i]])) > len(kept):
            kept.append(i)
    if len(kept) == n:
        return float(weight @ (rows @ starts[0] - goal) ** 2)
    if kept:
        a, b = np.array([eq[k] for k in kept]), np.array([be[k] for k in kept])
        cons.append({"type": "eq", "fun": lambda x: a @ x - b, "jac": lambda x: a})
    if p["ge"]:
        g, h = np.array(p["ge"]), np.array(p["bg"])
        cons.append({"type": "ineq", "fun": lambda x: g @ x - h, "jac": lambda x: g})
    f = lambda x: float(weight @ (rows @ x - goal) ** 2)
    df = lambda x: 2 * rows.T @ (weight * (rows @ x - goal))
    best = np.inf
    for start in starts:
        m = minimize(f, start, jac=df, bounds=[(0, None)] * n, constraints=cons,
                     method="SLSQP", options={"ftol": 1e-14, "maxiter": 500})
        ok = all(np.all(c["fun"](m.x) > -1e-8) if c["type"] == "ineq" else
                 np.all(abs(c["fun"](m.x)) < 1e-8) for c in cons)
        if ok and m.x.min() > -1e-8:
            best = min(best, f(m.x))
    return best if np.isfinite(best) else None


def solve(p):
    n = p["n"]
    r = lp([0.0] * n, p, n)
    out = {"feasible": r.status == 0}
    if r.status != 0:
        return out
    wishes, goal = np.array(p["wish"]).reshape(-1, n), np.array(p["goal"])
    weight = np.array(p["weight"])
    if len(goal):
        out["best"] = least(p, wishes, goal, weight, [], (r.x, np.array(p["start"])))
    # Then the defaults rank by rank. A fixed row takes the value that the other
    # solver found once that is known to be right: one alone as near to what it
    # asks for as the limits allow, several with the least sum of squares.
    extra = list(zip(p["wish"], p["wished"]))
    out["default"] = []
    ranks = np.array(p["rank"])
    for rank in sorted(set(p["rank"])):
        these = [i for i in range(len(ranks)) if ranks[i] == rank]
        row, b, got = (np.array(p[k])[these] for k in ("default", "target", "kept"))
        if len(these) == 1:
            row, b, got = row[0], b[0], got[0]
            low = extreme(row, p, n, extra, 1)
            high = extreme(row, p, n, extra, -1)
            v = b if (low is None or low <= b) and (high is None or high >= b) else low if low is not None and low > b else high
            out["default"].append((v - b) ** 2)
            if abs(v - got) > 1e-5:
                break
            extra.append((row, min(max(got, low if low is not None else got), high if high is not None else got)))
            continue
        start = lp([0.0] * n, p, n, extra)
        best = least(p, row, b, np.ones(len(b)), extra, [s for s in (start.x, np.array(p["found"])) if s is not None])
        out["default"].append(best)
        extra += list(zip(row, got))
    return out


json.dump([solve(p) for p in json.load(sys.stdin)], sys.stdout)

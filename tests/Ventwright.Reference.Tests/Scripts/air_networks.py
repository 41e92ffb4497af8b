"""Solves quadratic-resistance networks with scipy.optimize.root.

In:  [{"nodes": n, "from": [...], "to": [...], "k": [...], "e": [...]}, ...]; node 0 is held at 0 Pa.
Out: [[flow of each branch], ...]
The unknowns are flows and pressures together, k q|q| = pA - pB + E and sum of q = 0, so no root law and no smoothing is needed.
"""
import json
import sys

import numpy as np
from scipy.optimize import root


def solve(net, rng):
    a, b = np.array(net["from"]), np.array(net["to"])
    k, e = np.array(net["k"]), np.array(net["e"])
    nodes, branches = net["nodes"], len(k)
    drive = np.abs(e).max()
    unit = np.sqrt(drive / k)
    incidence = np.zeros((branches, nodes))
    incidence[np.arange(branches), a] += 1
    incidence[np.arange(branches), b] -= 1
    incidence = incidence[:, 1:]
    scale = np.abs(incidence.T) @ unit

    def equations(x):
        q, p = x[:branches], x[branches:]
        return np.concatenate([q * np.abs(q) - incidence @ p - e / drive, (incidence.T @ (q * unit)) / scale])

    def jacobian(x):
        balance = (incidence * unit[:, None]).T / scale[:, None]
        return np.block([[np.diag(2 * np.abs(x[:branches])), -incidence], [balance, np.zeros((nodes - 1, nodes - 1))]])

    best = None
    for _ in range(60):
        start = np.concatenate([rng.uniform(-1, 1, branches), rng.uniform(-1, 1, nodes - 1)])
        for method in ("hybr", "lm"):
            options = {"xtol": 1e-14} if method == "hybr" else {"xtol": 1e-15, "ftol": 1e-15}
            found = root(equations, start, jac=jacobian, method=method, options=options)
            error = np.abs(equations(found.x)).max()
            if best is None or error < best[0]:
                best = (error, found.x)
        if best[0] < 1e-12:
            break
    if best[0] > 1e-10:
        raise SystemExit(f"scipy.optimize.root found no solution, residual {best[0]:.1e}")
    return (best[1][:branches] * unit).tolist()


generator = np.random.default_rng(1)
json.dump([solve(net, generator) for net in json.load(sys.stdin)], sys.stdout)

"""Integrates V dp/dt = R T sum(m) with scipy.integrate.solve_ivp (Radau).

In:  {"ambient": Pa, "from", "to", "oneWay", "c", "b": per branch, "volume": per node, "fixed": per node (null = free),
      "start": depressions, "times": [s, ...]}; node 0 is the atmosphere.
Out: [[depression of each node] for each time]
Flow law: ISO 6358, linear only above a pressure ratio of 0.999999.
"""
import json
import sys

import numpy as np
from scipy.integrate import solve_ivp

RHO0, T0, P0, LAMINAR = 1.185, 293.15, 1e5, 0.999999


def flow(c, b, p1, p2):
    if p2 > p1:
        return -flow(c, b, p2, p1)
    ratio = p2 / p1
    if ratio <= b:
        return c * RHO0 * p1
    if ratio > LAMINAR:
        return c * RHO0 * p1 * np.sqrt(1 - ((LAMINAR - b) / (1 - b)) ** 2) * (1 - ratio) / (1 - LAMINAR)
    return c * RHO0 * p1 * np.sqrt(1 - ((ratio - b) / (1 - b)) ** 2)


def main():
    net = json.load(sys.stdin)
    ambient = net["ambient"]
    fixed = [0.0] + net["fixed"][1:]
    free = [i for i, d in enumerate(fixed) if d is None]
    pressure = np.array([ambient - (s if d is None else d) for s, d in zip(net["start"], fixed)])
    volume = np.array(net["volume"])[free]
    branches = list(zip(net["from"], net["to"], net["oneWay"], net["c"], net["b"]))

    def slopes(_, y):
        p = pressure.copy()
        p[free] = y
        net_in = np.zeros_like(p)
        for a, b, one_way, c, ratio in branches:
            if c == 0 or (one_way and p[a] < p[b]):
                continue
            m = flow(c, ratio, p[a], p[b])
            net_in[a] -= m
            net_in[b] += m
        return P0 / (RHO0 * T0) * T0 * net_in[free] / volume

    times = net["times"]
    run = solve_ivp(slopes, (0, times[-1]), pressure[free], method="Radau", t_eval=times, rtol=1e-8, atol=1e-3)
    if not run.success:
        raise SystemExit(run.message)
    out = []
    for column in run.y.T:
        p = pressure.copy()
        p[free] = column
        out.append((ambient - p).tolist())
    json.dump(out, sys.stdout)


main()

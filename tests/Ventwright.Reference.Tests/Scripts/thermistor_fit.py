"""Fits thermistor curves with scipy.optimize.curve_fit, and gives tails of the chi-square law.

In:  {"fits": [{"ohms": [...], "kelvin": [...], "errors": [[covariance of 1/T]], "constants": 2 or 3}], "tails": [[sum, freedom], ...]}
Out: {"fits": [{"constants": [...], "covariance": [[...]], "sum": s}], "tails": [...]}
"""
import json
import sys

import numpy as np
from scipy.optimize import curve_fit
from scipy.stats import chi2

given = json.load(sys.stdin)
fits = []
for fit in given["fits"]:
    x = np.log(np.array(fit["ohms"]))
    y = 1 / np.array(fit["kelvin"])
    errors = np.array(fit["errors"])
    if fit["constants"] == 2:
        law, start = (lambda l, a, b: 1e-3 * (a + b * l)), [1.0, 0.25]
    else:
        law, start = (lambda l, a, b, c: 1e-3 * (a + b * l + c * l**3)), [1.0, 0.25, 1e-4]
    found, covariance = curve_fit(law, x, y, p0=start, sigma=errors, absolute_sigma=True, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    rest = y - law(x, *found)
    fits.append({"constants": (1e-3 * found).tolist(), "covariance": (1e-6 * covariance).tolist(), "sum": float(rest @ np.linalg.solve(errors, rest))})
json.dump({"fits": fits, "tails": [float(chi2.sf(s, n)) for s, n in given["tails"]]}, sys.stdout)

#!/usr/bin/env python3
"""Runs from rest by a general-purpose ODE integrator, for the test of
mechanics.FromRest and of goals' push. Written once to reference.json with SciPy's
solve_ivp (scipy.integrate, method DOP853, Hairer, Norsett and Wanner 1993), rtol and
atol 1e-11; the version is in the file. No formula of the program is used: only
Newton's law and a push that is read off as a straight line between points.

    python3 reference.py > reference.json
"""
import json
import scipy
from scipy.integrate import solve_ivp

# points of the push: (speed m/s, newtons), resistance N, mass g, distance mm
CASES = [
    {"name": "straight motor line", "push": [[0, 0.8], [1.5, 0.05]], "resistance": 0.05, "mass": 250, "distance": 3000},
    {"name": "held by the floor first", "push": [[0, 0.3], [0.4, 0.3], [1.1, 0.06]], "resistance": 0.06, "mass": 200, "distance": 5000},
    {"name": "bends as bands creep", "push": [[0, 1.1], [0.2, 0.7], [0.5, 0.35], [0.9, 0.04]], "resistance": 0.04, "mass": 320, "distance": 1000},
    {"name": "ends while speeding up", "push": [[0, 0.5], [3, 0.4], [4, 0.02]], "resistance": 0.02, "mass": 500, "distance": 600},
    {"name": "barely moves", "push": [[0, 0.021], [0.05, 0.02]], "resistance": 0.02, "mass": 400, "distance": 500},
]


def push(points, v):
    for (v0, f0), (v1, f1) in zip(points, points[1:]):
        if v <= v1:
            return f0 + (f1 - f0) * (v - v0) / (v1 - v0)
    return points[-1][1]


def run(case):
    kg, far = case["mass"] / 1000, case["distance"] / 1000

    def there(_, y):
        return y[0] - far

    there.terminal = True
    r = solve_ivp(lambda _, y: [y[1], (push(case["push"], y[1]) - case["resistance"]) / kg],
                  [0, 600], [0, 0], method="DOP853", rtol=1e-11, atol=1e-11, max_step=0.02, events=there)
    return {**case, "time": r.t_events[0][0], "end": r.y_events[0][0][1]}


print(json.dumps({"scipy": scipy.__version__, "runs": [run(c) for c in CASES]}, indent=1))

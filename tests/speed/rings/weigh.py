#!/usr/bin/python3
"""Fits the ring test's weights (src/modes/ring/ring_test.cpp) to what speed_rings wrote, and says what they do to groups left
out of the fit.

    build/release/bin/speed_rings 61000 20 FOLDER features.csv; /usr/bin/python3 tests/speed/rings/weigh.py features.csv [more.csv]

Logistic regression with a ridge, by Newton's steps; every source weighs alike within its kind, so that many simulated
plates don't outvote a few real bars. Sources are left out one at a time: the printed figures are of sources the weights
have not seen. Needs Debian's python3-numpy.
"""
import csv
import sys

import numpy as np

STRIKE, TWICE, DISTURBANCE = 0, 1, 2
PRIOR = 0.02      # of a strike among all that leaps out of a workshop's noise: one in fifty
THRESHOLD = 0.0   # log odds


def features(row):
    def of(name):
        return float(row[name])
    clip = np.clip
    return [
        1.0,
        max(0.0, np.log(9 / clip(of("mean_q"), 3, 60))),
        np.log(clip(of("mean_q"), 9, 60)),
        np.log(clip(of("untold"), 0.02, 1)),
        np.log(clip(of("untold_late"), 0.02, 1)),
        np.log(clip(of("unsure"), 0.01, 1)),
        np.log(clip(of("energy"), 1e2, 1e6)),
        clip(of("swell_db") - 2, 0, 12),
        np.log(clip(of("modes"), 1, 40)),
    ]


NAMES = ["one", "ln 9/Q if < 9", "ln mean_q", "ln untold", "ln untold_late", "ln unsure", "ln energy", "swell_db - 2", "ln modes"]


def fit(x, y, w, ridge=1e-3):
    scale = np.maximum(np.abs(x).max(axis=0), 1e-9)
    z = x / scale
    b = np.zeros(z.shape[1])
    penalty = ridge * np.eye(len(b))
    penalty[0, 0] = 0
    for _ in range(60):
        p = 1 / (1 + np.exp(-np.clip(z @ b, -30, 30)))
        gradient = z.T @ (w * (y - p)) - penalty @ b
        hessian = (z * (w * p * (1 - p))[:, None]).T @ z + penalty
        step = np.linalg.solve(hessian, gradient)
        b = b + step
        if np.abs(step).max() < 1e-6:
            break
    return b / scale


def weights(kinds, sources):
    w = np.zeros(len(kinds))
    for kind in (STRIKE, DISTURBANCE):
        names = sorted(set(s for k, s in zip(kinds, sources) if k == kind))
        for name in names:
            mine = np.array([k == kind and s == name for k, s in zip(kinds, sources)])
            w[mine] = 100.0 * (PRIOR if kind == STRIKE else 1 - PRIOR) / len(names) / mine.sum()
    return w


def main(paths):
    rows = [r for path in paths for r in csv.DictReader(open(path)) if r["verdict"] == "accepted"]
    rows = [r for r in rows if float(r["mean_q"]) > 0]  # without modes there is nothing to weigh
    judged = [r for r in rows if int(r["kind"]) == DISTURBANCE or
              (int(r["kind"]) == STRIKE and r["first"] == "1" and float(r["high_hz"]) < 3000)]
    x = np.array([features(r) for r in judged])
    kinds = [int(r["kind"]) for r in judged]
    sources = [r["source"] for r in judged]
    groups = [r["group"] for r in judged]
    y = np.array([1.0 if k == STRIKE else 0.0 for k in kinds])
    w = weights(kinds, sources)
    whole = fit(x, y, w)
    for name, weight in zip(NAMES, whole):
        print(f"{name:16} {weight:8.3f}")
    odds = x @ whole
    left = np.zeros(len(y))
    for source in sorted(set(sources)):
        out = np.array([s == source for s in sources])
        left[out] = x[out] @ fit(x[~out], y[~out], w[~out])
    print(f"\n{'group':44} {'taps':>5} {'wrong':>6} {'left out':>9}   lowest/highest log odds, left out")
    for group in sorted(set(groups)):
        mine = np.array([g == group for g in groups])
        strike = y[mine][0] > 0
        wrong = (odds[mine] <= THRESHOLD) if strike else (odds[mine] > THRESHOLD)
        out = (left[mine] <= THRESHOLD) if strike else (left[mine] > THRESHOLD)
        ends = np.sort(left[mine])[:4] if strike else np.sort(left[mine])[::-1][:4]
        print(f"{group:44} {mine.sum():5d} {100 * wrong.mean():5.1f}% {100 * out.mean():8.1f}%   " + " ".join(f"{e:.1f}" for e in ends))


main(sys.argv[1:])

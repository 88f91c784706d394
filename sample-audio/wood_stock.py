#!/usr/bin/env python3
"""Makes wood.json, the demo workshop's wood: invented trees with true constants, measured and tapped with
the scatter of a careful hand. It shares no code with the program; a fixed seed makes it the same each time.

  python3 sample-audio/wood_stock.py > sample-audio/wood.json

Frequencies: the free bar, (22.3733 / 2 pi) t / L^2 sqrt(E / 12 rho), less Goens' first-order share for shear;
boards long and narrow enough for each bending to be a bar's own; the twist by Rayleigh's quotient less
5 % (McIntyre and Woodhouse 1988; both from memory); sound by c / 2L.
"""
import json
import math
import random

# label, species, origin, kg/m3, E_L, E_R, G_LR in GPa, E_L/G_LT, Q along, across, twist
TREES = [
    ("Spruce 12", "norway_spruce", "north slope, felled 2009", 408, 12.9, 0.88, 0.72, 17, 120, 52, 68),
    ("Spruce 14", "norway_spruce", "north slope, felled 2009", 432, 13.8, 1.02, 0.76, 17, 112, 50, 64),
    ("Spruce 17", "norway_spruce", "wind-thrown, 2014", 371, 10.6, 0.71, 0.63, 17, 128, 55, 71),
    ("Maple 3", "red_maple", "plain, felled 2001", 598, 11.2, 1.62, 0.98, 8, 82, 41, 47),
    ("Maple 5", "red_maple", "deep flame, felled 2006", 605, 9.6, 2.05, 1.72, 8, 80, 40, 46),
    ("Maple 7", "red_maple", "narrow flame, felled 2006", 612, 11.6, 1.70, 1.05, 8, 84, 42, 47),
    ("Maple 8", "red_maple", "from an old table", 668, 13.9, 1.95, 1.30, 8, 71, 36, 44),
]
PLATES = {"Heron back": "Maple 3", "Wren back": "Maple 5", "Wren top": "Spruce 12"}


def scattered(rng, value, share):
    return value * (1.0 + share * rng.gauss(0.0, 1.0))


def bar_hz(e_gpa, density, length_mm, thickness_mm, e_over_g):
    slender = 22.3733 / (2 * math.pi) * 1e3 * thickness_mm / length_mm**2 * math.sqrt(1e9 * e_gpa / (12 * density))
    shear = (thickness_mm / length_mm)**2 / 12 * (49.48 + 12.30 * 1.2 * e_over_g)
    return slender / math.sqrt(1 + shear)


def board(rng, tree, day):
    label, species, origin, rho, e_l, e_r, g, e_g, q_l, q_r, q_t = tree
    a, b, h = 410.0 + rng.randint(-8, 8), 128.0 + rng.randint(-3, 3), round(rng.uniform(4.0, 5.2), 2)
    twist = 0.95 * 1.1027 * 1e3 * h / (a * b) * math.sqrt(1e9 * g / rho)
    motions = {"along": (bar_hz(e_l, rho, a, h, e_g), q_l), "across": (bar_hz(e_r, rho, b, h, 20), q_r),
               "twist": (twist, q_t)}
    return piece(rng, tree, day, "board", (a, b, h), motions)


def bar(rng, tree, day):
    label, species, origin, rho, e_l, e_r, g, e_g, q_l, q_r, q_t = tree
    a, b, h = 400.0 + rng.randint(-10, 10), 30.0 + rng.randint(-2, 2), round(rng.uniform(7.5, 8.5), 2)
    motions = {"along": (bar_hz(e_l, rho, a, h, e_g), q_l),
               "sound_along": (math.sqrt(1e9 * e_l / rho) / (2e-3 * a), 1.1 * q_l)}
    return piece(rng, tree, day, "bar", (a, b, h), motions)


def piece(rng, tree, day, kind, size, motions):
    a, b, h = size
    return {"wood": tree[0], "species": tree[1], "origin": tree[2] + " (invented)", "piece": kind, "when": day,
            "along_mm": a, "across_mm": b, "thickness_mm": h,
            "mass_g": round(scattered(rng, 1e-6 * tree[3] * a * b * h, 0.003), 1),
            "temperature_c": round(rng.uniform(18.5, 21.0), 1), "humidity_pct": rng.randint(44, 50),
            "motions": {motion: {"hz": round(scattered(rng, hz, 0.002), 1), "q": round(scattered(rng, q, 0.05))}
                        for motion, (hz, q) in motions.items()}}


def main():
    rng = random.Random(20260114)
    tests = []
    for i, tree in enumerate(TREES):
        tests.append(bar(rng, tree, f"2025-11-{3 + i:02d}T09:00:00"))
        if tree[0] != "Maple 8":  # bought as a billet, not yet sawn
            tests.append(board(rng, tree, f"2026-01-{5 + i:02d}T09:00:00"))
    print(json.dumps({"invented": "Invented: there are no such trees, and no one tapped them.",
                      "tests": tests, "plates": PLATES}, indent=1))


if __name__ == "__main__":
    main()

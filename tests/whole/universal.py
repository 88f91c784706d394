#!/usr/bin/env python3
"""`bundle tables --as uff`: spectra and the model's shapes as Universal Files, read back by a reader that
shares nothing with the program (tests/outside/universal_reader.py), say what the ledger says."""
import json
import math
import pathlib
import sys

import support

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "outside"))
import universal_reader  # noqa: E402


def spectra(test, file, sessions):
    check = test.checks.that
    functions = file[58]
    check(len(functions) == len(sessions), f"{len(functions)} spectra for {len(sessions)} sessions")
    for function, session in zip(functions, sessions):
        check(function["type"] == 12 and function["axes"][0]["data"] == 18 and function["axes"][0]["units"] == "HZ",
              f"a spectrum over frequency: {function['type']}, {function['axes'][0]}")
        check(session["begun"][:10] in function["about"][1], f"{function['about'][1]!r} is not of {session['begun']}")
        values, step = function["values"], function["step"]
        check(len(values) * step > 2400 and function["first"] == 0.0, "it does not reach from 0 to 2500 Hz")
        check(all(0.0 <= value < 1.0 for value in values), "an amplitude beyond full scale")
        for number in ("2", "5"):
            hz = session["modes"][number]
            near = range(round((hz - 8) / step), round((hz + 8) / step))
            top = max(near, key=lambda i: values[i]) * step
            check(abs(top - hz) < 2.0, f"mode {number} at {hz} Hz, the spectrum's peak at {top}")


def shapes(test, file, tapped):
    check = test.checks.that
    places, triangles = file[15][0], file[2412][0]
    check(list(places) == list(range(1, len(places) + 1)), "node labels don't run on")
    check({corner for _, corners in triangles.values() for corner in corners} == set(places), "nodes and triangles don't meet")
    xs, ys = ([place[i] for place in places.values()] for i in (0, 1))
    check(abs(max(ys) - min(ys) - 0.355) < 0.003 and abs(max(xs) - min(xs) - 0.207) < 0.003,
          f"a violin's back {max(xs) - min(xs):.3f} by {max(ys) - min(ys):.3f} m")
    all_ = file[55]
    check([one["number"] for one in all_] == list(range(1, len(all_) + 1)) and len(all_) >= 5, "modes are not counted on")
    check(all(a["hz"] < b["hz"] for a, b in zip(all_, all_[1:])) and all_[0]["hz"] > 50.0, "frequencies don't rise")
    for one in all_:
        check(one["character"] == 3 and one["per_node"] == 6 and one["data"] == 8 and one["kind"] == 2 and one["mass"] == 1.0,
              f"what mode {one['number']} is said to be")
        check(set(one["motion"]) == set(places), f"mode {one['number']} does not move all nodes")
    area = {label: 0.0 for label in places}
    for _, corners in triangles.values():
        (x1, y1), (x2, y2), (x3, y3) = (places[c][:2] for c in corners)
        for corner in corners:
            area[corner] += abs((x2 - x1) * (y3 - y1) - (x3 - x1) * (y2 - y1)) / 6
    for one in all_[:5]:
        # A free plate's centre of mass stays where it is; nearly so with the area for the mass.
        sums = [sum(area[n] * abs(m[2]) for n, m in one["motion"].items()), sum(area[n] * m[2] for n, m in one["motion"].items())]
        check(abs(sums[1]) < 0.2 * sums[0], f"mode {one['number']} moves the whole plate: {sums}")
    for number in (2, 5):
        found = [one for one in all_ if one["about"][2] == f"The trade's mode {number}"]
        if check(len(found) == 1, f"mode {number} is not marked"):
            check(abs(found[0]["hz"] / tapped[str(number)] - 1) < 0.03, f"mode {number}: {found[0]['hz']} for {tapped[str(number)]} Hz tapped")
            check(0.002 < found[0]["viscous"] < 0.05, f"damping {found[0]['viscous']}")
    ring = next(one for one in all_ if one["about"][2] == "The trade's mode 5")
    centre = min(places, key=lambda n: math.hypot(places[n][0], places[n][1] - 0.18))
    ends = [min(places, key=lambda n: math.hypot(places[n][0], places[n][1] - y)) for y in (0.0, 0.355)]
    check(all(ring["motion"][centre][2] * ring["motion"][end][2] < 0 for end in ends), "the ring mode has no ring")


if __name__ == "__main__":
    test = support.OwnLedger(support.arguments())
    audio = test.given.source / "sample-audio"
    for visit, mass in ((7, 106.2), (8, 103.1)):
        test.run("enter", "--plate", "Wren back", "--instrument", "Wren", "--mass", str(mass), "--when", f"2026-03-{10 + visit}",
                 audio / f"wren-back-{visit}.flac")
        test.run("caliper", "Wren back", audio / f"wren-back-{visit}.csv", "--species", "red_maple", "--arch", "15", "--edge", "4")
    test.run("enter", "--plate", "Größe/äöü back", "--instrument", "Other", audio / "heron-back-1.flac")
    drift = json.loads(test.run("drift", "Wren back", "--json").stdout)
    sessions = sorted({point["session"]: None for track in drift["tracks"] for point in track["points"]})
    at = {one: {str(track["number"]): point["hz"] for track in drift["tracks"] for point in track["points"] if point["session"] == one}
          for one in sessions}
    told = [{"begun": drift["sessions"][one]["begun"], "modes": at[one]} for one in sessions]
    folder = test.given.scratch / "lab"
    done = test.run("bundle", "tables", folder, "--as", "uff", "--json")
    said = json.loads(done.stdout or "{}").get("files", [])
    test.checks.that(done.returncode == 0 and [one["spectra"] for one in said] == [2, 1], f"bundle tables --as uff: {done}")
    wren = universal_reader.read(folder / "Wren back.uff")
    spectra(test, wren, told)
    shapes(test, wren, told[-1]["modes"])
    other = universal_reader.read(next(folder.glob("Gr*.uff")))
    test.checks.that(55 not in other and len(other[58]) == 1 and said[1]["no_shapes"], f"a plate without a map: {said[1]}")
    test.checks.that("Gr??e/??? back" in other[151][0][0], f"letters beyond ASCII: {other[151][0][0]!r}")
    done = test.run("bundle", "tables", folder, "--as", "pdf")
    test.checks.that(done.returncode == 2 and len(done.stderr.splitlines()) == 1, f"--as pdf: {done}")
    test.checks.finish()

#!/usr/bin/env python3
"""Bad caliper readings and shapes: a sentence that names the reading or the value, exit code 3, and
the ledger as it was before, to the figure."""
import contextlib
import json
import sqlite3

import support

GOOD = "place; mm\ncentre; 4,4\nupper_end; 2,9\nlower_end; 3,0\nlower_bout_left; 2,9\n"


class BadReadings(support.OwnLedger):
    def kept(self):
        """The map and shape that the ledger has now."""
        told = json.loads(self.run("caliper", "Bad back", "--json").stdout)
        return {key: told[key] for key in ("form", "readings", "map")}

    def held(self):
        """How many plates and sessions the ledger holds."""
        with contextlib.closing(sqlite3.connect(self.ledger / "ledger.sqlite")) as database:
            return [database.execute(f"SELECT count(*) FROM {table}").fetchone() for table in ("plate", "session")]

    def refused(self, name, code, about, *words):
        before = self.kept()
        done = self.run("caliper", "Bad back", *words)
        said = done.stderr.strip()
        self.checks.that(done.returncode == code, f"{name}: exit {done.returncode}: {said!r}")
        self.checks.that(len(said.splitlines()) == 1, f"{name}: not one sentence: {said!r}")
        self.checks.that(about in said, f"{name}: does not name {about!r}: {said!r}")
        self.checks.that("othing was stored" in said, f"{name}: says nothing of the data: {said!r}")
        self.checks.that(self.kept() == before, f"{name}: the ledger was changed")


def bad_readings(test):
    for name, text, about in (
            ("outside", GOOD + "150; 100; 3,0\n", "outside the outline"),
            ("negative", GOOD + "20; 100; -3,0\n", "Reading 5"),
            ("twice", GOOD + "centre; 4,3\n", "same place"),
            ("one", "centre; 4,4\n", "at least three"),
            ("inches", "centre; 0,173\nupper_end; 0,114\nlower_end; 0,118\n", "inches"),
            ("one in inches", GOOD + "20; 100; 0,118\n", "Reading 5"),
            ("no number first", "centre; thick\n" + GOOD, "Line 1"),
            ("tenths", "centre; 44\nupper_end; 29\nlower_end; 30\n", "tenths"),
            ("unknown place", GOOD + "belly button; 3,0\n", "belly button"),
            ("no number", GOOD + "20; 100; thick\n", "Line 6"),
            ("empty", "", "at least three")):
        test.refused(name, 3, about, test.file(name.replace(" ", "-") + ".csv", text))
    test.refused("missing file", 3, "not-there.csv", test.given.scratch / "not-there.csv")
    # a good map with a bad shape is not kept either
    good = test.file("good.csv", GOOD.replace("4,4", "4,1"))
    test.refused("arch below edge", 3, "--arch", good, "--arch", "3", "--edge", "4")


def bad_shapes(test):
    test.refused("waist too wide", 3, "", "--waist", "300")
    test.refused("too narrow for its readings", 3, "kept", "--lower", "118", "--upper", "116", "--waist", "60")
    test.refused("no measure", 3, "--length", "--length", "long")
    test.refused("no species", 3, "plywood", "--species", "plywood")
    test.refused("rings beyond lying", 3, "--rings", "--rings", "100")
    test.refused("three halves", 3, "--rings", "--rings", "1:2:3")
    test.refused("run-out like a shingle", 3, "--run-out", "--run-out", "25")
    test.refused("bar across an f-hole", 3, "f-hole", "--bar-line=-70:42:0:312")
    test.refused("bar upside down", 3, "bass bar", "--bar-line=-15:312:-19:42")
    test.refused("ends above the bar", 3, "bass bar", "--bar", "5:10:12")
    test.refused("bar without height", 3, "--bar", "--bar", "5")
    test.refused("f-hole off the plate", 3, "The f-hole must lie on the plate", "--f-holes", "300:190:310:150")
    test.refused("f-hole over the middle", 3, "The f-hole must lie on the plate", "--f-holes", "2:190:40:130")
    hole = "40;130\n44;140\n45;150\n45;160\n44;180\n40;190\n37;180\n37;140\n"
    line = test.file("hole.csv", hole)
    test.refused("eyes and a line", 3, "not both", "--f-holes", "24:190:54:130", "--f-hole-line", line)
    test.refused("drawn f-hole over the middle", 3, "its middle line", "--f-hole-line",
                 test.file("middle.csv", hole.replace("37;", "-7;")))
    test.refused("f-hole of three points", 3, "8 points", "--f-hole-line",
                 test.file("three.csv", "40;130\n44;140\n45;150\n"))
    crossing = test.file("crossing.csv", "\n".join(
        f"{x},{y}" for x, y in ((0, 0), (100, 350), (-100, 350), (90, 5), (-90, 180), (95, 170),
                                (0, 340), (10, 20), (50, 300))) + "\n")
    test.refused("outline that crosses itself", 3, "", "--outline", crossing)
    svg = test.file("empty.svg", "<svg/>")
    test.refused("drawing without a path", 3, "empty.svg", "--outline", svg)
    heights = test.file("heights.csv", "x;y;mm\n0;180;15\n400;180;12\n")
    test.refused("height outside", 3, "line 3", "--heights", heights)


def bad_aims(test):
    """Plans and masses that can't be: one sentence, its exit code, and nothing kept."""
    body = test.run("enter", "--plate", "Bad body", "--instrument", "Bad box", "--part", "body", "--mass", "400")
    test.checks.that(body.returncode == 0, f"the body was refused: {body.stderr!r}")
    before = test.held()
    for code, about, words in (
            (2, "drift --remember", ("plan", "Bad back")),
            (2, "5=high", ("plan", "Bad back", "--target", "5=high")),
            (4, "Mode 5 was not found", ("plan", "Bad back", "--target", "5=350")),
            (4, "closed body", ("plan", "Bad body", "--target", "5=350")),
            (3, "--target-is-right plans it", ("plan", "Bad back", "--target", "5=35")),
            (3, "35.0 Hz for mode 5?", ("drift", "Bad back", "--target", "5=35", "--remember")),
            (3, "closed body", ("caliper", "Bad body", test.file("body.csv", GOOD))),
            (3, "25 to 450 g", ("enter", "--plate", "Bad back", "--mass", "10,4")),
            (3, "104", ("enter", "--plate", "Bad back", "--mass", "1040")),
            (3, "gained 30.0 g", ("enter", "--plate", "Bad back", "--mass", "134")),
            (3, "25 to 450 g", ("enter", "--plate", "New back", "--mass", "5")),
            (2, "--mass", ("enter", "--plate", "Bad back", "--mass", "-104"))):
        done = test.run(*words)
        said = done.stderr.strip()
        test.checks.that(done.returncode == code, f"{words}: exit {done.returncode}: {said!r}")
        test.checks.that(len(said.splitlines()) == 1 and about in said, f"{words}: {said!r}")
    test.checks.that(test.held() == before, "a plate or session was made that was refused")
    kept = "SELECT frequency_hz FROM target WHERE number = 5 ORDER BY said_ms DESC, rowid DESC LIMIT 1"
    test.checks.that(support.ask(test.ledger, kept) == [], "a target that was asked about was kept")
    test.run("drift", "Bad back", "--target", "5=35", "--remember", "--target-is-right")
    test.checks.that(support.ask(test.ledger, kept) == [(35.0,)], "a target was not kept by the maker's own word")


if __name__ == "__main__":
    test = BadReadings(support.arguments())
    test.run("enter", "--plate", "Bad back", "--mass", "104")
    first = test.run("caliper", "Bad back", test.file("first.csv", GOOD))
    test.checks.that(first.returncode == 0, f"good readings were refused: {first.stderr!r}")
    bad_readings(test)
    bad_shapes(test)
    bad_aims(test)
    test.checks.finish()

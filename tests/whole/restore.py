#!/usr/bin/env python3
"""From a lost disk, a lost database, a damaged one, back to all that was kept: by the commands of the guide's page
'Coming back from damage', on the demo workshop's recordings."""
import contextlib
import random
import shutil
import sqlite3

import support

PLATE = "Wren back"
K_HERE = ("ledger.sqlite", "ledger.sqlite-wal", "ledger.sqlite-shm")


class Lost:
    def __init__(self, given):
        self.given = given
        self.env = support.private_environment(given.scratch)
        self.checks = support.Checks()
        self.ledger = given.scratch / "ledger"

    def run(self, *words, code=0, ledger=None):
        done = support.run(self.given.program, *words, "--ledger", ledger or self.ledger, env=self.env)
        self.checks.that(done.returncode == code, f"{words}: exit {done.returncode}: {done.stdout}{done.stderr}")
        return done

    def enter(self, number, mass):
        recording = self.given.source / "sample-audio" / f"wren-back-{number}.flac"
        return self.run("enter", "--plate", PLATE, "--instrument", "Wren", "--mass", mass, "--humidity", "46,25",
                        "--stage", "graduating", "--spot", "centre", "--notes", f"visit {number}", recording)

    def facts(self, ledger=None):
        """All that was typed and heard, and what was made of it: names and frequencies of the modes."""
        with contextlib.closing(sqlite3.connect((ledger or self.ledger) / "ledger.sqlite")) as database:
            rows = {}
            for name, query in {
                    "plates": "SELECT i.label, i.kind, p.label, p.part FROM plate p JOIN instrument i ON i.id = p.instrument",
                    "sessions": "SELECT uid, begun_ms, stage, mass_g, humidity_pct, notes FROM session ORDER BY uid",
                    "taps": "SELECT t.uid, s.uid, verdict, spot, onset_frame, peak_dbfs, noise_dbfs, recording FROM tap t "
                            "JOIN session s ON s.id = t.session ORDER BY t.uid",
                    "modes": "SELECT s.uid, round(m.frequency_hz, 6), m.number FROM mode m JOIN mode_set e ON "
                             "e.id = m.mode_set JOIN session s ON s.id = e.session ORDER BY 1, 2",
            }.items():
                rows[name] = database.execute(query).fetchall()
            return rows

    def same(self, before, what, ledger=None, but=()):
        after = self.facts(ledger)
        for name, rows in before.items():
            if name not in but:
                self.checks.that(after[name] == rows, f"{what}: {name} differ: {len(after[name])} for {len(rows)}")

    def lose_database(self, ledger=None, copies_too=False):
        for name in K_HERE:
            ((ledger or self.ledger) / name).unlink(missing_ok=True)
        if copies_too:
            shutil.rmtree((ledger or self.ledger) / "backups")


def copies_after_each(test):
    test.enter(6, "104,5")
    test.enter(7, "103,2")
    test.enter(8, "102,0625")
    copies = test.run("restore").stdout
    test.checks.that(copies.count("copy-0000") == 3, f"not a copy after each session: {copies}")
    test.checks.that(test.run("check").stdout.strip().endswith("All of it is whole."), "a fresh ledger is not whole")


def lost_database(test, before):
    test.lose_database(copies_too=True)
    listening = test.run("drift", PLATE, code=4)
    test.checks.that("--mend" in listening.stderr, f"not told what to do: {listening.stderr}")
    refused = test.run("enter", "--plate", "New back", code=1)
    test.checks.that("--mend" in refused.stderr and not (test.ledger / "ledger.sqlite").exists(),
                     f"an empty ledger was begun: {refused.stderr}")
    mended = test.run("check", "--mend")
    test.checks.that("All of it is whole." in mended.stdout, f"not whole after mending: {mended.stdout}")
    test.same(before, "a database made again")


def lost_disk(test, before):
    """Of the whole folder only `recordings` was saved, on another machine; without the facts, at last."""
    for without_facts in (False, True):
        saved = test.given.scratch / f"saved-{without_facts}"
        saved.mkdir()
        shutil.copytree(test.ledger / "recordings", saved / "recordings")
        if without_facts:
            shutil.rmtree(saved / "recordings" / "facts")
        mended = test.run("check", "--mend", ledger=saved)
        test.checks.that("All of it is whole." in mended.stdout, f"recordings alone: {mended.stdout}")
        test.same(before, "recordings alone", saved)
        said = test.run("drift", PLATE, ledger=saved).stdout
        test.checks.that(said == test.run("drift", PLATE).stdout, "drift tells another story after a lost disk")


def older_copy(test, before):
    oldest = test.run("restore").stdout.split("copy-")[-1].split()[0]
    put_back = test.run("restore", "copy-" + oldest)
    test.checks.that("sessions" in put_back.stdout and "--undo" in put_back.stdout, f"restore: {put_back.stdout}")
    test.same(before, "a copy put back")
    test.run("restore", "copy-" + oldest, "--as-it-was")
    test.checks.that(len(test.facts()["sessions"]) < len(before["sessions"]), "--as-it-was brought the sessions back")
    beside = test.run("check", code=1).stdout
    test.checks.that("does not know" in beside and "whole." not in beside, f"whole beside strangers: {beside}")
    test.run("restore", "--undo")
    test.same(before, "an undone restore")
    test.checks.that("no" in test.run("restore", "none", code=4).stderr.lower(), "a copy that is not there")


def bad_page(test, before):
    chance = random.Random(11)
    sound = (test.ledger / "ledger.sqlite").read_bytes()
    for _ in range(4):
        pages = len(sound) // 4096
        broken = bytearray(sound)
        page = chance.randrange(pages)
        broken[page * 4096:(page + 1) * 4096] = chance.randbytes(4096)
        test.lose_database()
        (test.ledger / "ledger.sqlite").write_bytes(broken)
        looked = support.run(test.given.program, "check", "--ledger", test.ledger, env=test.env)
        test.checks.that(looked.returncode == 1 and "sessions" in looked.stdout, f"page {page}: {looked.stdout}{looked.stderr}")
        mended = test.run("check", "--mend")
        test.checks.that("All of it is whole." in mended.stdout, f"page {page} of {pages}: {mended.stdout}")
        test.same(before, f"page {page} of {pages}", but=("modes",))
        modes = {row[0] for row in test.facts()["modes"]}
        test.checks.that(modes == {row[0] for row in before["modes"]}, f"page {page}: sessions without modes")


def clock_set_back(test):
    test.run("enter", "--plate", PLATE, "--mass", "101")
    # By the program a day to come can't be said: the clock was set forward when this one began.
    with contextlib.closing(sqlite3.connect(test.ledger / "ledger.sqlite")) as database, database:
        database.execute("UPDATE session SET begun_ms = 3786912000000 WHERE id = (SELECT max(id) FROM session)")
    asked = test.run("enter", "--plate", PLATE, "--mass", "100,5", code=3)
    test.checks.that("2090" in asked.stderr and "--date-is-right" in asked.stderr, f"not asked: {asked.stderr}")
    test.checks.that(len(test.facts()["sessions"]) == 4, "kept before the question was answered")
    test.run("enter", "--plate", PLATE, "--mass", "100,5", "--date-is-right")
    test.run("enter", "--plate", PLATE, "--mass", "100,25", "--when", "2026-03-01")
    test.checks.that(len(test.facts()["sessions"]) == 6, "the answered question still keeps it out")


if __name__ == "__main__":
    running = Lost(support.arguments())
    copies_after_each(running)
    kept = running.facts()
    older_copy(running, kept)
    bad_page(running, kept)
    lost_disk(running, kept)
    lost_database(running, kept)
    clock_set_back(running)
    running.checks.finish()

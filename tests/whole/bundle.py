#!/usr/bin/env python3
"""A bundle is an ordinary zip that other programs open: unzip, Python's zipfile, json and csv, flac,
and a spreadsheet where one is installed; another ledger takes it in and says the same as the first."""
import contextlib
import csv
import io
import json
import shutil
import sqlite3
import subprocess
import zipfile

import json_schema
import support
from json_schema import NUMBER, TEXT, TRUTH, WHOLE

OUT = {"schema": TEXT, "file": TEXT, "instruments": WHOLE, "plates": WHOLE, "sessions": WHOLE,
       "taps": WHOLE, "recordings": WHOLE, "left_out": [TEXT]}
IN = {"schema": TEXT, "file": TEXT, "kept": TRUTH,
      "kinds": [{"kind": TEXT, "added": WHOLE, "same": WHOLE, "different": WHOLE,
                 "in_the_bin": WHOLE}],
      "recordings": {"added": WHOLE, "there": WHOLE, "mended": WHOLE, "lacking": WHOLE},
      "sessions_with_more_taps": WHOLE,
      "differences": [{"where": TEXT, "what": TEXT, "here": TEXT, "there": TEXT}],
      "taken_from": TEXT}
TABLES = {"schema": TEXT, "files": [TEXT]}


THING = {"kind": TEXT, "id": WHOLE, "what": TEXT, "binned": TEXT}
BIN = {"schema": TEXT, "things": [THING], "taken_out": json_schema.maybe(THING)}


class Bundle(json_schema.Schema):
    def bundle(self, kind, what, *words):
        printed = support.read_json(self.given.program, "bundle", what, *words, env=self.env)
        self.judge(printed, kind, f"bundle-{what}")
        return printed

    def table(self, text, delimiter=","):
        rows = list(csv.DictReader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))
        self.checks.that(all(None not in row and None not in row.values() for row in rows),
                         "a line of a table is not as long as its head")
        return rows


def opened_by_others(test, file, drift):
    test.checks.that(subprocess.run(["unzip", "-tq", file], stdout=subprocess.DEVNULL,
                                    check=False).returncode == 0, "unzip finds it damaged")
    with zipfile.ZipFile(file) as archive:
        head = json.loads(archive.read("bundle.json"))
        tree = json.loads(archive.read(f"instruments/{head['instruments'][0]}.json"))
        sessions = tree["plate"][0]["session"]
        found = [sorted(mode["frequency_hz"] for mode in session["mode_set"][-1]["mode"])
                 for session in sessions]
        said = [min(track["points"], key=lambda point: point["session"])["hz"]
                for track in drift["tracks"] if track["number"] == 5]
        test.checks.that(said and said[0] in found[0], "mode 5 of the first session is not in the JSON")
        hashes = [tap["recording"] for session in sessions for tap in session["tap"]]
        sound = archive.read(f"recordings/{hashes[0]}.flac")
        checked = subprocess.run(["flac", "--test", "--silent", "-"], input=sound, check=False,
                                 capture_output=True)
        test.checks.that(checked.returncode == 0, f"flac refuses a recording: {checked.stderr}")
        modes = test.table(archive.read("tables/modes.csv").decode("utf-8"))
        test.checks.that({float(row["hz"]) for row in modes} == {hz for all_ in found for hz in all_},
                         "modes.csv does not hold the modes of the JSON")
        taps = test.table(archive.read("tables/taps.csv").decode("utf-8"))
        test.checks.that([row["recording"] for row in taps] == hashes, "taps.csv lacks taps")


def opened_by_a_spreadsheet(test, folder):
    office = shutil.which("soffice") or shutil.which("localc")
    if office is None:
        print("not checked: no LibreOffice here")
        return
    done = subprocess.run([office, f"-env:UserInstallation=file://{test.given.scratch}/office", "--headless",
                           "--convert-to", "ods", "--outdir", folder, folder / "modes.csv"], timeout=120,
                          stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False)
    if not test.checks.that((folder / "modes.ods").is_file(), f"LibreOffice made no sheet: {done.stdout}{done.stderr}"):
        return
    with zipfile.ZipFile(folder / "modes.ods") as sheet:
        content = sheet.read("content.xml").decode("utf-8")
    test.checks.that(content.count("<table:table-row") > 20 and 'office:value-type="float"' in content,
                     "the spreadsheet did not read numbers from modes.csv")


def bin_of(test, ledger):
    """A tap in the bin is listed with what it belongs to, and comes out again."""
    with contextlib.closing(sqlite3.connect(ledger / "ledger.sqlite")) as database, database:
        database.execute("UPDATE tap SET binned_ms = 1771060800000 WHERE id = 2")
    listed = test.run(BIN, "bin", "--ledger", ledger)["things"]
    test.checks.that([thing["kind"] for thing in listed] == ["tap"] and "Wren back" in listed[0]["what"],
                     f"the bin holds {listed}")
    test.checks.that(test.run(BIN, "bin", "tap", "2", "--ledger", ledger)["taken_out"], "the tap stayed in the bin")
    test.checks.that(not test.run(BIN, "bin", "--ledger", ledger)["things"], "the bin is not empty again")
    done = support.run(test.given.program, "bin", "tap", "2", "--ledger", ledger, env=test.env)
    test.checks.that(done.returncode == 4, f"a tap that is not in the bin: exit {done.returncode}")


def nothing_spoilt(test, folder, ledger):
    """A table that can't be written leaves the earlier one whole; a name that would act on a terminal does not."""
    before = (folder / "plates.csv").read_bytes()
    (folder / "plates.csv.new").mkdir()
    done = support.run(test.given.program, "bundle", "tables", folder, "--ledger", ledger, env=test.env)
    test.checks.that(done.returncode == 1 and (folder / "plates.csv").read_bytes() == before,
                     f"a table that can't be written: exit {done.returncode}, {done.stderr!r}")
    with contextlib.closing(sqlite3.connect(ledger / "ledger.sqlite")) as database, database:
        database.execute("UPDATE session SET notes = ?", ("red \x1b[31m, bell \x07, left \u202e",))
        database.execute("UPDATE plate SET label = ?", ("Wren \x1b]0;title\x07back",))
    said = support.run(test.given.program, "drift", "1", "--ledger", ledger, env=test.env)
    test.checks.that(said.returncode == 0 and "Wren" in said.stdout, f"drift of an odd name: {said.stderr!r}")
    lost = support.run(test.given.program, "drift", "no such \x1b[31mplate", "--ledger", ledger, env=test.env)
    for text in (said.stdout, lost.stderr):
        test.checks.that(text and not set("\x1b\x07\u202e\x9b") & set(text), f"it reached the terminal: {text[:200]!r}")
    with contextlib.closing(sqlite3.connect(ledger / "ledger.sqlite")) as database, database:
        database.execute("UPDATE plate SET label = 'Wren back'")


if __name__ == "__main__":
    test = Bundle(support.arguments())
    for visit in (7, 8):
        test.enter(f"wren-back-{visit}.flac", "--notes", "=1+1; \"quoted\", двa")
    drift = support.read_json(test.given.program, "drift", "Wren back", "--ledger", test.ledger,
                              env=test.env)
    file, other = test.given.scratch / "wren.zip", test.given.scratch / "other"
    written = test.bundle(OUT, "out", file, "--instrument", "Wren", "--ledger", test.ledger)
    test.checks.that(written["taps"] == written["recordings"] > 20, f"bundle out: {written}")
    opened_by_others(test, file, drift)

    look = test.bundle(IN, "in", file, "--look", "--ledger", other)
    test.checks.that(not other.exists(), "--look made a ledger")
    taken = test.bundle(IN, "in", file, "--ledger", other)
    test.checks.that(not look["kept"] and look["kinds"] == taken["kinds"], "--look told otherwise")
    test.checks.that(taken["recordings"]["added"] == written["recordings"], f"bundle in: {taken}")
    again = test.bundle(IN, "in", file, "--ledger", other)
    test.checks.that(sum(kind["added"] for kind in again["kinds"]) == 0, "taken in twice, it grew")
    there = support.read_json(test.given.program, "drift", "Wren back", "--ledger", other, env=test.env)
    test.checks.that(there["tracks"] == drift["tracks"], "the other ledger's drift is another")

    folder = test.given.scratch / "figures"
    test.bundle(TABLES, "tables", folder, "--ledger", other)
    notes = test.table((folder / "sessions.csv").read_bytes().decode("utf-8"))[0]["notes"]
    test.checks.that(notes == "'=1+1; \"quoted\", двa", f"sessions.csv has the notes as {notes!r}")
    opened_by_a_spreadsheet(test, folder)
    support.run(test.given.program, "bundle", "tables", folder, "--comma", "--ledger", other,
                env=test.env)
    modes = test.table((folder / "modes.csv").read_bytes().decode("utf-8"), ";")
    test.checks.that("," in modes[0]["hz"] and float(modes[0]["hz"].replace(",", ".")) > 50,
                     f"with --comma a frequency is {modes[0]['hz']!r}")
    nothing_spoilt(test, folder, other)
    undone = json.loads(support.run(test.given.program, "bundle", "undo", "--json", "--ledger", other, env=test.env).stdout)
    test.checks.that(undone["file"] == file.name and undone["binned"] == 1, f"bundle undo: {undone}")
    gone = support.run(test.given.program, "drift", "Wren back", "--ledger", other, env=test.env)
    test.checks.that(gone.returncode == 4, f"after bundle undo the plate is there: exit {gone.returncode}")
    once_more = support.run(test.given.program, "bundle", "in", file, "--ledger", other, env=test.env).stdout
    test.checks.that("lies in the bin here and stays there" in once_more and "platewright bin" in once_more,
                     f"taken in after its undoing, without a word of the bin: {once_more!r}")
    kind, number = (str(test.run(BIN, "bin", "--ledger", other)["things"][0][key]) for key in ("kind", "id"))
    support.run(test.given.program, "bin", kind, number, "--ledger", other, env=test.env)
    bin_of(test, other)
    file.write_bytes(file.read_bytes()[:5000])
    done = support.run(test.given.program, "bundle", "in", file, "--ledger", other, env=test.env)
    test.checks.that(done.returncode == 3 and len(done.stderr.splitlines()) == 1,
                     f"a bundle cut short: exit {done.returncode}, {done.stderr!r}")
    test.checks.finish()

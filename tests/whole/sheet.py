#!/usr/bin/env python3
"""The bench sheet: a sound PDF (qpdf), its words there to be found (pdftotext), all of them within the
margins and none on another, on A4 and Letter, with long notes and names in other scripts."""
import contextlib
import html
import re
import shutil
import sqlite3
import subprocess

import json_schema
import support
from json_schema import TEXT, WHOLE

SHEET = {"schema": TEXT, "file": TEXT, "pages": WHOLE, "figures": [TEXT]}
AGAIN = {"schema": TEXT, "kept": json_schema.TRUTH,
         "plates": [{"plate": {"id": WHOLE, "label": TEXT},
                     "sessions": [{"session": json_schema.SESSION, "version_before": TEXT,
                                   "version_now": TEXT, "lost": WHOLE, "not_rung": WHOLE,
                                   "modes": [{"number": json_schema.maybe(WHOLE),
                                              "before": json_schema.maybe(json_schema.MODE),
                                              "now": json_schema.maybe(json_schema.MODE)}]}]}],
         "woods": [{"wood": {"id": WHOLE, "label": TEXT},
                    "tests": [{"id": WHOLE, "at": TEXT, "doubts": [TEXT], "lost": WHOLE, "not_rung": WHOLE,
                               "motions": [{"motion": TEXT, "before": json_schema.maybe(json_schema.WOOD_MODE),
                                            "now": json_schema.maybe(json_schema.WOOD_MODE)}]}]}]}
SIZES = {"a4": (595.276, 841.89), "letter": (612.0, 792.0)}
LONG = ("Taken off mostly between the f-hole line and the lower bout, in three passes with a fresh tapping after each. "
        * 9 + "Ель лёгкая. 秋田杉。 " + "w" * 140)


class Sheet(json_schema.Schema):
    def words(self, file):
        """(page, left, top, right, bottom, word) of every word, in points."""
        done = subprocess.run(["pdftotext", "-bbox", file, "-"], capture_output=True, text=True,
                              check=True)
        page, found = 0, []
        for line in done.stdout.splitlines():
            page += "<page " in line
            box = re.search(r'xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*)</word>', line)
            if box:
                found.append((page, *map(float, box.groups()[:4]), html.unescape(box[5])))
        return found

    def judge_pdf(self, file, paper):
        checked = subprocess.run(["qpdf", "--check", file], capture_output=True, text=True, check=False)
        self.checks.that(checked.returncode == 0, f"qpdf: {checked.stdout[-300:]}{checked.stderr[-300:]}")
        width, height = SIZES[paper]
        info = subprocess.run(["pdfinfo", file], capture_output=True, text=True, check=True).stdout
        size = re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", info)
        self.checks.that(abs(float(size[1]) - width) < 1 and abs(float(size[2]) - height) < 1,
                         f"{paper}: the page is {size[0]}")
        seen = subprocess.run(["pdftoppm", "-gray", "-r", "40", file], capture_output=True, check=True).stdout
        head = re.match(rb"P5\s(\d+) (\d+)\s255\s", seen) # the first page, as a printer without colours has it
        pixels = seen[head.end():head.end() + int(head[1]) * int(head[2])]
        dark = sum(value < 128 for value in pixels) / len(pixels)
        self.checks.that(0.005 < dark < 0.3, f"{file.name}: {dark:.3f} of the first page is dark")
        words = self.words(file)
        for page, left, top, right, bottom, word in words:
            self.checks.that(left > 30 and right < width - 30 and top > 30 and bottom < height - 25,
                             f"{file.name}, page {page}: {word!r} stands in the margin")
        for n, one in enumerate(words):
            for other in words[n + 1:]:
                across = min(one[3], other[3]) - max(one[1], other[1])
                down = min(one[4], other[4]) - max(one[2], other[2])
                if one[0] == other[0] and across > 1.0 and down > 3.5:
                    self.checks.that(False, f"{file.name}, page {one[0]}: {one[5]!r} lies on {other[5]!r}")
        return " ".join(word for *_, word in words)

    def judge_setting(self, file, headings, whole):
        """What a printer looks at: no word or figure broken over lines, no heading alone at a page's foot, no page
        with but a few lines."""
        words = self.words(file)
        texts = {word for *_, word in words}
        for one in whole:
            self.checks.that(one in texts, f"{file.name}: {one!r} does not stand in one piece")
        pages = max(page for page, *_ in words)
        for page in range(1, pages + 1):
            lines = sorted({round(bottom) for p, _, _, _, bottom, _ in words if p == page})[:-1]  # the last is the foot
            self.checks.that(page == 1 or len(lines) > 6, f"{file.name}: page {page} has {len(lines)} lines")
            for heading in headings:
                at = [bottom for p, left, _, _, bottom, word in words
                      if p == page and word == heading and left < 45]
                self.checks.that(not at or max(at) < lines[-1] - 20 or pages == page,
                                 f"{file.name}: {heading!r} stands alone at the foot of page {page}")

    def sheet(self, *words):
        printed = support.read_json(self.given.program, "sheet", *words, "--ledger", self.ledger, env=self.env)
        self.judge(printed, SHEET, "sheet")
        return printed

    def holds(self, text, wanted, where):
        for words in wanted:
            self.checks.that(words in text, f"{where}: the sheet lacks {words!r}")

    def languages(self):
        """Sheets in German and Italian: all said in it, with its decimal mark; the window's wish is the default.
        (A plan's summary stays in the language it was made in: of the Heron none was made.)"""
        support.run(self.given.program, "caliper", "Heron back", self.readings(0.0), "--ledger", self.ledger, env=self.env)
        file = self.given.scratch / "sprache.pdf"
        self.sheet("Wren back", "--to", file, "--language", "de")  # with a plan that was made in English
        text = self.judge_pdf(file, "a4")
        self.holds(text, ("Wo Holz abgenommen wird", "Insgesamt sind", "von innen gesehen", "Von Hand"), "German plan")
        for word in ("targets", "reached", "taking"):
            self.checks.that(f" {word} " not in text, f"German plan: the sheet says {word!r}")
        self.sheet("Heron back", "--to", file, "--language", "de", "--reference", "Wren back")
        text = self.judge_pdf(file, "a4")
        self.holds(text, ("Werkblatt, gedruckt", "Verlauf", "Moden", "seit voriger", "Mode 5 (Ring)", "Stärke", "Sitzungen",
                          "Vorbild: Wren back", "Holzstaub", "Seite 1", "kommt nicht zurück"), "German")
        self.checks.that(re.search(r"\d,\d", text) and not re.search(r"\d\.\d", text), "German: a decimal point")
        for word in ("mode 5", "Modes", "Sessions", "printed", "dust", "page 1", "readings"):
            self.checks.that(word not in text, f"German: the sheet says {word!r}")
        wishes = self.given.scratch / "home" / ".config" / "platewright" / "window"
        wishes.parent.mkdir(parents=True)
        wishes.write_text("language it\ndecimal_mark point\n", encoding="utf-8")
        self.sheet("Wren back", "--to", file)
        text = self.judge_pdf(file, "a4")
        self.holds(text, ("Foglio di banco", "Andamento", "Modi", "modo 5", "Sessioni", "pagina 1"), "Italian")
        self.checks.that(re.search(r"\d\.\d", text), "Italian: the window's decimal mark is not kept to")
        wishes.unlink()

    def older_plan(self):
        """Wood is named by no plan that is older than the newest session: it may be off already."""
        with contextlib.closing(sqlite3.connect(self.ledger / "ledger.sqlite")) as ledger, ledger:
            ledger.execute("UPDATE plan SET made_ms = 0")
        file = self.given.scratch / "older.pdf"
        self.sheet("Wren back", "--to", file, "--language", "en")
        text = self.judge_pdf(file, "a4")
        self.holds(text, ("Plan of", "This plan is older than the session of"), "an older plan")
        for words in ("are to come off", "Where to take wood"):
            self.checks.that(words not in text, f"an older plan: the sheet says {words!r}")

    def body(self):
        """A closed body's sheet and chart name its modes as the trade does, and no free plate's numbers."""
        for visit in (1, 2, 3):
            entry = support.manifest(self.given.source)[f"wren-body-{visit}.flac"]
            self.run(json_schema.ENTER, "enter", "--ledger", self.ledger, "--plate", "Wren body", "--instrument", "Wren",
                     "--part", "body", "--stage", entry["stage"], "--when", entry["when"] + "Z", "--spot", "bridge_bass",
                     self.given.source / "sample-audio" / entry["file"])
        file = self.given.scratch / "body.pdf"
        self.sheet("Wren body", "--to", file, "--language", "en")
        text = self.judge_pdf(file, "a4")
        self.holds(text, ("body of “Wren”, violin", "A0", "B1−", "B1+", "set up"), "body")
        for words in ("mode 1", "mode 2", "mode 5", "Hz per g", "1 g more"):
            self.checks.that(words not in text, f"body: the sheet says {words!r}")
        self.checks.that(text.count("B1−") >= 4, "B1− is not in the chart, the modes, the note and the sessions")

    def wood(self, modes):
        """A board tapped as kept: its sheet, beside another wood, and its taps analysed anew."""
        strongest = max(modes, key=lambda mode: mode["level_db"])["hz"]
        recording = self.given.source / "sample-audio" / "heron-back-1.flac"
        self.command("wood", "add", "Maple 7", "--species", "sugar_maple", "--origin", "an invented valley", "--along", 400,
                     "--across", 150, "--thickness", "3,1", "--mass", 120, "--when", "2026-02-02",
                     "--motion", f"along={strongest:.1f}", recording)
        twice = support.run(self.given.program, "wood", "add", "Maple 7", "--along", 400, "--across", 150, "--thickness", "3,1",
                            recording, "--ledger", self.ledger, env=self.env)
        self.checks.that(twice.returncode == 3 and "already" in twice.stderr, f"a test entered twice: {twice.stderr!r}")
        self.command("wood", "add", "Maple 9", "--species", "sugar_maple", "--along", 400, "--across", 30, "--thickness", 6,
                     "--piece", "bar", "--mass", 50, "--motion", "along=210@80")
        self.command("wood", "carve", "Wren back", "Maple 7")
        file = self.given.scratch / "wood.pdf"
        self.sheet("Maple 7", "--wood", "--to", file, "--reference", "Maple 9", "--language", "en", "--moisture", 8)
        self.holds(self.judge_pdf(file, "a4"), ("Wood sheet", "Sugar maple", "invented valley", "Wren back", "Constants",
                                                "stiffness along the grain", "handbook", "Maple 9", "spreads apart",
                                                "as stiff along", "Tests", "board", "bending along the grain"), "wood")
        self.sheet("Maple 9", "--wood", "--to", file, "--language", "de", "--paper", "letter")
        self.holds(self.judge_pdf(file, "letter"), ("Holzblatt", "Zuckerahorn", "Kennwerte", "Proben", "Stab", "getippt"), "wood, German")
        anew = support.read_json(self.given.program, "again", "Maple 7", "--wood", "--keep", "--ledger", self.ledger, env=self.env)
        self.judge(anew, AGAIN, "again")
        motions = anew["woods"][0]["tests"][0]["motions"]
        along = next(one for one in motions if one["motion"] == "along")
        self.checks.that(along["before"] and along["now"] and abs(along["before"]["hz"] - along["now"]["hz"]) < 1e-5 * strongest,
                         f"the board's recordings do not reproduce its tone: {along}")

    def command(self, *words):
        done = support.run(self.given.program, *words, "--ledger", self.ledger, env=self.env, timeout=120)
        self.checks.that(done.returncode == 0, f"{words[:3]}: exit {done.returncode}: {done.stderr}")


if __name__ == "__main__":
    test = Sheet(support.arguments())
    if not all(shutil.which(tool) for tool in ("qpdf", "pdftotext", "pdfinfo", "pdftoppm")):
        print("skipped: qpdf or poppler-utils is not installed")
        raise SystemExit(77)
    heron = test.enter("heron-back-1.flac", "--reference", "Heron's, “liked”")
    for visit in (6, 7, 8, 9):
        test.enter(f"wren-back-{visit}.flac", *(("--notes", LONG) if visit == 7 else ()))
    for day, taken in (("2026-03-20", 0.0), ("2026-03-27", 0.12)):
        support.run(test.given.program, "caliper", "Wren back", test.readings(taken), "--session", day,
                    "--ledger", test.ledger, env=test.env)
    support.run(test.given.program, "plan", "Wren back", "--target", "5=345", "--ledger", test.ledger, env=test.env)
    figures = test.given.scratch / "figures"
    for paper in SIZES:
        file = test.given.scratch / f"{paper}.pdf"
        printed = test.sheet("Wren back", "--to", file, "--paper", paper, "--reference", "Heron's, “liked”",
                             "--figures", figures, "--as", "svg", "--language", "en")
        text = test.judge_pdf(file, paper)
        for wanted in ("Wren back", "mode 5 (ring)", "Drift", "Modes", "Thickness", "Sessions", "Plan of",
                       "can't be put back", "nasal cancer", "лёгкая", "秋田杉", "“liked”"):
            test.checks.that(wanted in text, f"{paper}: the sheet lacks {wanted!r}")
        masses = [f"{support.manifest(test.given.source)[f'wren-back-{visit}.flac']['mass_g']:.1f}" for visit in (6, 7, 8, 9)]
        test.judge_setting(file, ("Drift", "Modes", "Thickness", "Plan", "Where", "Sessions", "By"), masses)
        for wanted in ("Where to take wood", "seen from the inside", "from the centre line", "By hand", "% RH"):
            test.checks.that(wanted in text, f"{paper}: the sheet lacks {wanted!r}")
        test.checks.that("w" * 140 in text.replace(" ", ""), f"{paper}: a long word lost letters")
        test.checks.that(2 <= printed["pages"] <= 4 and len(printed["figures"]) == 2, f"{paper}: {printed}")
    test.checks.that(sorted(path.suffix for path in figures.iterdir()) == [".svg", ".svg"], "figures are lacking")
    file = test.given.scratch / "making.pdf"
    test.languages()
    test.older_plan()
    test.body()
    test.sheet("Wren", "--instrument", "--to", file, "--language", "en")
    text = test.judge_pdf(file, "a4")
    test.holds(text, ("Record of making", "Wren back", "mode 5", "Wren body", "A0", "B1+"), "the instrument")

    again = support.read_json(test.given.program, "again", "Wren back", "--ledger", test.ledger, env=test.env)
    test.judge(again, AGAIN, "again")
    modes = [mode for session in again["plates"][0]["sessions"] for mode in session["modes"]]
    test.checks.that(len(modes) > 20 and all(
        mode["before"] and mode["now"] and abs(mode["before"]["hz"] - mode["now"]["hz"]) < 1e-6 * mode["now"]["hz"]
        for mode in modes), "the kept recordings do not reproduce the stored modes")
    test.wood(heron["modes"])
    test.checks.finish()

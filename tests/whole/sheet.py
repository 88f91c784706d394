#!/usr/bin/env python3
"""The bench sheet: a sound PDF (qpdf), its words there to be found (pdftotext), all of them within the
margins and none on another, on A4 and Letter, with long notes and names in other scripts."""
import html
import re
import shutil
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
                                              "now": json_schema.maybe(json_schema.MODE)}]}]}]}
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

    def sheet(self, *words):
        printed = support.read_json(self.given.program, "sheet", *words, "--ledger", self.ledger, env=self.env)
        self.judge(printed, SHEET, "sheet")
        return printed


if __name__ == "__main__":
    test = Sheet(support.arguments())
    if not all(shutil.which(tool) for tool in ("qpdf", "pdftotext", "pdfinfo")):
        print("skipped: qpdf or poppler-utils is not installed")
        raise SystemExit(77)
    test.enter("heron-back-1.flac", "--reference", "Heron's, “liked”")
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
                             "--figures", figures, "--as", "svg")
        text = test.judge_pdf(file, paper)
        for wanted in ("Wren back", "mode 5 (ring)", "Drift", "Modes", "Thickness", "Sessions", "Plan of",
                       "can't be put back", "nasal cancer", "лёгкая", "秋田杉", "“liked”"):
            test.checks.that(wanted in text, f"{paper}: the sheet lacks {wanted!r}")
        test.checks.that("w" * 140 in text.replace(" ", ""), f"{paper}: a long word lost letters")
        test.checks.that(2 <= printed["pages"] <= 3 and len(printed["figures"]) == 2, f"{paper}: {printed}")
    test.checks.that(sorted(path.suffix for path in figures.iterdir()) == [".svg", ".svg"], "figures are lacking")
    file = test.given.scratch / "making.pdf"
    test.sheet("Wren", "--instrument", "--to", file)
    test.checks.that("Record of making" in test.judge_pdf(file, "a4"), "the instrument's sheet has no title")

    again = support.read_json(test.given.program, "again", "Wren back", "--ledger", test.ledger, env=test.env)
    test.judge(again, AGAIN, "again")
    modes = [mode for session in again["plates"][0]["sessions"] for mode in session["modes"]]
    test.checks.that(len(modes) > 20 and all(
        mode["before"] and mode["now"] and abs(mode["before"]["hz"] - mode["now"]["hz"]) < 1e-6 * mode["now"]["hz"]
        for mode in modes), "the kept recordings do not reproduce the stored modes")
    test.checks.finish()

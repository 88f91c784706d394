#!/usr/bin/env python3
"""The guide says the same in its three languages: the same headings in number and rank, the same keys and
commands, the same cautions, and a part for each view of the window."""
import pathlib
import re
import sys

VIEWS = ("bench", "drift", "session", "beside", "plates", "sound", "settings", "carving", "wood", "files")


def shape(text):
    commands = re.findall(r"platewright (?:[a-z]+ )?[a-z]+|--[a-z]+(?:-[a-z]+)*", text)
    return {"headings": re.findall(r"^(#+) ", text, re.MULTILINE), "help": re.findall(r"<!-- help: (\w+) -->", text),
            "keys": sorted(set(re.findall(r"\| (F\d+|[A-Z]) \|", text))), "options": {c for c in commands if c.startswith("--")},
            "pictures": set(re.findall(r"pictures/[\w-]+\.png", text)), "dust": len(re.findall(r"IARC", text))}


def main(docs):
    faults = []
    shapes = {name: shape((docs / name).read_text(encoding="utf-8")) for name in ("guide.md", "guide.de.md", "guide.it.md")}
    english = shapes["guide.md"]
    for name, one in shapes.items():
        for what in ("headings", "help", "keys", "dust"):
            if one[what] != english[what]:
                faults.append(f"{name}: {what} are {one[what]}, in English {english[what]}")
        for what in ("options", "pictures"):
            if more := one[what] - english[what]:
                faults.append(f"{name}: {what} that the English guide does not have: {sorted(more)}")
        faults += [f"{name}: no part for the view {view}" for view in VIEWS if view not in one["help"]]
        faults += [f"{name}: {picture} is not there" for picture in one["pictures"] if not (docs / picture).is_file()]
    print("\n".join(faults) or "the guides say the same")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(pathlib.Path(sys.argv[1])))

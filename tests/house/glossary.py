#!/usr/bin/env python3
"""Fails where docs/glossary.md names a file that is not there, or a type or function that it does not declare."""
import pathlib
import re
import sys

ENTRY = re.compile(r"\| (?:`(\w+)` in )?`?((?:src|tests|docs)/[\w/.-]+)`? \|$")


def main(root):
    faults, entries = [], 0
    for number, line in enumerate((root / "docs/glossary.md").read_text().splitlines(), 1):
        if not line.startswith("| ") or line.startswith(("| ---", "| here")):
            continue
        entry = ENTRY.search(line)
        if entry is None:
            faults.append(f"line {number} names no file at its end")
            continue
        entries += 1
        name, file = entry.group(1), root / entry.group(2)
        if not file.is_file():
            faults.append(f"line {number}: {entry.group(2)} is not there")
        elif name and not re.search(rf"\b(?:class|struct|enum class) {name}\b|\b{name}\(", file.read_text()):
            faults.append(f"line {number}: {entry.group(2)} does not declare {name}")
    for fault in faults:
        print("docs/glossary.md:", fault)
    print(f"{entries} entries, each where it says")
    return 1 if faults or entries == 0 else 0


if __name__ == "__main__":
    sys.exit(main(pathlib.Path(sys.argv[1])))

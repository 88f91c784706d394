#!/usr/bin/env python3
"""Fails where something lies at the top level that does not belong there, where a folder of src/ holds more files than a
newcomer reads through, where a folder in a room is not on the page that tells the rooms, and where that page tells of a folder that is not there."""
import pathlib
import re
import sys

TOP_LEVEL = {"CMakeLists.txt", "CMakePresets.json", "DEVELOPERS.md", "LICENSE", "README.md", "build", "docs", "sample-audio", "src",
             "tests", "third_party"}  # and what begins with a dot
MOST_FILES = 24  # docs/architecture.md: "some twenty"


def faults(root):
    for entry in sorted(path.name for path in root.iterdir()):
        if entry not in TOP_LEVEL and not entry.startswith("."):
            yield f"{entry} does not belong at the top level"
    told = {f"{room}/{folder}" for room, folders in
            re.findall(r"^\| `(\w+)/` \|[^|]*\|[^|]*\| ([^|]*) \|$",
                       (root / "docs/architecture.md").read_text(encoding="utf-8"), re.M)
            for folder in re.findall(r"`(\w+)/`", folders)}
    there = set()
    for folder in sorted(path for path in (root / "src").rglob("*") if path.is_dir()):
        name = folder.relative_to(root / "src").as_posix()
        count = len(list(folder.glob("*.[ch]pp")))
        if count > MOST_FILES:
            yield f"src/{name} holds {count} files: {MOST_FILES} at the most; group them by what is looked for"
        if "/" in name and count:
            there.add(name)
            if name not in told:
                yield f"src/{name} is not told of in docs/architecture.md"
    for name in sorted(told - there):
        yield f"docs/architecture.md tells of src/{name}, which is not there"


if __name__ == "__main__":
    found = list(faults(pathlib.Path(sys.argv[1])))
    print("\n".join(found) or "every folder can be read through, and is on the page")
    sys.exit(1 if found else 0)

#!/usr/bin/env python3
"""Fails where two files of a room each have a name of their own that is the same. In an unnamed namespace it is nobody
else's, but the release build compiles several files as one (DEVELOPERS.md): there the second is refused or, a function
with another signature, called where the first was meant. Aliases of one and the same thing may be repeated."""
import collections
import pathlib
import re
import sys

LITERAL = re.compile(r'R"\w*\(.*?\)\w*"|"(?:\\.|[^"\\\n])*"|//[^\n]*', re.S)
OWN = re.compile(r"^namespace \{$(.*?)(?:^\} // namespace$|\Z)", re.M | re.S)
# A declaration begins at the left margin, as clang-format lays it out.
TYPE = re.compile(r"(?:struct|class|enum class|enum|union|using)\s+(\w+)\b(?!::)")
OTHER = re.compile(r"[\w:<>,&*\s\[\]\"]*?[\s&*>](\w+)\s*[({=;\[]")
ALIAS = re.compile(r"(?:using|namespace) \w+ =|using (?!\w+ )")


def own_names(text):
    """(name, what declares it) for each of a file's unnamed namespaces."""
    for code in OWN.findall(text):
        for line in LITERAL.sub(lambda found: "" if found[0][0] == "/" else '""', code).splitlines():
            line = re.sub(r"^template\s*<.*?>\s*(?=\w)", "", line)
            if not line or line[0] in " }#)]" or ALIAS.match(line) and "=" not in line:
                continue
            if found := TYPE.match(line) or OTHER.match(line):
                yield found[1], line
            for name in re.findall(r"\bk_\w+(?=\s*[={\[])", line):
                yield name, line


def faults(root):
    rooms = sorted(path.name for path in (root / "src").iterdir() if path.is_dir())
    for folder in [root / top / room for top in ("src", "tests") for room in rooms]:
        own = collections.defaultdict(dict)
        for path in sorted(folder.rglob("*.cpp")):
            for name, line in own_names(path.read_text(encoding="utf-8")):
                own[name][path.relative_to(root).as_posix()] = line
        for name, places in own.items():
            lines = set(places.values())
            if len(places) > 1 and not (len(lines) == 1 and ALIAS.match(lines.pop())):
                yield f"{name} stands in {' and '.join(places)}: give each the name of what it is in that file"


if __name__ == "__main__":
    found = list(faults(pathlib.Path(sys.argv[1])))
    print("\n".join(found) or "no two files of a room have a name of their own in common")
    sys.exit(1 if found else 0)

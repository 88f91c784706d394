#!/usr/bin/env python3
"""Does any test miss it? Changes one line of a room at a time (a sign, a comparison, a constant tenfold), builds that
room's tests and runs them: a mutant that passes is printed, to be killed by a test or explained. By hand, for it takes
a build a mutant:

    python3 -B tests/house/mutate.py --build build/edit --rooms taps modes --count 40 --seed 1

The tree must have no uncommitted changes in src/; every line is put back, also on Ctrl C."""
import argparse
import pathlib
import random
import re
import subprocess
import sys

ROOMS = ("taps", "modes", "plate", "trends", "ledger")
CONSTANT = re.compile(r"constexpr (?:double|float|int|std::size_t|long|std::ptrdiff_t)\b.*?[=,{ ](-?\d+(?:\.\d+)?(?:e-?\d+)?)(?=[;,}])")
SWAPS = ((" < ", " >= "), (" > ", " <= "), (" <= ", " > "), (" >= ", " < "), (" + ", " - "), (" - ", " + "), (" * ", " / "),
         (" / ", " * "), (" && ", " || "), (" || ", " && "), (" == ", " != "), (" != ", " == "), ("std::min(", "std::max("),
         ("std::max(", "std::min("), ("+= ", "-= "), ("-= ", "+= "))
TOO_LONG_S = 600


def mutants_of(file):
    """(line number, mutated line) for each single change that the file's code allows."""
    for number, line in enumerate(file.read_text().splitlines()):
        code = line.split("//")[0]
        if code.lstrip().startswith(("#", "template")) or any(word in code for word in ("static_assert", ".reserve(", "\"")):
            continue
        for found in CONSTANT.finditer(code):
            value = float(found.group(1))
            for factor in (10, 0.1):
                changed = value * factor if value else factor
                text = str(round(changed)) if found.group(1).lstrip("-").isdigit() and changed == round(changed) else repr(changed)
                if "." not in found.group(1) and "." in text:
                    continue
                yield number, line[:found.start(1)] + text + line[found.end(1):]
        for old, new in SWAPS:
            at = code.find(old)
            while at >= 0:
                yield number, line[:at] + new + line[at + len(old):]
                at = code.find(old, at + len(old))


def run(words, timeout):
    try:
        return subprocess.run(words, capture_output=True, text=True, errors="replace", timeout=timeout).returncode
    except subprocess.TimeoutExpired:
        return None


def fate(build, room, file, number, changed):
    """killed, survived, or unbuilt: the compiler refused it, and it tells nothing."""
    was = file.read_text()
    lines = was.splitlines(keepends=True)
    lines[number] = changed + "\n"
    try:
        file.write_text("".join(lines))
        if run(["cmake", "--build", build, "--target", f"{room}_test"], None) != 0:
            return "unbuilt"
        return "survived" if run([f"{build}/bin/{room}_test"], TOO_LONG_S) == 0 else "killed"
    finally:
        file.write_text(was)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--build", default="build/edit")
    parser.add_argument("--rooms", nargs="+", default=ROOMS, choices=ROOMS)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    if subprocess.run(["git", "diff", "--quiet", "--", "src"]).returncode != 0:
        sys.exit("src/ has changes that are not committed: commit or lay them aside first; nothing was touched.")
    chosen = [(room, file, *mutant) for room in given.rooms
              for file in sorted(pathlib.Path("src", room).rglob("*.cpp")) for mutant in mutants_of(file)]
    random.Random(given.seed).shuffle(chosen)
    tried = {"killed": 0, "survived": 0, "unbuilt": 0}
    for room, file, number, changed in chosen:
        if tried["killed"] + tried["survived"] >= given.count:
            break
        was = file.read_text().splitlines()[number]
        end = fate(given.build, room, file, number, changed)
        tried[end] += 1
        if end == "survived":
            print(f"SURVIVED {file}:{number + 1}\n  - {was.strip()}\n  + {changed.strip()}", flush=True)
    told = tried["killed"] + tried["survived"]
    print(f"{tried['killed']} of {told} mutants died ({tried['unbuilt']} more did not compile)")
    for room in given.rooms:  # what was put back is built again
        run(["cmake", "--build", given.build, "--target", f"{room}_test"], None)


if __name__ == "__main__":
    main()

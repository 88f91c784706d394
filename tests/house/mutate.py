#!/usr/bin/env python3
"""Does any test miss it? Changes one line of a room at a time (a sign, a comparison, a constant tenfold), links that
room's tests with the changed file in its place and runs them: a mutant that passes is printed, to be killed by a test
or explained. By hand, for it takes a compile a mutant:

    python3 -B tests/house/mutate.py --build build/edit --rooms taps modes --count 40 --seed 1 | tee survivors.txt
    python3 -B tests/house/mutate.py --build build/edit --again survivors.txt

Count is of each room. A room's quick tests run first, the slow ones only where these pass; the first failure ends a
run. The changed file is a copy: src/ stays as it is."""
import argparse
import bisect
import itertools
import json
import os
import pathlib
import random
import re
import resource
import shlex
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

ROOMS = ("taps", "modes", "plate", "trends", "ledger")
CONSTANT = re.compile(r"constexpr (?:double|float|int|std::size_t|long|std::ptrdiff_t)\b.*?[=,{ ](-?\d+(?:\.\d+)?(?:e-?\d+)?)(?=[;,}])")
SWAPS = ((" < ", " >= "), (" > ", " <= "), (" <= ", " > "), (" >= ", " < "), (" + ", " - "), (" - ", " + "), (" * ", " / "),
         (" / ", " * "), (" && ", " || "), (" || ", " && "), (" == ", " != "), (" != ", " == "), ("std::min(", "std::max("),
         ("std::max(", "std::min("), ("+= ", "-= "), ("-= ", "+= "))
SHARES = (0.01, 0.15, 1)  # of the time that all take: a room's tests are asked in three parts, the cheapest first
MOST_BYTES = 4 << 30  # a change may make a loop that never ends and keeps what it finds
TOLD = re.compile(r"SURVIVED (\S+):(\d+)\n  - (.*)\n  \+ (.*)")


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


def run(words, timeout, most_bytes=resource.RLIM_INFINITY, cwd=None):
    def bounded():
        resource.setrlimit(resource.RLIMIT_AS, (most_bytes, most_bytes))
    try:
        return subprocess.run(words, capture_output=True, timeout=timeout, preexec_fn=bounded, cwd=cwd).returncode
    except subprocess.TimeoutExpired:
        return None


class Tests:
    """A room's tests, quick ones first; what takes ten times as long as without a change has failed."""

    def __init__(self, build, room, folder, quick_only):
        target = f"{room}_test"
        self.build, self.program, self.folder = build, f"{build}/bin/{target}", pathlib.Path(folder)
        if run(["cmake", "--build", build, "--target", target], None) != 0:
            sys.exit(f"{target} does not build as the code stands")
        ninja = subprocess.run(["ninja", "-C", build, "-t", "commands", target], check=True, capture_output=True, text=True)
        links = [part for line in ninja.stdout.splitlines() for part in line.split(" && ") if f"-o bin/{target} " in part]
        # What stands before the rooms' archives is taken in place of theirs.
        self.link = links[-1].replace(f"-o bin/{target} ", f"-o {self.folder}/mutant {self.folder}/mutant.o ")
        compiles = json.loads(pathlib.Path(build, "compile_commands.json").read_text())
        self.compile = {os.path.realpath(one["file"]): shlex.split(one["command"]) for one in compiles}
        # By cheapest first: on a busy machine seconds tell little by themselves.
        took = sorted(self.times(target), key=lambda one: one[1])
        done = list(itertools.accumulate(seconds for _, seconds in took))
        ends = [bisect.bisect_right(done, share * done[-1]) for share in SHARES[:-1]] + [len(took)]
        self.parts = []
        for begin, end in itertools.pairwise([0, *ends[:2 if quick_only else 3]]):
            tests = took[begin:end]
            if tests:
                file = self.folder / f"{room}_{len(self.parts)}.txt"
                # To Catch2 a comma ends a name, also in a file; its own CMake script writes it so.
                file.write_text("".join(re.sub(r"([\\,\[])", r"\\\1", name) + "\n" for name, _ in tests))
                self.check_all_named(file, len(tests))
                self.parts.append((file, 10 + 10 * sum(seconds for _, seconds in tests)))

    def times(self, target):
        """(name, seconds) of each test as the code stands; kept beside the build, for it is the longest run of all."""
        kept = pathlib.Path(self.build, f"{target}_times.xml")
        if not kept.exists() or kept.stat().st_mtime < os.path.getmtime(self.program):
            told = subprocess.run([self.program, "-r", "xml", "-d", "yes"], capture_output=True, text=True, errors="replace")
            if told.returncode != 0:
                sys.exit(f"{target} fails as the code stands")
            kept.write_text(told.stdout)
        return [(case.get("name"), float(case.find("OverallResult").get("durationInSeconds")))
                for case in xml.etree.ElementTree.fromstring(kept.read_text()).iter("TestCase")]

    def check_all_named(self, file, count):
        """A name that matches no test would let every change pass."""
        told = subprocess.run([self.program, "--list-test-names-only", "--input-file", str(file)], capture_output=True, text=True)
        if len(told.stdout.splitlines()) != count:
            sys.exit(f"{count} of the room's tests are meant, {len(told.stdout.splitlines())} are found by their names")

    def built(self, file, text):
        """Whether the compiler takes this text in the file's place. At -O1: half the time, and one file's."""
        source = self.folder / "mutant.cpp"
        source.write_text(text)
        words = list(self.compile[os.path.realpath(file)])
        words[words.index("-o") + 1], words[words.index("-c") + 1] = f"{self.folder}/mutant.o", str(source)
        words = [word for word in words if not word.endswith("ccache") and not word.startswith("-W")] + ["-O1", "-g0", f"-I{os.path.realpath(file.parent)}"]
        return run(words, None, cwd=self.build) == 0 and run(shlex.split(self.link), None, cwd=self.build) == 0

    def pass_all(self):
        return all(run([self.folder / "mutant", "--abort", "--input-file", str(file)], longest, MOST_BYTES) == 0
                   for file, longest in self.parts)


def fate(tests, file, number, changed):
    """killed, survived, or unbuilt: the compiler refused it, and it tells nothing."""
    lines = file.read_text().splitlines(keepends=True)
    lines[number] = changed + "\n"
    if not tests.built(file, "".join(lines)):
        return "unbuilt"
    return "survived" if tests.pass_all() else "killed"


def chosen_at_random(room, seed):
    """All of a room's mutants, shuffled."""
    mutants = [(file, *mutant) for file in sorted(pathlib.Path("src", room).rglob("*.cpp")) for mutant in mutants_of(file)]
    random.Random(seed).shuffle(mutants)
    return mutants


def told_before(text):
    """What an earlier run printed as survivors, as the code stands now: lines may have moved; what is no more is told."""
    for name, number, old, new in TOLD.findall(text):
        file = pathlib.Path(name)
        lines = file.read_text().splitlines() if file.exists() else []
        at = [i for i, line in enumerate(lines) if line.strip() == old]
        if at:
            nearest = min(at, key=lambda i: abs(i + 1 - int(number)))
            yield file, nearest, new
        else:
            print(f"GONE {name}:{number}\n  - {old}", flush=True)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--build", default="build/edit")
    parser.add_argument("--rooms", nargs="+", default=ROOMS, choices=ROOMS)
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--again", type=pathlib.Path, help="what an earlier run printed: only its survivors")
    parser.add_argument("--quick", action="store_true", help="the quick tests only; the others may kill some of what is left")
    given = parser.parse_args()
    before = list(told_before(given.again.read_text())) if given.again else []
    with tempfile.TemporaryDirectory() as folder:
        for room in given.rooms:
            chosen = ([mutant for mutant in before if mutant[0].parts[1] == room] if given.again
                      else chosen_at_random(room, given.seed))
            if not chosen:
                continue
            tests = Tests(given.build, room, folder, given.quick)
            tried = {"killed": 0, "survived": 0, "unbuilt": 0}
            for file, number, changed in chosen:
                if not given.again and tried["killed"] + tried["survived"] >= given.count:
                    break
                was = file.read_text().splitlines()[number]
                end = fate(tests, file, number, changed)
                tried[end] += 1
                print(f"\r{room}: {sum(tried.values())} tried, {tried['survived']} survived ", end="", file=sys.stderr, flush=True)
                if end == "survived":
                    print(f"SURVIVED {file}:{number + 1}\n  - {was.strip()}\n  + {changed.strip()}", flush=True)
            told = tried["killed"] + tried["survived"]
            print(f"{room}: {tried['killed']} of {told} mutants died ({tried['unbuilt']} more did not compile)", flush=True)


if __name__ == "__main__":
    main()

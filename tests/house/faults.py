#!/usr/bin/env python3
"""Would a test notice, were a fault that was found by use back? Puts each of faults_of_*.py back as one small change of
the mending code, builds that room's tests, runs the test that is to notice, and says whether it failed. By hand, for it
takes a build a fault:

    python3 -B tests/house/faults.py --build build/edit [A12 C5 "taking back" …]

docs/faults-and-tests.md holds what it printed. The tree must have no uncommitted changes in src/; every file is put
back, also on Ctrl C. With --look SRC nothing is changed nor built: it fails where a fault can't be put back any more
because the code that mended it reads otherwise now, or no test bears the name."""
import argparse
import fnmatch
import pathlib
import re
import subprocess
import sys

import faults_of_advice
import faults_of_loss
import faults_of_the_job

FAULTS = faults_of_advice.FAULTS + faults_of_loss.FAULTS + faults_of_the_job.FAULTS
TOO_LONG_S = 300


class Moved(Exception):
    """What mended a fault stands elsewhere, or reads otherwise now."""


def with_fault(source, edits):
    """The files that put a fault back: of each its path, its text and its text with the fault."""
    texts = {}
    for file, old, new in zip(edits[::3], edits[1::3], edits[2::3], strict=True):
        path = pathlib.Path(source, file)
        if path not in texts:
            if not path.is_file():
                raise Moved(f"{path} is not there")
            text = path.read_text(encoding="utf-8")
            texts[path] = (text, text)
        was, text = texts[path]
        if text.count(old) != 1:
            raise Moved(f"{path} has {text.count(old)} times, not once: {old.strip().splitlines()[0]}")
        texts[path] = (was, text.replace(old, new))
    return texts


def run(words, timeout):
    try:
        return subprocess.run(words, capture_output=True, text=True, errors="replace", timeout=timeout)
    except subprocess.TimeoutExpired as late:
        return subprocess.CompletedProcess(late.cmd, None, "", f"still running after {timeout} s")


def outcome(build, room, test, edits):
    """What the test says with the fault back: a line of its words where it fails."""
    try:
        texts = with_fault("src", edits)
    except Moved as where:
        return f"NOT TRIED: {where}"
    try:
        for path, (_, text) in texts.items():
            path.write_text(text, encoding="utf-8")
        if room != "house":
            built = run(["cmake", "--build", build, "--target", "platewright" if room == "whole" else f"{room}_test"], None)
            if built.returncode != 0:
                return "NOT TRIED: the compiler refuses it: " + next((line for line in built.stdout.splitlines() if "error:" in line), "")
        tested = run(["ctest", "--test-dir", build, "-R", f"^{room}: {test}$", "--output-on-failure", "--no-tests=error"] if room in ("whole", "house") else
                     [f"{build}/bin/{room}_test", test.replace(",", "\\,"), "-w", "NoTests"], TOO_LONG_S)
    finally:
        for path, (was, _) in texts.items():
            path.write_text(was, encoding="utf-8")
    if tested.returncode == 0:
        return "MISSED"
    if tested.returncode is None:
        return "noticed: does not end"
    if "No test cases matched" in tested.stdout + tested.stderr:
        return "NOT TRIED: there is no such test"
    return "noticed: " + what_failed((tested.stdout + tested.stderr).splitlines())


def what_failed(lines):
    for i, line in enumerate(lines):
        if line.endswith(": FAILED:"):
            told = [one.strip() for one in lines[i + 1:i + 6] if one.strip() and not one.strip().startswith(("{Unknown", "due to"))]
            return told[0] if told else line
        if line.startswith("FAILED: "):
            return line[len("FAILED: "):]
        if re.match(r"\w+Error: ", line):  # of a script: what it waited for did not come
            return line
    return next((line.strip() for line in lines if "signal" in line or "ssert" in line or "terminate" in line), lines[-1] if lines else "")


def tests_of(source, room):
    """The names of a room's tests, as its files have them."""
    folder = pathlib.Path(source, "..", "tests", room)
    if room == "whole":
        return [file.stem for file in folder.glob("*.py")]
    if room == "house":
        return re.findall(r'"house: ([^"]*)"', (folder / "CMakeLists.txt").read_text(encoding="utf-8"))
    names = []
    for file in folder.glob("*.cpp"):
        for parts in re.findall(r'TEST_CASE\(\s*((?:"(?:[^"\\]|\\.)*"\s*)+)', file.read_text(encoding="utf-8")):
            names.append("".join(re.findall(r'"((?:[^"\\]|\\.)*)"', parts)))
    return names


def look(source):
    """What keeps a fault from being put back, a line each; none: each still can be."""
    names = {}
    for number, what, room, test, *edits in FAULTS:
        if room not in names:
            names[room] = tests_of(source, room)
        if not fnmatch.filter(names[room], test):
            yield f"{number}, {what}: {room} has no test “{test}”"
        try:
            with_fault(source, edits)
        except Moved as where:
            yield f"{number}, {what}: {where}"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--build", default="build/edit")
    parser.add_argument("--look", metavar="SRC", help="only see whether each can still be put back")
    parser.add_argument("faults", nargs="*", help="their numbers, rooms, or words of what they were; all unless said")
    given = parser.parse_args()
    if given.look:
        found = list(look(given.look))
        sys.exit("\n".join(found) if found else 0)
    if subprocess.run(["git", "diff", "--quiet", "--", "src"], check=False).returncode != 0:
        sys.exit("src/ has changes that are not committed: commit or lay them aside first; nothing was touched.")
    missed = 0
    for number, what, room, test, *edits in FAULTS:
        if given.faults and not any(word in (number, room) or len(word) > 3 and word in what for word in given.faults):
            continue
        said = outcome(given.build, room, test, edits)
        missed += not said.startswith("noticed")
        print(f"| {number} | {what} | {room}: {test} | {said.replace('|', '&#124;')} |", flush=True)
    sys.exit(1 if missed else 0)


if __name__ == "__main__":
    main()

#!/usr/bin/env python3
"""Does a test notice when a constant of a room is ten times as large or as small? The room is built once more in a
folder of its own with its constants read from the environment, so that a change costs a run and no build; what its
tests let pass is printed, to be killed by a test or taken out of the code. By hand:

    python3 -B tests/house/tenfold.py --build build/edit taps [--only judge.cpp] [--tests "~[slow]"]

Only `constexpr double` is changed: sizes and counts are mutate.py's. The room's tests must have been built."""
import argparse
import os
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

DECLARED = re.compile(r"(static )?constexpr double (\w+(?: =|\{)[^;]*);", re.S)
READER = """#pragma once
#include <cstdlib>
#include <string>
/// The constant as it stands, or as TENFOLD=NAME:FACTOR says.
inline double tenfold(const char* name, double value) {
    const char* asked = std::getenv("TENFOLD");
    const std::string_view all = asked ? asked : "";
    const auto at = all.rfind(':');
    return at != all.npos && all.substr(0, at) == name ? value * std::atof(asked + at + 1) : value;
}
"""


def parts_of(declaration):
    """`a = 1, b = f(2, 3)` at its outer commas."""
    depth, part = 0, ""
    for character in re.sub(r"//[^\n]*", "", declaration):
        depth += (character in "({[") - (character in ")}]")
        if character == "," and depth == 0:
            yield part
            part = ""
        else:
            part += character
    yield part


def loosened(file, names):
    """The file's text with its constants read at run time; their names are added."""
    def changed(found):
        of_class, declaration = found.groups()
        words = []
        for part in parts_of(declaration):
            name, _, value = part.partition("=")
            if not value:
                return found.group(0)
            names.append(f"{file.name}:{name.strip()}")
            words.append(f'{name.strip()} = tenfold("{names[-1]}", {value.strip()})')
        return f"{'inline ' if of_class else ''}static const double {', '.join(words)};"
    text = DECLARED.sub(changed, file.read_text())
    once = "#pragma once\n" if file.suffix == ".hpp" else ""
    return once + '#include "tenfold.hpp"\n' + text.replace("#pragma once\n", "", 1)


def build(given, folder, names):
    """The room's tests with loosened constants; a file that must know one while it is compiled stays as it is."""
    commands = subprocess.run(["ninja", "-C", given.build, "-t", "commands", f"{given.room}_test"], check=True,
                              capture_output=True, text=True).stdout.splitlines()
    (folder / "tenfold.hpp").write_text(READER)
    room = pathlib.Path("src", given.room)
    for file in sorted(room.rglob("*.[ch]pp")):
        found = []
        chosen = not given.only or file.name in given.only
        copy = folder / file.relative_to("src")
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_text(loosened(file, found) if chosen else file.read_text())
        names += found
    objects = []
    for command in commands:
        at = command.find(f"/src/{given.room}/")
        if " -c " not in command or at < 0 or f"_{given.room}.dir/" not in command:
            continue
        words = shlex.split(command)
        source = pathlib.Path(words[words.index("-c") + 1])
        copy = folder / source.resolve().relative_to(pathlib.Path("src").resolve())
        words[words.index("-c") + 1] = str(copy)
        objects.append(str(copy.with_suffix(".o")))
        words[words.index("-o") + 1] = objects[-1]
        compiler = next(i for i, word in enumerate(words) if word.endswith(("c++", "g++", "clang++")))
        words[compiler + 1:compiler + 1] = [f"-I{folder}", f"-I{copy.parent}"]
        done = subprocess.run([w for w in words if not w.startswith("-W")], cwd=given.build, capture_output=True, text=True)
        if done.returncode != 0:
            sys.exit(f"{source.name} has a constant that must be known while it is compiled: name the others by --only\n"
                     + done.stderr[:2000])
    link = next(c for c in reversed(commands) if f"-o bin/{given.room}_test" in c)
    link = link.replace(f"src/libplatewright_{given.room}.a", " ".join(objects), 1)
    program = folder / "tests"
    link = link.replace(f"-o bin/{given.room}_test", f"-o {program}").split(" && ")
    subprocess.run(next(part for part in link if f"-o {program}" in part), cwd=given.build, shell=True, check=True)
    return program


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("room")
    parser.add_argument("--build", default="build/edit")
    parser.add_argument("--only", nargs="+", help="files of the room")
    parser.add_argument("--tests", nargs="*", default=[], help="which of the room's tests")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as where:
        names = []
        program = build(given, pathlib.Path(where), names)

        def survives(change):
            try:
                done = subprocess.run([program, "--abort", *given.tests], capture_output=True, timeout=600,
                                      env={**os.environ, "TENFOLD": change})
            except subprocess.TimeoutExpired:
                return False
            return done.returncode == 0
        if not survives(""):
            sys.exit("the tests fail as the constants stand")
        changes = [f"{name}:{factor}" for name in names for factor in (10, 0.1)]
        left = 0
        for change in changes:
            if survives(change):
                left += 1
                print("SURVIVED", *change.rsplit(":", 1), flush=True)
    print(f"{len(changes) - left} of {len(changes)} changes were noticed")


if __name__ == "__main__":
    main()

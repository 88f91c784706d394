#!/usr/bin/env python3
"""The manual page is true to the program: it names every command and option that --help does, and none
besides; and --version and the exit codes are as it says."""
import re

import support


def options(text):
    return set(re.findall(r"(?<![\w-])--[a-z]+(?:-[a-z]+)*", text))


if __name__ == "__main__":
    given = support.arguments()
    env = support.private_environment(given.scratch)
    check = support.Checks()
    page = (given.source / "docs" / "platewright.1").read_text(encoding="utf-8").replace(r"\-", "-")

    def help_of(*words):
        done = support.run(given.program, *words, "--help", env=env)
        check.that(done.returncode == 0, f"{words} --help: exit {done.returncode}")
        return done.stdout

    overall = help_of()
    commands = re.findall(r"^  ([a-z]+)  +[A-Z]", overall.split("Subcommands:")[1], re.MULTILINE)
    check.that(len(commands) >= 5, f"--help names only {commands}")
    helped = options(overall)
    for command in commands:
        check.that(f".B {command}\n" in page, f"the manual has no entry for {command}")
        text = help_of(command)
        helped |= options(text)
        below = text.split("Subcommands:")[1] if "Subcommands:" in text else ""
        for part in re.findall(r"^  ([a-z]+)  +[A-Z]", below, re.MULTILINE):
            helped |= options(help_of(command, part))
    for option in sorted(helped - options(page)):
        check.that(False, f"the manual does not name {option}")
    for option in sorted(options(page) - helped):
        check.that(False, f"the manual names {option}, which no command has")
    version = support.run(given.program, "--version", env=env)
    check.that(version.returncode == 0 and version.stdout.startswith("platewright "),
               f"--version prints {version.stdout!r}")
    for words, code in (((), 1), (("sing",), 2), (("read", "nothing-there.wav"), 3),
                        (("drift", "no such plate"), 4)):
        done = support.run(given.program, *words, env=env)
        check.that(done.returncode == code, f"{words}: exit {done.returncode}, not {code}")
    check.finish()

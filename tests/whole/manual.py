#!/usr/bin/env python3
"""The manual pages are true to the program: in each language they name every command and option that --help
does, and none besides; and --version and the exit codes are as they say."""
import re

import support


def options(text):
    return set(re.findall(r"(?<![\w-])--[a-z]+(?:-[a-z]+)*", text))


if __name__ == "__main__":
    given = support.arguments()
    env = support.private_environment(given.scratch)
    check = support.Checks()
    pages = {name: (given.source / "docs" / name).read_text(encoding="utf-8").replace(r"\-", "-")
             for name in ("platewright.1", "platewright.de.1", "platewright.it.1")}

    def help_of(*words):
        done = support.run(given.program, *words, "--help", env=env)
        check.that(done.returncode == 0, f"{words} --help: exit {done.returncode}")
        return done.stdout

    overall = help_of()
    commands = re.findall(r"^  ([a-z]+)  +[A-Z]", overall.split("Subcommands:")[1], re.MULTILINE)
    check.that(len(commands) >= 5, f"--help names only {commands}")
    helped = options(overall)
    for command in commands:
        for name, page in pages.items():
            check.that(f".B {command}\n" in page, f"{name} has no entry for {command}")
        text = help_of(command)
        helped |= options(text)
        below = text.split("Subcommands:")[1] if "Subcommands:" in text else ""
        for part in re.findall(r"^  ([a-z]+)  +[A-Z]", below, re.MULTILINE):
            helped |= options(help_of(command, part))
    for name, page in pages.items():
        for option in sorted(helped - options(page)):
            check.that(False, f"{name} does not name {option}")
        for option in sorted(options(page) - helped):
            check.that(False, f"{name} names {option}, which no command has")
    version = support.run(given.program, "--version", env=env)
    check.that(version.returncode == 0 and version.stdout.startswith("platewright "),
               f"--version prints {version.stdout!r}")
    for name, page in pages.items():
        check.that(f"Platewright {version.stdout.split()[1]}" in page.splitlines()[0], f"{name} is of another version")
    for words, code in (((), 1), (("sing",), 2), (("read", "nothing-there.wav"), 3),
                        (("drift", "no such plate"), 4)):
        done = support.run(given.program, *words, env=env)
        check.that(done.returncode == code, f"{words}: exit {done.returncode}, not {code}")
    check.finish()

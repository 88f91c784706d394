#!/usr/bin/env python3
"""A bundle that is double-clicked, or named to the program: what it would bring is shown first, in the
terminal and in a window, and it is taken in only when that is said."""
import os
import pty
import subprocess
import time

import support


def in_terminal(test, file, answer, ledger):
    """The program with a terminal of its own that answers once it is asked."""
    ours, its = pty.openpty()
    with support.started([test.given.program, file, "--ledger", ledger], stdin=its, stdout=its, stderr=its,
                         env=test.env) as process:
        os.close(its)
        said, end = "", time.monotonic() + 60
        while time.monotonic() < end:
            try:
                said += os.read(ours, 4096).decode("utf-8", "replace")
            except OSError: # it has ended
                break
            if answer and said.rstrip().endswith("[y/N]"):
                os.write(ours, (answer + "\n").encode())
                answer = None
        code = process.wait(10)
    os.close(ours)
    return code, said


def sessions(test, ledger):
    done = support.run(test.given.program, "drift", "Wren back", "--json", "--ledger", ledger, env=test.env)
    return done.stdout.count('"begun"') if done.returncode == 0 else 0


def in_window(test, file, key, ledger):
    """Asked in a window: Esc leaves it, Enter takes it in and the program's own window comes up."""
    with support.screen(test.given.scratch, test.env) as seen:
        with support.started([test.given.program, file, "--ledger", ledger], stdin=subprocess.DEVNULL,
                             stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=seen) as process:
            def windows():
                return subprocess.run(["xdotool", "search", "--pid", str(process.pid), "--name", "Platewright"], env=seen,
                                      capture_output=True, text=True, check=False).stdout.split()
            first = support.wait_until(windows, 30, "the question's window")[0]
            time.sleep(1.0)
            # The window may be gone before the key is let go.
            subprocess.run(["xdotool", "key", "--window", first, key], env=seen, stderr=subprocess.DEVNULL, check=False)
            if key == "Escape":
                test.checks.that(process.wait(20) == 0, "Esc does not end it with 0")
            else:
                support.wait_until(lambda: [one for one in windows() if one != first] or sessions(test, ledger), 60,
                                   "the program's own window")
                test.checks.that(process.poll() is None, "after taking it in no window is there")


if __name__ == "__main__":
    test = support.OwnLedger(support.arguments())
    file = test.given.scratch / "wren.platewright"
    test.run("enter", "--plate", "Wren back", "--instrument", "Wren", test.given.source / "sample-audio" / "wren-back-8.flac")
    test.checks.that(test.run("bundle", "out", file, "--instrument", "Wren").returncode == 0, "no bundle was written")
    there = [test.given.scratch / name for name in ("no", "yes", "window", "nobody")]
    code, said = in_terminal(test, file, "n", there[0])
    test.checks.that(code == 0 and "only a look" in said and "Nothing was taken in" in said, f"n: {code}, {said!r}")
    test.checks.that(sessions(test, there[0]) == 0, "taken in though the answer was no")
    code, said = in_terminal(test, file, "y", there[1])
    test.checks.that(code == 0 and "It is in the ledger" in said, f"y: {code}, {said!r}")
    test.checks.that(sessions(test, there[1]) == 1, "not taken in though the answer was yes")
    code, said = in_terminal(test, file, None, there[1])
    test.checks.that(code == 0 and "[y/N]" not in said, f"asked although all of it is there: {said!r}")
    done = support.run(test.given.program, file, "--ledger", there[3], env=test.env)
    test.checks.that(done.returncode == 1 and len(done.stderr.splitlines()) == 1, f"nobody to ask: {done}")
    for name, code in (("nothing.platewright", 3), ("sing", 2)):
        done = support.run(test.given.program, name, env=test.env)
        test.checks.that(done.returncode == code and len(done.stderr.splitlines()) == 1, f"{name}: {done}")
    support.need("Xvfb", "xdotool")
    in_window(test, file, "Escape", there[2])
    test.checks.that(sessions(test, there[2]) == 0, "taken in though Esc was pressed")
    in_window(test, file, "Return", there[2])
    test.checks.that(sessions(test, there[2]) == 1, "not taken in though Enter was pressed")
    test.checks.finish()

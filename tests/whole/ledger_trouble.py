#!/usr/bin/env python3
"""A ledger in trouble, and no microphone: one sentence with the remedy, the documented exit code, and
nothing lost that was kept."""
import contextlib
import os
import shutil
import sqlite3
import subprocess
import sys

import support


class Trouble:
    def __init__(self, given):
        self.given = given
        self.env = support.private_environment(given.scratch)
        self.checks = support.Checks()
        self.recording = given.source / "sample-audio" / "wren-back-9.flac"

    def enter(self, ledger, plate="Wren back", how=None):
        words = [self.given.program, "enter", "--ledger", ledger, "--plate", plate, "--mass", "100,6",
                 self.recording]
        return subprocess.run([str(word) for word in words], env=self.env, timeout=120, text=True,
                              stdin=subprocess.DEVNULL, capture_output=True, preexec_fn=how)

    def sentence(self, done, code, name):
        said = done.stderr.strip()
        self.checks.that(done.returncode == code, f"{name}: exit {done.returncode}, not {code}: {said}")
        self.checks.that(said and len(said.splitlines()) == 1 and said.endswith("."),
                         f"{name}: not one sentence: {said!r}")
        for entrails in ("what()", "terminate", "std::", "SQLITE", "errno"):
            self.checks.that(entrails not in said, f"{name}: shows {entrails}: {said!r}")

    def kept(self, ledger, name):
        """Taps in the ledger; each must have its recording, and the database must be sound."""
        with contextlib.closing(sqlite3.connect(f"file:{ledger / 'ledger.sqlite'}?mode=ro",
                                                uri=True)) as database:
            self.checks.that(database.execute("PRAGMA integrity_check").fetchall() == [("ok",)],
                             f"{name}: the database is damaged")
            rows = [hash_ for (hash_,) in database.execute("SELECT recording FROM tap")]
        files = {path.stem for path in (ledger / "recordings").rglob("*.flac")}
        self.checks.that(set(rows) <= files, f"{name}: a tap without its recording")
        return len(rows)


def newer_ledger(test):
    ledger = test.given.scratch / "newer"
    test.checks.that(test.enter(ledger).returncode == 0, "a ledger to begin with")
    before = test.kept(ledger, "newer")
    with contextlib.closing(sqlite3.connect(ledger / "ledger.sqlite")) as database:
        version = database.execute("PRAGMA user_version").fetchone()[0]
        database.execute(f"PRAGMA user_version = {version + 1000}")
    test.sentence(test.enter(ledger), 1, "a ledger of a newer version")
    done = support.run(test.given.program, "drift", "Wren back", "--ledger", ledger, env=test.env)
    test.sentence(done, 1, "drift on a ledger of a newer version")
    test.checks.that(test.kept(ledger, "newer") == before, "the newer ledger was changed")


def entered_twice(test):
    """The same recording again: said, and its evidence not doubled; half of it new: only that is kept."""
    ledger = test.given.scratch / "twice"
    test.checks.that(test.enter(ledger).returncode == 0, "the first time")
    before = test.kept(ledger, "once")
    test.sentence(test.enter(ledger), 3, "entered twice")
    test.checks.that(test.kept(ledger, "twice") == before, "taps were doubled")
    other = test.given.source / "sample-audio" / "wren-back-8.flac"
    words = ("enter", "--ledger", ledger, "--plate", "Wren back", "--mass", "100,4")
    both = support.run(test.given.program, *words, test.recording, other, env=test.env)
    test.sentence(both, 0, "half of it entered before")
    middle = test.kept(ledger, "half new")
    alone = test.given.scratch / "alone"
    support.run(test.given.program, "enter", "--ledger", alone, "--plate", "Wren back", other, env=test.env)
    test.checks.that(middle == before + test.kept(alone, "alone"), f"{middle} taps after {before} and a new recording")
    with contextlib.closing(sqlite3.connect(ledger / "ledger.sqlite")) as database:
        sessions = database.execute("SELECT count(*) FROM session").fetchone()[0]
    test.checks.that(sessions == 2, f"{sessions} sessions after two new recordings")


def no_ledger(test):
    ledger = test.given.scratch / "stranger"
    ledger.mkdir()
    (ledger / "ledger.sqlite").write_text("These are my notes, not a database.\n", encoding="utf-8")
    test.sentence(test.enter(ledger), 1, "a file that is no ledger")
    test.checks.that((ledger / "ledger.sqlite").read_text("utf-8").startswith("These are my notes"),
                     "a stranger's file was overwritten")
    done = support.run(test.given.program, "drift", "Wren back", "--ledger",
                       test.given.scratch / "nothing-there", env=test.env)
    test.checks.that(done.returncode in (3, 4), f"drift without a ledger: exit {done.returncode}")
    test.checks.that(done.stderr.strip().endswith("."), f"drift without a ledger: {done.stderr!r}")
    done = support.run(test.given.program, "check", "--ledger", "", env=test.env)
    test.sentence(done, 2, "a ledger without a name, which is not the maker's own")


def nothing_left_behind(test):
    """`enter` that can't keep its first tap leaves neither a session nor a plate, however often."""
    ledger = test.given.scratch / "left"
    test.checks.that(test.enter(ledger).returncode == 0, "a ledger to begin with")
    incoming = ledger / "recordings" / "incoming"
    incoming.rmdir()
    incoming.write_text("in the way", encoding="utf-8")  # rows can be written, recordings can't
    for _ in range(2):
        test.sentence(test.enter(ledger, "Another back"), 1, "no place for a recording")
    with contextlib.closing(sqlite3.connect(ledger / "ledger.sqlite")) as database:
        for table in ("instrument", "plate", "session"):
            left = database.execute(f"SELECT count(*) FROM {table} WHERE binned_ms IS NULL").fetchone()[0]
            test.checks.that(left == 1, f"{left} rows of {table} after an `enter` that failed")


def lost_recording(test):
    """A recording lost, one damaged, of the newest session: `enter` works, and says it."""
    ledger = test.given.scratch / "lost"
    test.checks.that(test.enter(ledger).returncode == 0, "a ledger to begin with")
    with contextlib.closing(sqlite3.connect(ledger / "ledger.sqlite")) as database:
        hashes = [row[0] for row in database.execute("SELECT recording FROM tap WHERE verdict = 'accepted'")]
    lost, damaged = (ledger / "recordings" / name[:2] / (name + ".flac") for name in hashes[:2])
    lost.unlink()
    damaged.write_bytes(damaged.read_bytes()[:2000])
    other = test.given.source / "sample-audio" / "wren-back-8.flac"
    done = support.run(test.given.program, "enter", "--ledger", ledger, "--plate", "Wren back", "--mass", "100,4",
                       other, env=test.env)
    test.sentence(done, 0, "enter beside lost recordings")
    test.checks.that("missing or damaged" in done.stderr, f"the lost recordings are not told: {done.stderr!r}")


def as_nobody():
    """Nothing is read-only to root."""
    if os.getuid() == 0:
        os.setgid(65534)
        os.setuid(65534)


def read_only_folder(test):
    ledger = test.given.scratch / "shut"
    test.checks.that(test.enter(ledger).returncode == 0, "a ledger to begin with")
    before = test.kept(ledger, "read-only")
    for path in (test.given.scratch, *test.given.scratch.parents):
        if not os.access(path, os.X_OK) or path.stat().st_mode & 0o005 != 0o005:
            print("not checked: nobody may not enter", path)
            return
    for path in [ledger, *ledger.rglob("*")]:
        path.chmod(0o555 if path.is_dir() else 0o444)
    try:
        test.sentence(test.enter(ledger, how=as_nobody), 1, "a read-only ledger")
        test.sentence(test.enter(ledger / "below", how=as_nobody), 1, "a ledger that can't be made")
    finally:
        for path in [ledger, *ledger.rglob("*")]:
            path.chmod(0o755 if path.is_dir() else 0o644)
    test.checks.that(test.kept(ledger, "read-only") == before, "the read-only ledger was changed")


@contextlib.contextmanager
def small_disk(folder, kilobytes):
    """A disk of so many kB, or None where this user may not mount one."""
    folder.mkdir()
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={kilobytes}k", "tmpfs", folder],
                             capture_output=True, check=False).returncode == 0
    try:
        yield folder if mounted else None
    finally:
        if mounted:
            subprocess.run(["umount", folder], check=True)


def full_disk(test):
    with small_disk(test.given.scratch / "small", 1500) as disk:
        if disk is None:
            print("not checked: a full disk (no right to mount one)")
            return
        for visit in range(1, 20):
            done = test.enter(disk / "ledger", f"Back {visit}")
            if done.returncode != 0:
                break
        test.sentence(done, 1, f"a full disk at session {visit}")
        test.checks.that("full" in done.stderr or "space" in done.stderr,
                         f"a full disk is not called so: {done.stderr!r}")
        kept = test.kept(disk / "ledger", "full disk")
        test.checks.that(kept >= 13 * (visit - 1), f"only {kept} taps after {visit - 1} whole sessions")
        copy = test.given.scratch / "moved"
        shutil.copytree(disk / "ledger", copy)
    test.checks.that(test.enter(copy, "Another back").returncode == 0, "the ledger can't be used on a larger disk")


def no_microphone(test):
    done = support.run(test.given.program, "listen", "--seconds", "3", env=test.env, timeout=60)
    test.sentence(done, 1, "no microphone")
    test.checks.that("microphone" in done.stderr or "input" in done.stderr,
                     f"no microphone is not called so: {done.stderr!r}")
    done = support.run(test.given.program, "listen", "--input", "no such thing", "--seconds", "3",
                       env=test.env, timeout=60)
    test.sentence(done, 1, "an input that is not there")


def in_private_mounts():
    """Starts this script again where its mounts end with it, however it ends."""
    allowed = os.getuid() == 0 and shutil.which("unshare") and subprocess.run(
        ["unshare", "--mount", "true"], capture_output=True, check=False).returncode == 0
    if allowed and "--private-mounts" not in sys.argv:
        os.execvp("unshare", ["unshare", "--mount", sys.executable, "-B", *sys.argv,
                              "--private-mounts"])
    sys.argv = [word for word in sys.argv if word != "--private-mounts"]


if __name__ == "__main__":
    in_private_mounts()
    running = Trouble(support.arguments())
    for part in (newer_ledger, entered_twice, nothing_left_behind, lost_recording, no_ledger,
                 read_only_folder, full_disk, no_microphone):
        part(running)
    running.checks.finish()

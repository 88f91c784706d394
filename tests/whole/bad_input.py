#!/usr/bin/env python3
"""What bad input gets: one clear sentence with the remedy on stderr, the documented exit code
(0 done, 1 failed, 2 wrong usage, 3 unusable input, 4 nothing found), nothing lost."""
import json
import math
import pathlib

import sounds
import support


class BadInput:
    def __init__(self, given):
        self.given = given
        self.env = support.private_environment(given.scratch)
        self.checks = support.Checks()
        self.folder = given.scratch

    def read(self, *words, timeout=60):
        return support.run(self.given.program, "read", *words, env=self.env, timeout=timeout)

    def sentence(self, done, name, about=""):
        """What was said is for people: short, about this file, no entrails of the program."""
        said = done.stderr.strip()
        self.checks.that(said, f"{name}: nothing on stderr")
        self.checks.that(len(said.splitlines()) == 1, f"{name}: more than one line: {said!r}")
        self.checks.that(said.endswith("."), f"{name}: no sentence: {said!r}")
        self.checks.that(about in said, f"{name}: does not name {about}: {said!r}")
        for entrails in ("what()", "terminate", "std::", "exception", "errno", "Traceback"):
            self.checks.that(entrails not in said, f"{name}: shows {entrails}: {said!r}")

    def refused(self, path, code, name):
        done = self.read(path)
        self.checks.that(done.returncode == code,
                         f"{name}: exit {done.returncode}, not {code}: {done.stderr!r}")
        self.sentence(done, name, path.name)

    def modes_found(self, path, name, tolerance=0.003):
        """Reads a recording of sounds.strike: its three modes must be there."""
        done = self.read("--json", path, timeout=120)
        if not self.checks.that(done.returncode == 0,
                                f"{name}: exit {done.returncode}: {done.stderr!r}"):
            return
        modes = json.loads(done.stdout)["files"][0]["modes"]
        for hz in sounds.MODES_HZ:
            near = min((abs(mode["hz"] / hz - 1.0) for mode in modes), default=math.inf)
            self.checks.that(near <= tolerance, f"{name}: no mode at {hz} Hz in {modes}")


def unusable_files(test):
    folder = test.folder
    test.refused(folder / "not-there.wav", 3, "a missing file")
    (folder / "empty.wav").write_bytes(b"")
    test.refused(folder / "empty.wav", 3, "an empty file")
    (folder / "letter.flac").write_text("Dear maker, this is no sound.\n" * 50, encoding="utf-8")
    test.refused(folder / "letter.flac", 3, "a text file called .flac")
    (folder / "folder.wav").mkdir()
    test.refused(folder / "folder.wav", 3, "a folder")
    (folder / "noise.wav").write_bytes(bytes(range(256)) * 40)
    test.refused(folder / "noise.wav", 3, "random bytes")
    header = sounds.write_wav(folder / "header.wav", sounds.silence(48000, 0.0), 48000)
    test.refused(header, 3, "a header without a sample")
    test.refused(sounds.write_wav(folder / "silent.wav", sounds.silence(48000), 48000), 4,
                 "a silent file")


def truncated_files(test):
    """A recording cut short: what there is is read, or it is refused; either way it is said."""
    flac = (test.given.source / "sample-audio" / "wren-back-2.flac").read_bytes()
    wav = sounds.write_wav(test.folder / "whole.wav", sounds.strike(48000), 48000).read_bytes()
    for name, whole, share in (("half.flac", flac, 0.5), ("stump.flac", flac, 0.0005),
                               ("half.wav", wav, 0.9), ("stump.wav", wav, 0.0003)):
        path = test.folder / name
        path.write_bytes(whole[:int(len(whole) * share)])
        done = test.read(path)
        test.checks.that(done.returncode in (0, 3), f"{name}: exit {done.returncode}: {done.stderr}")
        if "stump" in name:
            test.checks.that(done.returncode == 3, f"{name}: a stump was read")
        test.sentence(done, name, name)


def strange_samples(test):
    for name, value in (("nan", math.nan), ("infinite", math.inf)):
        samples = sounds.strike(48000)
        samples[30000] = value
        for kind in ("f32", "f64"):
            path = sounds.write_wav(test.folder / f"{name}-{kind}.wav", samples, 48000, kind)
            test.refused(path, 3, f"{name} samples, {kind}")


def every_format(test):
    for rate in (8000, 11025, 22050, 44100, 96000, 192000, 384000):
        path = sounds.write_wav(test.folder / f"rate-{rate}.wav", sounds.strike(rate), rate)
        test.modes_found(path, f"{rate} Hz")
    samples = sounds.strike(48000)
    for kind in ("u8", "s16", "s24", "s32", "f32", "f64"):
        path = sounds.write_wav(test.folder / f"{kind}.wav", samples, 48000, kind)
        # 8 bits leave little of the weaker modes' ends.
        test.modes_found(path, kind, 0.01 if kind == "u8" else 0.003)
    for channels in (1, 2, 3, 6, 8, 32):
        path = sounds.write_wav(test.folder / f"channels-{channels}.wav", samples, 48000, "s16",
                                channels)
        test.modes_found(path, f"{channels} channels")
    low = sounds.write_wav(test.folder / "too-low.wav", sounds.strike(4000), 4000)
    test.refused(low, 3, "a rate too low for any mode")


def wrong_words(test):
    for words in (("read",), ("read", "--band", "wide", "x.wav"), ("read", "--band", "500:100", "x.wav"),
                  ("read", "--band", "40:50000", "x.wav"), ("sing",), ("read", "--loudly", "x.wav")):
        done = support.run(test.given.program, *words, env=test.env)
        test.checks.that(done.returncode == 2, f"{words}: exit {done.returncode}, not 2")
        test.checks.that(done.stderr.strip(), f"{words}: nothing said")


def band_beyond_the_rate(test):
    """A band that the file's rate can't carry is refused for that file; one that it carries in part is narrowed."""
    low = sounds.write_wav(test.folder / "eight.wav", sounds.strike(8000), 8000)
    done = test.read("--band", "5000:20000", low)
    test.checks.that(done.returncode == 3, f"a band above half the rate: exit {done.returncode}: {done.stderr!r}")
    test.sentence(done, "a band above half the rate", low.name)
    test.checks.that("3600 Hz" in done.stderr, f"the highest frequency is not said: {done.stderr!r}")
    ledger = test.folder / "no-ledger"
    entered = support.run(test.given.program, "enter", "--ledger", ledger, "--plate", "Test back", "--band", "5000:20000", low,
                          env=test.env)
    test.checks.that(entered.returncode == 3 and not ledger.exists(), f"enter: exit {entered.returncode}, {entered.stderr!r}")
    part = test.read("--band", "40:20000", low)
    test.checks.that(part.returncode == 0, f"a band above half the rate in part: exit {part.returncode}: {part.stderr!r}")


def new_plates_and_dates(test):
    """A plate that no word tells as top or back is refused; a date is one of the maker's own calendar."""
    ledger = test.folder / "dates"

    def enter(*words, zone="EST5EDT,M3.2.0,M11.1.0"):
        return support.run(test.given.program, "enter", "--ledger", ledger, *words, env=test.env | {"TZ": zone})

    done = enter("--plate", "Wren 12")
    test.checks.that(done.returncode == 2 and "--part" in done.stderr,
                     f"a plate of no part: exit {done.returncode}: {done.stderr!r}")
    done = enter("--plate", "Wren top", "--when", "2026-03-14", "--mass", "70,5g", "--humidity", "45%")
    test.checks.that(done.returncode == 0 and "the top of" in done.stdout and "2026-03-14" in done.stdout,
                     f"a top of 14 March: exit {done.returncode}: {done.stdout!r} {done.stderr!r}")
    for when, shown in (("12.10.2026", "2026-10-12"), ("2026-03-14T23:30:00+05:00", "2026-03-14 14:30")):
        done = enter("--plate", "Wren top", "--when", when)
        test.checks.that(done.returncode == 0 and shown in done.stdout, f"{when}: {done.stdout!r} {done.stderr!r}")
    for when in ("2026-03-17T09x26y00zzz", "3/17/2026", "31.2.2026"):
        done = enter("--plate", "Wren top", "--when", when)
        test.checks.that(done.returncode == 2 and "is no date" in done.stderr, f"{when}: exit {done.returncode}: {done.stderr!r}")


def of_another_plate(test):
    """No session comes to lie in another plate's history without a word."""
    ledger = test.folder / "plates"

    def enter(*words):
        return support.run(test.given.program, "enter", "--ledger", ledger, "--mass", "115", *words, env=test.env)

    done = enter("--plate", "Lark back", "--instrument", "Lark", "--when", "2026-03-01")
    test.checks.that(done.returncode == 0 and "Lark back of “Lark”" in done.stdout, f"{done.stdout!r} {done.stderr!r}")
    for name, words, about in (("a part", ("--plate", "Lark back", "--part", "top"), "no top"),
                               ("an instrument's name", ("--plate", "Lark", "--part", "top"), "no top"),
                               ("a number", ("--plate", "1", "--instrument", "Heron"), "not of “Heron”"),
                               ("a kind", ("--plate", "Lark back", "--kind", "viola"), "no viola"),
                               ("a new plate's kind", ("--plate", "Lark top", "--instrument", "Lark", "--kind", "cello"),
                                "no cello"),
                               ("a length", ("--plate", "Lark back", "--body-length", "405"), "405 mm")):
        done = enter("--when", "2026-03-02", *words)
        test.checks.that(done.returncode == 2, f"{name}: exit {done.returncode}: {done.stdout!r} {done.stderr!r}")
        test.sentence(done, name, about)
        test.checks.that("Nothing was entered" in done.stderr, f"{name}: {done.stderr!r}")
    test.checks.that(support.ask(ledger, "SELECT (SELECT COUNT(*) FROM session), (SELECT COUNT(*) FROM plate)") == [(1, 1)],
                     "what contradicts was kept all the same")
    done = enter("--plate", "Lark back", "--instrument", "Heron", "--when", "2026-03-03")
    test.checks.that(done.returncode == 0 and "new in the ledger" in done.stdout, f"{done.stdout!r} {done.stderr!r}")
    test.checks.that(support.ask(ledger, "SELECT COUNT(*) FROM session GROUP BY plate") == [(1,), (1,)],
                     "two backs of one name share a history")
    done = enter("--plate", "Lark top", "--instrument", "lark", "--when", "2026-03-03")
    test.checks.that(done.returncode == 0 and support.ask(ledger, "SELECT COUNT(*) FROM instrument") == [(2,)],
                     f"lark is another than Lark: {done.stdout!r} {done.stderr!r}")
    done = enter("--plate", "Lark back", "--when", "2026-03-04")
    test.checks.that(done.returncode == 2 and "several plates" in done.stderr, f"{done.stdout!r} {done.stderr!r}")
    correct_all_or_nothing(test, ledger)


def correct_all_or_nothing(test, ledger):
    """Of a correction in which one thing can't be, nothing is done."""
    def kept():
        return support.ask(ledger, "SELECT plate, begun_ms, mass_g FROM session ORDER BY id") + \
            support.ask(ledger, "SELECT label, instrument FROM plate ORDER BY id")

    before = kept()
    for words in (("session", "1", "--mass", "114", "--when", "2199-01-01"), ("session", "1", "--mass", "114", "--to", "Nowhere"),
                  ("plate", "1", "--label", "Foo", "--instrument", "Nix")):
        done = support.run(test.given.program, "correct", *words, "--ledger", ledger, env=test.env)
        test.checks.that(done.returncode != 0 and kept() == before, f"{words}: {done.stdout!r} {done.stderr!r}, {kept()}")
    done = support.run(test.given.program, "correct", "session", "1", "--mass", "114", "--when", "2026-02-28", "--to", "2",
                       "--ledger", ledger, env=test.env)
    test.checks.that(done.returncode == 0 and kept()[0][0] == 2 and kept()[0][2] == 114.0, f"{done.stderr!r}, {kept()}")


def one_bad_among_good(test):
    """A bad file does not spoil the good ones read with it."""
    good = sounds.write_wav(test.folder / "good.wav", sounds.strike(48000), 48000)
    bad = test.folder / "not-there-either.wav"
    done = test.read("--json", bad, good)
    test.checks.that(done.returncode == 3, f"bad and good: exit {done.returncode}")
    test.sentence(done, "bad and good", bad.name)
    files = json.loads(done.stdout)["files"] if done.stdout.strip() else []
    by_name = {pathlib.Path(entry["path"]).name: entry for entry in files}
    test.checks.that(by_name.get(good.name, {}).get("modes"), "the good file was not read")
    test.checks.that(by_name.get(bad.name, {}).get("trouble"), "no word on the bad file in the JSON")


if __name__ == "__main__":
    running = BadInput(support.arguments())
    for part in (unusable_files, truncated_files, strange_samples, every_format, wrong_words,
                 band_beyond_the_rate, new_plates_and_dates, of_another_plate, one_bad_among_good):
        part(running)
    running.checks.finish()

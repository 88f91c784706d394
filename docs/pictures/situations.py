#!/usr/bin/env python3
"""Takes the pictures of the bench in eleven situations (docs/screen-results.md) from the real program: copies of the
demo workshop's ledger, its recorded strikes out of a private sound server, real keys.

    python3 docs/pictures/situations.py --program build/release/bin/platewright --source . \\
        --scratch build/scratch/situations --pictures docs/pictures

Needs what the tests in tests/whole/ need, and sox. Names after the arguments take those alone: --only stop."""
import contextlib
import pathlib
import shutil
import sqlite3
import subprocess
import sys
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[2] / "tests" / "whole"))
import glass  # noqa: E402  (found by the line above)
import support  # noqa: E402
import take as guide  # noqa: E402

PLATE = "Wren back"
NINTH, OF_THE_TOP = "wren-back-9.flac", "wren-top-1.flac"
STRIP = (930, 734)  # at the right end of the decision's strip, where no word stands
PLACE = (958, 164, 1262, 200)  # the words above the plate


class Bench:
    """One situation being made: a ledger of its own, the window on it when it is opened."""

    def __init__(self, given, env, base, name):
        self.given, self.env = given, env
        self.ledger = given.scratch / f"ledger-{name}"
        shutil.copytree(base, self.ledger)
        self.shown = None

    def run(self, *words):
        done = support.run(self.given.program, *words, "--ledger", self.ledger, env=self.env)
        if done.returncode != 0:
            raise RuntimeError(f"{words}: {done.stderr}")

    def aim(self, *targets):
        """The plate's own targets, kept with it: "5=345"."""
        self.run("drift", PLATE, *(word for target in targets for word in ("--target", target)), "--remember")

    def good_taps(self):
        return support.ask(self.ledger, "SELECT COUNT(*) FROM tap WHERE verdict = 'accepted' AND session = "
                           "(SELECT MAX(id) FROM session)")[0][0]

    def hear(self, recording, first=0, count=None, settle_s=0.9):
        """Plays so many strikes of a recording; the answer to the last is still fresh then."""
        onsets = [strike["onset_s"] for strike in support.manifest(self.given.source)[recording]["strikes"]]
        begin = max(0.0, onsets[first] - 0.5)
        until = [] if count is None else [f"={onsets[first + count] - 0.15}"]
        piece = self.given.scratch / "piece.wav"
        support.run("sox", self.given.source / "sample-audio" / recording, "-b", "16", piece, "trim", begin, *until,
                    "fade", "t", "0", "-0", "0.3")  # the room goes on: no sound ends in a click
        support.run("paplay", piece, env=self.env, timeout=120)
        time.sleep(settle_s)

    def all_taps(self):
        before = self.good_taps()
        self.hear(NINTH)
        support.wait_until(lambda: self.good_taps() >= before + 11, 20, "eleven good taps")

    def forget_maps(self):
        """Of a plate whose thickness nobody has measured there is no model."""
        with contextlib.closing(sqlite3.connect(self.ledger / "ledger.sqlite")) as database, database:
            for table in ("thickness", "thickness_map"):
                database.execute(f"DELETE FROM {table}")

    def wait_for_model(self):
        """While it is asked the sentence is written on the panel; then "Stop" on a sheet of its own."""
        support.wait_until(lambda: self.colour(*STRIP) != self.panel, 600, "the model's word on stopping")
        time.sleep(0.5)

    def colour(self, across, down):
        done = subprocess.run(["import", "-window", "root", "-crop", f"1x1+{across}+{down}", "-depth", "8", "rgb:-"],
                              env=self.env, timeout=30, capture_output=True, check=True)
        return done.stdout[:3]

    @contextlib.contextmanager
    def window(self):
        with glass.window(self.given, self.env, "--ledger", self.ledger) as shown:
            self.shown = shown
            self.panel = self.colour(*STRIP)
            yield shown


SITUATIONS = {}


def situation(function):
    SITUATIONS[function.__name__.replace("_", "-")] = function
    return function


@situation
def new_session(bench):
    with bench.window():
        yield


@situation
def more_taps(bench):
    with bench.window():
        bench.hear(NINTH, count=2)
        yield


@situation
def refused(bench):
    with bench.window():
        bench.hear(NINTH, count=5)
        yield


@situation
def take(bench):
    bench.forget_maps()
    bench.aim("5=345")
    with bench.window():
        bench.all_taps()
        yield


@situation
def take_where(bench):
    bench.aim("5=345")
    with bench.window() as shown:
        bench.all_taps()
        shown.close()
    bench.run("plan", PLATE, "--target", "5=345")
    with bench.window() as shown:
        waiting = shown.drawn(*PLACE)
        support.wait_until(lambda: shown.drawn(*PLACE) != waiting, 300, "the model that draws the pass")
        yield


@situation
def stop(bench):
    bench.aim("5=353")
    with bench.window():
        bench.all_taps()
        bench.wait_for_model()
        yield


@situation
def overshot(bench):
    bench.aim("5=362")
    with bench.window():
        bench.all_taps()
        bench.wait_for_model()
        yield


@situation
def weigh(bench):
    bench.aim("5=345")
    with bench.window() as shown:
        bench.all_taps()
        shown.keys("n", pause=1.0)
        bench.all_taps()
        yield


@situation
def stranger(bench):
    bench.aim("5=345")
    with bench.window():
        bench.hear(NINTH, count=4)
        bench.hear(OF_THE_TOP, count=1)
        yield


@situation
def humid(bench):
    bench.aim("5=345")
    with bench.window() as shown:
        shown.keys("e", pause=1.0)
        shown.keys("Tab", "Tab", pause=0.3)
        shown.write("24")
        shown.keys("Tab", pause=0.3)
        shown.keys("ctrl+a", pause=0.2)
        shown.write("78")
        shown.keys("Return", pause=1.0)
        bench.all_taps()
        yield


@situation
def microphone_lost(bench):
    bench.aim("5=345")
    with bench.window():
        bench.hear(NINTH, count=4)
        support.run("pactl", "unload-module", "module-null-sink", env=bench.env)
        time.sleep(4.0)
        yield


def picture(given, env, shown, name):
    path = given.pictures / f"situation-{name}.png"
    shown.tool("mousemove", 1270, 790)
    time.sleep(0.2)
    shown.picture(given.scratch / f"{name}.png")
    support.run("convert", given.scratch / f"{name}.png", "-resize", "62.5%", "-dither", "None", "-colors", "128",
                f"PNG8:{path}", env=env)


def main():
    only = []
    if "--only" in sys.argv:
        at = sys.argv.index("--only")
        only = sys.argv[at + 1:]
        del sys.argv[at:]
    given = support.arguments()
    support.need("pulseaudio", "pactl", "paplay", "Xvfb", "xdotool", "import", "sox")
    given.pictures.mkdir(parents=True, exist_ok=True)
    own = support.private_environment(given.scratch)
    base = given.scratch / "base"
    guide.fill(given, own, base)
    for name, make in SITUATIONS.items():
        if only and name not in only:
            continue
        with support.sound_server(given.scratch, own) as heard:
            with support.screen(given.scratch, heard) as seen:
                bench = Bench(given, seen, base, name)
                with guide.quiet_room(given, seen):
                    for _ in make(bench):  # once, while its window is open
                        picture(given, seen, bench.shown, name)
                print(name, flush=True)


if __name__ == "__main__":
    main()

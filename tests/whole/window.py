#!/usr/bin/env python3
"""The window, driven by mouse and keys: an instrument, a plate, two sessions of taps from a real sound server;
closed and opened again in between. The ledger's database holds what was struck, and the drift chart
shows it."""
import subprocess
import time

import glass
import support

CHART = (180, 170, 860, 690)  # within the axes of the drift view
LENGTH = (830, 271)  # the body's length, in the form of a new instrument
NOTHING = (1000, 620)  # below that form
SESSIONS = ("wren-back-7.flac", "wren-back-9.flac")


class Ledger:
    def __init__(self, folder):
        self.folder = folder

    def ask(self, question):
        return support.ask(self.folder, question)

    def accepted(self):
        """Accepted taps by session, in order."""
        rows = self.ask("SELECT session, COUNT(*) FROM tap WHERE verdict = 'accepted' "
                        "GROUP BY session ORDER BY session")
        return [count for _, count in rows]


def play(given, env, recording, ledger, expected):
    """Plays a recording and waits until the ledger holds as many good taps as it should."""
    played = support.run("paplay", given.source / "sample-audio" / recording, env=env, timeout=120)
    if played.returncode != 0:
        raise RuntimeError("paplay: " + played.stderr)
    support.wait_until(lambda: ledger.accepted() == expected, 20, f"{expected} accepted taps; there "
                       f"are {ledger.accepted()}", step=0.5)


def first_evening(given, env, checks, ledger, good):
    with glass.window(given, env, "--ledger", ledger.folder) as shown:
        shown.keys("F2")
        empty = shown.colours(*CHART)
        checks.that(not any(empty.values()), f"an empty drift view shows modes: {empty}")
        shown.keys("F4", "i")
        shown.write("Larkfield 9")
        # A click into another field, its figures, and the mouse already gone, on a machine whose picture took long.
        shown.between_two_pictures("mousemove", *LENGTH, "click", "1", "key", "3", "5", "5", "mousemove", *NOTHING,
                                   pause=1.5)
        shown.key_between_two_pictures("Return", pause=1.5)
        # The plate's form comes by itself.
        shown.write("back of the ninth")
        shown.keys("Return", pause=1.5)
        labels = ledger.ask("SELECT instrument.label, plate.label, body_length_mm FROM plate JOIN instrument "
                            "ON plate.instrument = instrument.id")
        checks.that(labels == [("Larkfield 9", "back of the ninth", 355.0)], f"the ledger holds {labels}")
        shown.keys("F1", "n", pause=1.0)
        play(given, env, SESSIONS[0], ledger, good[:1])
        time.sleep(1.0)
        checks.that(shown.close() == 0, "the window did not close cleanly")


def second_evening(given, env, checks, ledger, good):
    with glass.window(given, env, "--ledger", ledger.folder) as shown:
        checks.that(ledger.accepted() == good[:1], "taps were lost between closing and opening")
        shown.keys("F1", "n", pause=1.0)
        play(given, env, SESSIONS[1], ledger, good)
        shown.keys("F2", pause=2.0)
        drawn = shown.colours(*CHART)
        # Each line alone has some 380 x 2 pixels.
        checks.that(min(drawn.values()) > 500, f"the drift chart lacks a mode: {drawn} pixels")
        shown.picture(given.scratch / "drift.png")
        shown.keys("F1", pause=1.5)
        shown.picture(given.scratch / "bench.png")
        checks.that(shown.close() == 0, "the window did not close cleanly the second time")


def stands(env, number):
    """Left, top, width, height of a window."""
    told = support.run("xdotool", "getwindowgeometry", "--shell", number, env=env, timeout=10).stdout
    values = dict(line.split("=") for line in told.split() if "=" in line)
    return tuple(int(values[name]) for name in ("X", "Y", "WIDTH", "HEIGHT"))


def ground(env):
    """The colour of the window's ground, beside the rail's foot."""
    done = subprocess.run(["import", "-window", "root", "-crop", "1x1+171+500", "-depth", "8", "rgb:-"], env=env,
                          timeout=30, capture_output=True, check=True)
    return sum(done.stdout)


def comes_back(given, env, checks, ledger):
    """The window stands where and as it was left: place, size, light."""
    with glass.window(given, env, "--ledger", ledger.folder) as shown:
        shown.tool("windowsize", shown.number, "1100", "720")
        shown.tool("windowmove", shown.number, "57", "33")
        time.sleep(1.0)
        light = ground(env)
        shown.keys("d", "F2", pause=1.0)
        checks.that(ground(env) < light - 300, "the window did not become dark")
        left = stands(env, shown.number)
        checks.that(left == (57, 33, 1100, 720), f"the window was not moved: {left}")
        checks.that(shown.close() == 0, "the moved window did not close cleanly")
    with support.started([given.program, "--ledger", ledger.folder], env=env, stdin=subprocess.DEVNULL,
                         stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as process:
        def appears():
            return support.run("xdotool", "search", "--onlyvisible", "--name", "^Platewright$", env=env,
                               timeout=10).stdout.split()
        number = support.wait_until(appears, 20, "the window again")[0]
        time.sleep(1.5)
        found = stands(env, number)
        checks.that(found == left, f"the window came back at {found}, not {left}")
        checks.that(ground(env) < light - 300, "the window came back light")
        glass.ask_to_close(env["DISPLAY"], int(number))
        checks.that(process.wait(20) == 0, "the window that came back did not close cleanly")


def kept(given, env, checks, ledger, good):
    checks.that(ledger.accepted() == good, f"{ledger.accepted()} good taps kept, not {good}")
    checks.that(ledger.ask("PRAGMA integrity_check") == [("ok",)], "the database is damaged")
    recordings = {name for (name,) in ledger.ask("SELECT recording FROM tap")}
    files = {path.stem for path in (ledger.folder / "recordings").rglob("*.flac")}
    checks.that(recordings <= files, f"recordings are missing: {recordings - files}")
    drift = support.read_json(given.program, "drift", "back of the ninth", "--ledger", ledger.folder,
                              env=env)
    checks.that(len(drift["sessions"]) == 2, f"drift has {len(drift['sessions'])} sessions")
    both = [track for track in drift["tracks"] if len(track["points"]) == 2]
    checks.that(len(both) >= 5, f"only {len(both)} modes were followed through both sessions")
    # Within a hertz of the demo's truth: mode 5 fell or rose as its table says.
    truth = support.manifest(given.source)
    for number in (2, 5):
        true = [mode["sounded_hz"] for name in SESSIONS for mode in truth[name]["modes"]
                if mode["number"] == number]
        near = [track for track in both
                if all(abs(point["hz"] - hz) < 1.0 for point, hz in zip(track["points"], true))]
        checks.that(len(near) == 1, f"mode {number}: no track near {true}")


if __name__ == "__main__":
    arguments = support.arguments()
    support.need("pulseaudio", "pactl", "paplay", "Xvfb", "xdotool", "import")
    check = support.Checks()
    own = support.private_environment(arguments.scratch)
    book = Ledger(arguments.scratch / "ledger")
    manifest = support.manifest(arguments.source)
    strikes = [sum(strike["verdict"] == "accepted" for strike in manifest[name]["strikes"])
               for name in SESSIONS]
    with support.sound_server(arguments.scratch, own) as heard:
        with support.screen(arguments.scratch, heard) as seen:
            first_evening(arguments, seen, check, book, strikes)
            second_evening(arguments, seen, check, book, strikes)
            comes_back(arguments, seen, check, book)
    kept(arguments, own, check, book, strikes)
    check.finish()

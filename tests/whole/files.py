#!/usr/bin/env python3
"""What leaves the ledger and comes into it, through the window, by keys and clicks: a sheet printed, recordings taken
in, a bundle out, looked at and taken in by another ledger, undone; a copy laid aside and put back; the bin; the last
act undone. What was done is looked for in the files and in the ledger."""
import sys
import time

import glass
import support

# Places in a window of 1280 x 800.
PAPER, RECORDINGS, BUNDLES, COPIES, BIN = ((300, 90), (300, 153), (300, 216), (300, 279), (300, 342))
THE_PLATE, ITS_INSTRUMENT = (572, 193), (700, 193)
SECOND_ROW = (640, 459)  # of a bundle's folder: its first file where it has no subfolder
LOOK, TAKE_IN = (595, 600), (570, 718)
FIRST_SOUND = (640, 319)  # under "the folder above" and "Documents/"
NEWEST_COPY, PUT_BACK = (700, 236), (606, 283)
FIRST_BINNED = (700, 155)


def counted(folder, table):
    return support.ask(folder, f"SELECT COUNT(*) FROM {table} WHERE binned_ms IS NULL")[0][0]


def enter(given, env, folder, name, *words):
    done = support.run(given.program, "enter", "--ledger", folder, *words, given.source / "sample-audio" / name, env=env,
                       timeout=120)
    if done.returncode != 0:
        raise RuntimeError(done.stderr)


def paper(shown, documents, checks):
    shown.keys("F10", pause=1.0)
    shown.keys("p")
    support.wait_until(lambda: list(documents.glob("Wren back *.pdf")), 60, "a sheet")
    time.sleep(1.0)
    checks.that(next(documents.glob("*.pdf")).read_bytes().startswith(b"%PDF"), "the sheet is no PDF")


def recordings(shown, given, folder, checks):
    before = counted(folder, "session")
    shown.click(*RECORDINGS)
    time.sleep(1.0)
    shown.click(*FIRST_SOUND)
    shown.picture(given.scratch / "recordings.png")
    shown.click(595, 663)
    support.wait_until(lambda: counted(folder, "session") == before + 1, 60, "a session of the recording")
    support.wait_until(lambda: support.ask(folder, "SELECT COUNT(*) FROM mode_set WHERE session = (SELECT MAX(id) FROM session)")
                       [0][0] > 0, 60, "its modes")


def copies(shown, given, folder, checks):
    shown.keys("F10", pause=0.5)
    shown.click(*COPIES)
    time.sleep(1.0)
    shown.click(*NEWEST_COPY)
    shown.picture(given.scratch / "copies.png")
    taps = counted(folder, "tap")
    shown.click(*PUT_BACK)
    support.wait_until(lambda: list((folder / "laid-aside").glob("*")), 60, "what the copy replaced")
    support.wait_until(lambda: counted(folder, "tap") == taps, 60, "all taps after a copy was put back")
    time.sleep(1.0)
    shown.keys("Escape", pause=1.0)  # the notice


def the_bin(shown, given, folder, checks):
    """A tap is taken back at the bench, put back out of the bin, and that is undone."""
    shown.keys("F7", pause=1.0)
    shown.keys("F1", pause=1.0)
    before = counted(folder, "tap")
    shown.keys("Delete", pause=1.5)  # "Canc" on Italian keyboards; Backspace is the same key to the bench
    shown.keys("F10", pause=1.0)
    if counted(folder, "tap") == before:  # the session shown takes no taps: its newest is taken out by hand
        checks.that(False, "no tap was taken back")
        return
    shown.click(*BIN)
    time.sleep(1.0)
    shown.picture(given.scratch / "bin.png")
    shown.click(*FIRST_BINNED)
    support.wait_until(lambda: counted(folder, "tap") == before, 20, "the tap out of the bin")
    shown.keys("ctrl+z", pause=1.0)
    support.wait_until(lambda: counted(folder, "tap") == before - 1, 20, "the tap in the bin again")


def bundle_out(shown, given, documents, checks):
    shown.click(*BUNDLES)
    shown.click(*ITS_INSTRUMENT)
    support.wait_until(lambda: list(documents.glob("Wren *.platewright")), 60, "a bundle")
    time.sleep(1.0)


def bundle_in(given, env, home, checks):
    """On another ledger: looked at, taken in, undone."""
    folder = given.scratch / "other"
    enter(given, env, folder, "heron-back-1.flac", "--plate", "Heron back", "--instrument", "Heron")
    instruments = counted(folder, "instrument")
    with glass.window(given, env, "--ledger", folder) as shown:
        shown.keys("F10", pause=1.0)
        shown.click(*BUNDLES)
        time.sleep(1.0)
        shown.click(*SECOND_ROW)  # Documents/
        time.sleep(1.0)
        shown.click(*SECOND_ROW)
        shown.click(*LOOK)
        time.sleep(3.0)
        shown.picture(given.scratch / "looked.png")
        checks.that(counted(folder, "instrument") == instruments, "a look took the bundle in")
        shown.click(*TAKE_IN)
        support.wait_until(lambda: counted(folder, "instrument") > instruments, 60, "the bundle's instrument")
        time.sleep(1.0)
        shown.picture(given.scratch / "taken-in.png")
        shown.click(640, 600)  # Undo the last bundle taken in
        support.wait_until(lambda: counted(folder, "instrument") == instruments, 60, "the bundle undone")
        checks.that(shown.close() == 0, "the window of the other ledger did not close cleanly")


if __name__ == "__main__":
    arguments = support.arguments()
    support.need("pulseaudio", "pactl", "Xvfb", "xdotool", "import")
    check = support.Checks()
    own = support.private_environment(arguments.scratch)
    house = support.pathlib.Path(own["HOME"])
    papers = house / "Documents"
    papers.mkdir(parents=True, exist_ok=True)
    (house / "wren-back-3.flac").write_bytes((arguments.source / "sample-audio" / "wren-back-3.flac").read_bytes())
    ledger = arguments.scratch / "ledger"
    for number in (1, 2):
        enter(arguments, own, ledger, f"wren-back-{number}.flac", "--plate", "Wren back", "--instrument", "Wren",
              "--when", f"2026-03-{number:02}", "--mass", f"{104 - number}")
    with support.sound_server(arguments.scratch, own) as heard:
        with support.screen(arguments.scratch, heard) as seen:
            with glass.window(arguments, seen, "--ledger", ledger) as window:
                paper(window, papers, check)
                recordings(window, arguments, ledger, check)
                bundle_out(window, arguments, papers, check)
                copies(window, arguments, ledger, check)
                the_bin(window, arguments, ledger, check)
                check.that(window.close() == 0, "the window did not close cleanly")
            bundle_in(arguments, seen, house, check)
    check.finish()

#!/usr/bin/env python3
"""Figures said aloud, on a real sound server and a real window: G says them through Speech Dispatcher so
that they are heard on the monitor, and what the program says itself is never a tap, though its own
microphone hears it."""
import array
import contextlib
import pathlib
import subprocess
import time

import glass
import support


LOUD = 0.05


def loudness(path):
    """Greatest sample of a raw recording, 0 to 1."""
    samples = array.array("h")
    if path.is_file():
        samples.frombytes(path.read_bytes()[:path.stat().st_size // 2 * 2])
    return max((abs(sample) for sample in samples), default=0) / 32768


def taps(ledger):
    return support.ask(ledger, "SELECT count(*) FROM tap")[0][0]


@contextlib.contextmanager
def voice_server(env):
    """Speech Dispatcher in this test's own folders, on its sound server."""
    with support.started(["speech-dispatcher", "-s", "-t", "0", "-l", "5", "-L", env["XDG_RUNTIME_DIR"]], env=env, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                         stderr=subprocess.DEVNULL) as server:
        socket = pathlib.Path(env["XDG_RUNTIME_DIR"]) / "speech-dispatcher" / "speechd.sock"
        support.wait_until(socket.exists, 60, "the voice's socket")
        yield server


def said(given, env, act, seconds):
    """How loud the monitor became after `act`, within so many seconds; a voice that is heard is heard out."""
    heard = given.scratch / f"heard-{time.monotonic_ns()}.raw"
    with support.started(["parec", "--device=bench.monitor", "--format=s16le", "--rate=16000", "--channels=1", "--latency-msec=100",
                          heard], env=env):
        time.sleep(0.4)
        act()
        end = time.monotonic() + seconds
        while time.monotonic() < end and loudness(heard) < LOUD:
            time.sleep(0.5)
        if loudness(heard) >= LOUD:
            time.sleep(12.0)
    return loudness(heard)


def by_itself(given, env, shown, checks):
    """Off by default; once switched on, said when a session's taps have become enough."""
    strikes = given.scratch / "strikes.wav"
    subprocess.run(["sox", str(given.source / "sample-audio" / "wren-back-9.flac"), str(strikes), "trim", "0", "17"], check=True)

    def after_strikes(key):
        shown.keys("n", pause=1.0) # a new session
        if key:
            shown.keys(key, pause=1.0)
        subprocess.run(["paplay", str(strikes)], env=env, check=True, timeout=40)
        return said(given, env, lambda: None, 8.0 if key is None else 30.0)

    checks.that(after_strikes(None) < 0.05, "it speaks though nobody switched it on")
    checks.that(after_strikes("shift+g") > 0.05, "switched on, it does not speak after a session's last tap")


if __name__ == "__main__":
    given = support.arguments()
    support.need("pulseaudio", "pactl", "paplay", "parec", "sox", "Xvfb", "xdotool", "speech-dispatcher", "espeak-ng")
    checks = support.Checks()
    own = support.private_environment(given.scratch)
    ledger = given.scratch / "ledger"
    done = support.run(given.program, "enter", "--plate", "Wren back", "--instrument", "Wren", "--spot", "centre", "--ledger", ledger,
                       given.source / "sample-audio" / "wren-back-8.flac", env=own)
    checks.that(done.returncode == 0, f"enter: {done}")
    # The voice as F6 has it: another language than the window's, and faster.
    wishes = pathlib.Path(own["XDG_CONFIG_HOME"]) / "platewright" / "window"
    wishes.parent.mkdir(parents=True)
    wishes.write_text("voice_language it\nvoice_rate 40\n", encoding="utf-8")
    before = taps(ledger)
    with support.sound_server(given.scratch, own) as heard, support.screen(given.scratch, heard) as seen, voice_server(seen):
        with glass.window(given, seen, "--ledger", ledger) as shown:
            time.sleep(2.0)
            quiet = said(given, seen, lambda: None, 1.5)
            checks.that(quiet < 0.01, f"the bench is not quiet: {quiet}")
            loud = said(given, seen, lambda: shown.keys("g"), 30.0)
            checks.that(loud > 0.05, f"G is not heard on the monitor: {loud}")
            checks.that(taps(ledger) == before, f"its own voice became {taps(ledger) - before} taps")
            # The same sound from elsewhere is noticed: what was not taken for taps could have been.
            voice = max(given.scratch.glob("heard-*.raw"), key=loudness)
            subprocess.run(["paplay", "--raw", "--format=s16le", "--rate=16000", "--channels=1", str(voice)], env=seen, check=True,
                           timeout=60)
            time.sleep(2.0)
            checks.that(taps(ledger) > before, "the same voice from another program is not noticed: this shows nothing")
            by_itself(given, seen, shown, checks)
            shown.close()
        kept = wishes.read_text(encoding="utf-8")
        checks.that("says_figures yes\n" in kept and "voice_language it\n" in kept, f"Shift+G is not remembered: {kept}")
        asked = (pathlib.Path(seen["XDG_RUNTIME_DIR"]) / "speech-dispatcher.log").read_text(encoding="utf-8", errors="replace")
        for wanted in ("SET self LANGUAGE it", "SET self RATE 40"):
            checks.that(wanted.lower() in asked.lower(), f"the voice was not asked for {wanted}")
    checks.finish()

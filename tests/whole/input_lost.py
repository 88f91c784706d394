#!/usr/bin/env python3
"""The window without a microphone, and with one that vanishes and comes back: it stays up, says in one
sentence what is wrong, loses nothing, and hears again without a restart; nor where the program is killed at the
moment at which its microphone vanishes."""
import subprocess
import time

import glass
import support

RECORDING = "wren-back-2.flac"  # of 16 bits: some versions of paplay garble 24


def accepted(ledger):
    return support.ask(ledger, "SELECT COUNT(*) FROM tap WHERE verdict = 'accepted'")[0][0]


def play(given, env, ledger, expected):
    played = support.run("paplay", given.source / "sample-audio" / RECORDING, env=env, timeout=120)
    if played.returncode != 0:
        raise RuntimeError("paplay: " + played.stderr)
    support.wait_until(lambda: accepted(ledger) >= expected, 20, f"{expected} accepted taps", step=0.5)


def heard_by_someone(env):
    """Whether a program has the sound server's input open."""
    shown = support.run("pactl", "list", "short", "source-outputs", env=env, timeout=10)
    return shown.returncode == 0 and bool(shown.stdout.strip())


def stays_up(shown, checks, when):
    time.sleep(3.0)
    checks.that(shown.process.poll() is None, f"the window ended {when}")


if __name__ == "__main__":
    arguments = support.arguments()
    support.need("pulseaudio", "pactl", "paplay", "Xvfb", "xdotool", "import")
    check = support.Checks()
    own = support.private_environment(arguments.scratch)
    book = arguments.scratch / "ledger"
    subprocess.run([arguments.program, "enter", "--ledger", book, "--plate", "Test back"],
                   env=own, check=True, timeout=60, stdout=subprocess.DEVNULL)
    # Where the sound server will be, once it is: as on a desktop, where it is started apart.
    later = own | support.server_addresses(own)
    with support.screen(arguments.scratch, later) as seen:
        with glass.window(arguments, seen, "--ledger", book) as window:
            stays_up(window, check, "without a microphone")
            window.picture(arguments.scratch / "no-microphone.png")
            for visit in (1, 2):
                with support.sound_server(arguments.scratch, own):
                    support.wait_until(lambda: heard_by_someone(seen), 40,
                                       f"the window to listen, visit {visit} of the sound server")
                    play(arguments, seen, book, 11 * visit)
                if visit == 1:
                    stays_up(window, check, "when its microphone vanished")
                    window.picture(arguments.scratch / "lost.png")
                    window.keys("d", pause=1.0)  # dark; it is killed before it closes
            window.process.kill()
            window.process.wait()
        wishes = arguments.scratch / "home" / ".config" / "platewright" / "window"
        wishes = wishes.read_text("utf-8") if wishes.is_file() else ""
        check.that("dark yes\n" in wishes, f"what was wished went with the program that was killed: {wishes!r}")
        check.that(accepted(book) == 22, f"{accepted(book)} good taps kept, not 22")
        checked = support.run(arguments.program, "check", "--ledger", book, env=own)
        check.that(checked.returncode == 0, f"after that `check` says {checked.stdout!r} {checked.stderr!r}")
        with glass.window(arguments, seen, "--ledger", book) as window:
            stays_up(window, check, "on the ledger it was killed over")
            check.that(window.close() == 0, "the window did not close cleanly")
    check.finish()

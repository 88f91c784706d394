#!/usr/bin/env python3
"""Live: a demo recording played into a real sound server, heard by `platewright listen` through
PortAudio at the input's own rate (44.1 kHz, so the server converts): every good tap once, no other
accepted, and the frequencies `read` finds in the file at 48 kHz."""
import json
import signal
import subprocess
import threading
import time

import support

RECORDING = "wren-back-9.flac"
FREQUENCY_HZ = 0.1   # live against file
LEVEL_DB = -26       # weaker partials of single taps are left out of the comparison
ONSET_S = 0.03       # intervals between onsets, live against truth


def listen(given, env, recording):
    """The lines `listen --json` prints while the recording plays; parsed."""
    with support.started([given.program, "listen", "--json"], env=env, stdin=subprocess.DEVNULL,
                         stdout=subprocess.PIPE, stderr=open(given.scratch / "listen.log", "w"),
                         text=True) as listening:
        lines = []
        reader = threading.Thread(target=lambda: lines.extend(listening.stdout), daemon=True)
        reader.start()

        def hears():
            shown = support.run("pactl", "list", "short", "source-outputs", env=env, timeout=10)
            if listening.poll() is not None:
                raise RuntimeError("listen ended: " + (given.scratch / "listen.log").read_text())
            return shown.stdout.strip()
        support.wait_until(hears, 30, "listen to open the microphone")
        time.sleep(1.0)  # some of the quiet room first, as at any bench
        played = support.run("paplay", recording, env=env, timeout=120)
        if played.returncode != 0:
            raise RuntimeError("paplay: " + played.stderr)
        time.sleep(4.0)  # the last tap rings out and is fitted
        listening.send_signal(signal.SIGINT)
        code = listening.wait(20)
        reader.join(10)
    return [json.loads(line) for line in lines if line.strip()], code


def nearest(partials, hz):
    return min(partials, key=lambda partial: abs(partial["hz"] - hz), default=None)


def compare(checks, live, filed, what, of="all taps"):
    for partial in filed[what]:
        if partial["level_db"] > LEVEL_DB:
            found = nearest(live[what], partial["hz"])
            checks.that(found and abs(found["hz"] - partial["hz"]) <= FREQUENCY_HZ,
                        f"{what} of {of}: {partial['hz']} Hz in the file, {found and found['hz']} Hz live")


if __name__ == "__main__":
    arguments = support.arguments()
    support.need("pulseaudio", "pactl", "paplay")
    check = support.Checks()
    own = support.private_environment(arguments.scratch)
    file = arguments.source / "sample-audio" / RECORDING
    good = [strike["onset_s"] for strike in support.manifest(arguments.source)[RECORDING]["strikes"]
            if strike["verdict"] == "accepted"]
    read = support.read_json(arguments.program, "read", file, env=own)["files"][0]
    from_file = [tap for tap in read["taps"] if tap["verdict"] == "accepted"]
    with support.sound_server(arguments.scratch, own) as inside:
        heard, exit_code = listen(arguments, inside, file)
    accepted = [line["tap"] for line in heard if line.get("tap", {}).get("verdict") == "accepted"]
    check.that(heard and heard[-1].get("lost_frames") == 0, f"sound was lost: {heard[-1:]}")
    compare(check, heard[-1], read, "modes")
    check.that(exit_code == 0, f"listen ended with {exit_code} after an interrupt")
    check.that(len(from_file) == len(good), f"read found {len(from_file)} of {len(good)} good taps")
    if check.that(len(accepted) == len(good), f"live: {len(accepted)} of {len(good)} good taps"):
        for tap, filed, onset_s in zip(accepted, from_file, good):
            since_first = tap["onset_s"] - accepted[0]["onset_s"]
            check.that(abs(since_first - (onset_s - good[0])) < ONSET_S,
                       f"a tap {since_first} s after the first, not {onset_s - good[0]}")
            compare(check, tap, filed, "partials", f"the tap at {onset_s} s")
    check.finish()

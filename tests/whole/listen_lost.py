#!/usr/bin/env python3
"""`platewright listen` while the sound server dies and is started again: it says so in one sentence, stays, and goes
on by itself, as it says; it listens to the one of the server's sources that it is told."""
import json
import signal
import subprocess
import threading
import time

import support

RECORDING = "wren-back-2.flac"  # of 16 bits: some versions of paplay garble 24
GOOD = 11


def heard(lines):
    return sum(line.get("tap", {}).get("verdict") == "accepted" for line in map(json.loads, filter(str.strip, lines)))


def other_default(inside):
    """Another source is the server's own choice: silent, so that only who names the bench's hears it."""
    for words in (("load-module", "module-null-sink", "sink_name=other"), ("set-default-source", "other.monitor")):
        done = support.run("pactl", *words, env=inside, timeout=10)
        if done.returncode != 0:
            raise RuntimeError(f"{words}: {done.stderr}")


if __name__ == "__main__":
    arguments = support.arguments()
    support.need("pulseaudio", "pactl", "paplay")
    check = support.Checks()
    own = support.private_environment(arguments.scratch)
    file = arguments.source / "sample-audio" / RECORDING
    log = arguments.scratch / "listen.log"
    later = own | support.server_addresses(own)
    later.pop("PULSE_SOURCE", None)
    server = support.sound_server(arguments.scratch, own)
    inside = server.__enter__()
    other_default(inside)
    with open(log, "w", encoding="utf-8") as said, \
            support.started([arguments.program, "listen", "--json", "--source", "bench.monitor"], env=later,
                            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=said, text=True) as listening:
        lines = []
        reader = threading.Thread(target=lambda: lines.extend(listening.stdout), daemon=True)
        reader.start()

        def listens():
            shown = support.run("pactl", "list", "short", "source-outputs", env=inside, timeout=10)
            return shown.returncode == 0 and shown.stdout.strip()

        def play(expected, visit):
            support.wait_until(listens, 40, f"listen to open the microphone, visit {visit} of the sound server")
            time.sleep(1.0)  # some of the quiet room first
            support.run("paplay", file, env=inside, timeout=120)
            support.wait_until(lambda: heard(list(lines)) >= expected, 30, f"{expected} accepted taps", step=0.5)

        play(GOOD, 1)
        server.__exit__(None, None, None)
        time.sleep(4.0)
        check.that(listening.poll() is None, f"listen ended with the sound server: {log.read_text(encoding='utf-8')!r}")
        with support.sound_server(arguments.scratch, own) as inside:
            play(2 * GOOD, 2)
            listening.send_signal(signal.SIGINT)
            check.that(listening.wait(20) == 0, f"listen ended with {listening.returncode} after an interrupt")
        reader.join(10)
    words = log.read_text(encoding="utf-8").strip().splitlines()
    check.that(sum("goes on by itself" in line for line in words) == 1, f"listen said {words}")
    check.that(heard(lines) == 2 * GOOD, f"{heard(lines)} accepted taps, not {2 * GOOD}")
    check.finish()

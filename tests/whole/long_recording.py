#!/usr/bin/env python3
"""A long recording needs hardly more memory than a short one, and every strike in it is found."""
import json
import os
import struct
import subprocess

import sounds
import support

RATE = 48000
STRIKE_S = 1.6
SHORT, LONG = 40, 450  # strikes: one minute, twelve minutes
EXTRA_KB = 24 * 1024   # the JSON of 410 taps more, and nothing of their sound


def write(path, strikes):
    body = sounds.encode(sounds.strike(RATE, STRIKE_S), "s16")
    size = len(body) * strikes
    with open(path, "wb") as out:
        out.write(b"RIFF" + struct.pack("<I", 36 + size) + b"WAVEfmt " +
                  struct.pack("<IHHIIHH", 16, 1, 1, RATE, 2 * RATE, 2, 16) + b"data" +
                  struct.pack("<I", size))
        for _ in range(strikes):
            out.write(body)


def read(given, env, path):
    """What `read --json` prints, the most memory it held in kB, and its processor time in s."""
    with open(given.scratch / "read.json", "w+b") as printed:
        process = subprocess.Popen([given.program, "read", "--json", path], env=env,
                                   stdin=subprocess.DEVNULL, stdout=printed)
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode != 0:
            raise RuntimeError(f"read ended with {process.returncode}")
        printed.seek(0)
        return json.load(printed)["files"][0], used.ru_maxrss, used.ru_utime + used.ru_stime


if __name__ == "__main__":
    arguments = support.arguments()
    check = support.Checks()
    own = support.private_environment(arguments.scratch)
    held = {}
    for number in (SHORT, LONG):
        recording = arguments.scratch / f"strikes-{number}.wav"
        write(recording, number)
        found, held[number], seconds = read(arguments, own, recording)
        recording.unlink()
        good = sum(tap["verdict"] == "accepted" for tap in found["taps"])
        check.that(good == number, f"{good} of {number} strikes accepted")
        for hz in sounds.MODES_HZ:
            check.that(any(abs(mode["hz"] / hz - 1.0) < 0.001 for mode in found["modes"]),
                       f"no mode at {hz} Hz over {number} strikes")
        print(f"{number * STRIKE_S:.0f} s of sound: {held[number]} kB at most, {seconds:.2f} s of "
              f"processor time, {number * STRIKE_S / seconds:.0f} times real time")
    check.that(held[LONG] - held[SHORT] < EXTRA_KB, f"memory grew with the sound: {held} kB")
    check.finish()

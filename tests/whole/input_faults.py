#!/usr/bin/env python3
"""Recordings through another program's compressor and through an overdriven stage (SoX: its compand and
overdrive effects, no code of ours): `read` says so once, and of the recordings as they are it says nothing."""
import json
import subprocess

import support

RECORDINGS = ["wren-back-1", "wren-back-2", "wren-top-1", "wren-body-1", "heron-back-1"]
# attack 20 ms, let go 1 s: -40 dBFS comes out at -25, so a strike presses the room down
GAIN = ["compand", "0.02,1.0", "-60,-40,0,-25"]
DRIVE = ["norm", "-1", "overdrive", "12", "0", "gain", "-3"]


def main():
    a = support.arguments()
    checks = support.Checks()
    support.need("sox")

    def read(path):
        done = subprocess.run([a.program, "read", "--json", str(path)], capture_output=True, text=True)
        return json.loads(done.stdout)["files"][0], done.stderr

    for name in RECORDINGS:
        plain = a.source / "sample-audio" / f"{name}.flac"
        heard, said = read(plain)
        checks.that(heard["input"] == {"moves_gain": False, "bends": False, "room": None} and not said,
                    f"{name} as it is: {heard['input']}, {said!r}")
        true = [mode["hz"] for mode in heard["modes"]]
        for effect, fault, word in ((GAIN, "moves_gain", "turns itself down"), (DRIVE, "bends", "flat")):
            other = a.scratch / f"{name}-{fault}.wav"
            subprocess.run(["sox", "-V1", str(plain), str(other), *effect], check=True)
            heard, said = read(other)
            checks.that(heard["input"][fault], f"{name} through {effect[0]}: {heard['input']}")
            checks.that(said.count(word) == 1, f"{name} through {effect[0]} says {said!r}")
            # what is still called a mode: its interval holds what the plain recording has
            found = [any(mode["hz_low"] * 0.999 < hz < mode["hz_high"] * 1.001 for hz in true)
                     for mode in heard["modes"] if mode["level_db"] > -12]
            checks.that(found and sum(found) >= 0.8 * len(found),
                        f"{name} through {effect[0]}: {sum(found)} of {len(found)} modes are there")
    checks.finish()


main()

#!/usr/bin/env python3
"""A plate that a hand damps: one tap of it is doubtful, and counts by the maker's word; seven tell of each other.
The sound is made here: six tones of Q 13 that die away, in the noise of a room, 20 dB over it."""
import json
import math
import random
import sqlite3
import struct
import wave

import support

RATE = 48000
TONES = (158, 243, 338, 421, 530, 655)


def recording(path, strikes, seed):
    chance = random.Random(seed)
    sound, noise = [0.0] * int((1 + 1.5 * strikes) * RATE), 0.0
    for k in range(len(sound)):
        noise = 0.8 * noise + 0.6e-3 * chance.gauss(0, 1)
        sound[k] = noise
    for strike in range(strikes):
        begin = int((1 + 1.5 * strike) * RATE)
        for hz in TONES:
            level, phase = 0.010 * (0.3 + chance.random()), 2 * math.pi * chance.random()
            for k in range(int(0.4 * RATE)):
                t = k / RATE
                sound[begin + k] += level * math.exp(-math.pi * hz / 13 * t) * math.cos(2 * math.pi * hz * t + phase)
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(3)
        file.setframerate(RATE)
        file.writeframes(b"".join(struct.pack("<i", round(x * 8388607) << 8)[1:] for x in sound))
    return path


class Doubtful(support.OwnLedger):
    def verdicts(self, path, *words):
        done = support.run(self.given.program, "read", *words, "--json", str(path), env=self.env, timeout=60)
        told = json.loads(done.stdout)
        return [tap["verdict"] for tap in told["files"][0]["taps"]], told["files"][0], done


def one_tap(test, path):
    verdicts, file, done = test.verdicts(path)
    test.checks.that(verdicts == ["doubtful"] and done.returncode == 4 and not file["modes"],
                     f"alone: {verdicts}, exit {done.returncode}")
    near = [any(abs(partial["hz"] / hz - 1) < 0.02 for partial in file["taps"][0]["partials"]) for hz in TONES]
    test.checks.that(sum(near) >= 3, f"what was read of it is not told: {file['taps'][0]['partials']}")
    verdicts, file, done = test.verdicts(path, "--doubtful")
    test.checks.that(verdicts == ["vouched"] and done.returncode == 0 and len(file["modes"]) >= 3,
                     f"by the maker's word: {verdicts}, exit {done.returncode}")
    done = test.run("enter", "--plate", "Linnet back", "--part", "back", str(path))
    test.checks.that(done.returncode == 4 and "good enough" in done.stderr, f"entered: {done.returncode} {done.stderr}")
    done = test.run("enter", "--plate", "Linnet top", "--part", "top", "--doubtful", "--json", str(path))
    test.checks.that(done.returncode == 0 and json.loads(done.stdout)["accepted"] == 1,
                     f"entered by the maker's word: {done.stdout} {done.stderr}")
    with sqlite3.connect(test.ledger / "ledger.sqlite") as ledger:
        kept = [verdict for (verdict,) in ledger.execute("SELECT verdict FROM tap ORDER BY id")]
    test.checks.that(kept == ["doubtful", "vouched"], f"it is not marked in the ledger: {kept}")


def main():
    test = Doubtful(support.arguments())
    lonely = next((path for seed in range(1, 12)
                   if test.verdicts(path := recording(test.given.scratch / f"one-{seed}.wav", 1, seed))[0] == ["doubtful"]),
                  None)
    test.checks.that(lonely is not None, "none of eleven taps is doubtful")
    if lonely:
        one_tap(test, lonely)
    verdicts, file, _ = test.verdicts(recording(test.given.scratch / "seven.wav", 7, 3))
    test.checks.that(verdicts == ["accepted"] * 7, f"seven together: {verdicts}")
    far = [mode["hz"] for mode in file["modes"] if mode["level_db"] > -20
           and not any(abs(mode["hz"] / hz - 1) < 0.02 for hz in TONES)]
    test.checks.that(not far, f"modes that were not made: {far}")
    test.checks.finish()


main()

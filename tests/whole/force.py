#!/usr/bin/env python3
"""A hammer that tells its force on a second channel: `read --force` and `listen --force` on a real sound
server give the response of a plate whose response is known in closed form."""
import array
import cmath
import json
import math
import pathlib
import random
import struct
import subprocess
import sys
import time

import support

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "outside"))
import universal_reader  # noqa: E402

RATE, NEWTON = 48000, 220.0
PLATE = ((114.0, 52.0, 2e-5), (168.0, 56.0, 6e-5), (352.0, 61.0, 9e-5))  # Hz, Q, amplitude a newton-sample


def poles():
    for hz, q, amplitude in PLATE:
        turn, shrink = 2 * math.pi * hz / RATE, math.exp(-math.pi * hz / q / RATE)
        yield turn, shrink, amplitude * shrink * math.sin(turn)


def truth(hz):
    """H(z) of the sum of damped resonators at this frequency."""
    back = cmath.exp(-2j * math.pi * hz / RATE)
    return sum(gain * back / (1 - 2 * shrink * math.cos(turn) * back + shrink * shrink * back * back)
               for turn, shrink, gain in poles())


def recording(path, strikes, clipped=()):
    """Sound on the first channel, force on the second: a strike every 1.6 s."""
    chance = random.Random(4)
    length = int((1.0 + 1.6 * strikes) * RATE)
    force = array.array("d", bytes(8 * length))
    for strike in range(strikes):
        first, push, newton = int((0.8 + 1.6 * strike) * RATE), chance.randrange(28, 52), chance.uniform(40, 120)
        for i in range(push):
            force[first + i] = (300.0 if strike in clipped else newton) * math.sin(math.pi * i / push)
    sound = array.array("d", bytes(8 * length))
    for turn, shrink, gain in poles():
        one = two = 0.0
        bend, hold = 2 * shrink * math.cos(turn), -shrink * shrink
        for n in range(1, length):
            one, two = gain * force[n - 1] + bend * one + hold * two, one
            sound[n] += one
    frames = bytearray()
    for heard, pushed in zip(sound, force):
        for value in (heard + chance.gauss(0, 2e-5), pushed / NEWTON + chance.gauss(0, 1e-4)):
            frames += struct.pack("<i", max(-8388608, min(8388607, round(8388607 * value))))[:3]
    head = struct.pack("<HHIIHH", 1, 2, RATE, RATE * 6, 6, 24)
    path.write_bytes(b"RIFF" + struct.pack("<I", 36 + len(frames)) + b"WAVEfmt " + struct.pack("<I", 16) + head +
                     b"data" + struct.pack("<I", len(frames)) + frames)
    return path


def agrees(checks, told, share, what):
    """The response told at the modes is the plate's."""
    for hz, _, _ in PLATE:
        at = min(told["modes"], key=lambda mode: abs(mode["hz"] - hz), default={"hz": 0})
        if not checks.that(abs(at["hz"] - hz) < 0.5, f"{what}: no mode at {hz} Hz"):
            continue
        # Read at the grid's nearest frequency, half a step (0.25 Hz) away at the most.
        near = [abs(truth(at["hz"] + off / 100)) for off in range(-25, 26)]
        allowed = share + 5 * at["relative_sd"]
        checks.that(min(near) * (1 - allowed) <= at["h1"] <= max(near) * (1 + allowed),
                    f"{what}: at {hz} Hz {at['h1']:.5g}, not {min(near):.5g} to {max(near):.5g}")
        checks.that(at["coherence"] > 0.98, f"{what}: coherence {at['coherence']} at {hz} Hz")


def live(given, checks, own, file):
    with support.sound_server(given.scratch, own, channels=2) as heard:
        with support.started([given.program, "listen", "--json", "--taps", "5", "--seconds", "25", "--force", f"2:{NEWTON:g}"],
                             env=heard, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, text=True) as listening:
            time.sleep(1.5)
            subprocess.run(["paplay", str(file)], env=heard, check=True, timeout=60)
            said = [json.loads(line) for line in listening.communicate(timeout=40)[0].splitlines()]
    told = next((line["response"] for line in said if "response" in line), None)
    if checks.that(told and told["strikes"] >= 4, f"live: {said[-2:]}"):
        agrees(checks, told, 0.02, "live")


if __name__ == "__main__":
    given = support.arguments()
    own = support.private_environment(given.scratch)
    checks = support.Checks()
    file = recording(given.scratch / "hammer.wav", 6, clipped=(3,))
    lab = given.scratch / "hammer.uff"
    done = support.run(given.program, "read", file, "--force", f"2:{NEWTON:g}", "--responses", lab, "--json", env=own)
    checks.that(done.returncode == 0, f"read --force: {done}")
    told = json.loads(done.stdout)["files"][0]["response"]
    checks.that(told["strikes"] == 5 and told["force_clipped"] == 1 and told["unit"] == "1/N", f"strikes: {told}")
    checks.that("1 had their force clipped" in done.stderr, f"nothing is said of the clipped one: {done.stderr!r}")
    agrees(checks, told, 0.005, "read")
    plain = support.run(given.program, "read", file, "--force", "2", env=own)
    checks.that("response to the force (H1), 5 strikes" in plain.stdout, f"the table: {plain.stdout[-600:]!r}")
    response, coherence = universal_reader.read(lab)[58]
    checks.that(response["type"] == 4 and coherence["type"] == 6 and response["axes"][2]["data"] == 13
                and response["axes"][2]["units"] == "N", f"what the file says it holds: {response['axes']}")
    for k in range(round(80 / response["step"]), round(500 / response["step"])):
        wanted = truth(k * response["step"])
        if not checks.that(abs(response["values"][k] - wanted) < 0.05 * abs(wanted), f"{k * response['step']} Hz: {response['values'][k]}"):
            break
    for words, code in ((("--force", "3"), 3), (("--force", "two"), 2), (("--force", "2:-4"), 2), (("--responses", lab), 2)):
        done = support.run(given.program, "read", file, *words, env=own)
        checks.that(done.returncode == code and len(done.stderr.splitlines()) == 1, f"{words}: {done.returncode} {done.stderr!r}")
    if all(map(support.shutil.which, ("pulseaudio", "paplay", "pactl"))):
        live(given, checks, own, file)
    else:
        print("not heard live: no PulseAudio here")
    checks.finish()

"""Recordings made on the spot for the bad-input tests, in every sample format a WAV file knows.
Python's standard library only."""
import array
import math
import random
import struct

MODES_HZ = (116.0, 172.0, 352.0)


def strike(rate, seconds=1.6, onset_s=0.6):
    """A quiet room with one strike on a plate of three modes: floats, full scale +-1."""
    room = random.Random(7)
    samples = array.array("d", (room.gauss(0.0, 2e-4) for _ in range(int(seconds * rate))))
    first = int(onset_s * rate)
    for hz, q, amplitude in zip(MODES_HZ, (50.0, 58.0, 65.0), (0.15, 0.25, 0.4)):
        angle = 2.0 * math.pi * hz / rate
        radius = math.exp(-math.pi * hz / q / rate)
        turn, shrink = 2.0 * radius * math.cos(angle), -radius * radius
        two, one = 0.0, radius * math.sin(angle) * amplitude
        for n in range(first + 1, len(samples)):
            samples[n] += one
            two, one = one, turn * one + shrink * two
    return samples


def silence(rate, seconds=2.0):
    return array.array("d", bytes(8 * int(seconds * rate)))


def encode(samples, kind):
    """The samples as bytes: u8, s16, s24, s32, f32 or f64, little-endian."""
    if kind == "u8":
        return bytes(min(255, max(0, round(128 + 127 * x))) for x in samples)
    if kind == "s16":
        return struct.pack(f"<{len(samples)}h", *(round(32767 * x) for x in samples))
    if kind == "s24":
        return b"".join(struct.pack("<i", round(8388607 * x))[:3] for x in samples)
    if kind == "s32":
        return struct.pack(f"<{len(samples)}i", *(round(2147483647 * x) for x in samples))
    return struct.pack(f"<{len(samples)}{'f' if kind == 'f32' else 'd'}", *samples)


def write_wav(path, samples, rate, kind="s16", channels=1):
    """A WAV file; more than one channel all carry the same sound."""
    width = {"u8": 1, "s16": 2, "s24": 3, "s32": 4, "f32": 4, "f64": 8}[kind]
    body = encode(samples, kind)
    if channels > 1:
        body = b"".join(body[n:n + width] * channels for n in range(0, len(body), width))
    tag = 3 if kind.startswith("f") else 1
    block = width * channels
    head = struct.pack("<HHIIHH", tag, channels, int(rate), int(rate) * block, block, 8 * width)
    path.write_bytes(b"RIFF" + struct.pack("<I", 36 + len(body)) + b"WAVE" +
                     b"fmt " + struct.pack("<I", 16) + head +
                     b"data" + struct.pack("<I", len(body)) + body)
    return path

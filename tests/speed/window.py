#!/usr/bin/env python3
"""Measures the window as a maker meets it: a private screen with software GL, a private sound server.

    python3 tests/speed/window.py --program build/release/bin/platewright --source . \\
        --scratch build/scratch/speed_window

Prints: the part of a core used while it listens to a quiet room; from a strike, as another program
hears it, to the first reading on the screen; from the start of the program to listening, with a
ledger of 1000 instruments. docs/screen-results.md has what it printed."""
import array
import contextlib
import ctypes
import os
import pathlib
import random
import sqlite3
import statistics
import subprocess
import sys
import threading
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "whole"))
import glass  # noqa: E402  (found by the line above)
import sounds  # noqa: E402
import support  # noqa: E402

STRIP = (240, 110, 500, 2)  # left, top, width, height: through the words that answer a tap, 1280 x 800
RATE = 48000


class Eye:
    """Looks at a few pixels of the screen, in some tenths of a millisecond."""

    def __init__(self, display):
        self.x11 = ctypes.CDLL("libX11.so.6")
        self.x11.XOpenDisplay.restype = ctypes.c_void_p
        self.x11.XDefaultRootWindow.restype = ctypes.c_ulong
        self.x11.XDefaultRootWindow.argtypes = [ctypes.c_void_p]
        self.x11.XGetImage.restype = ctypes.c_void_p
        self.x11.XGetImage.argtypes = [ctypes.c_void_p, ctypes.c_ulong, ctypes.c_int, ctypes.c_int,
                                       ctypes.c_uint, ctypes.c_uint, ctypes.c_ulong, ctypes.c_int]
        self.x11.XDestroyImage.argtypes = [ctypes.c_void_p]
        self.display = self.x11.XOpenDisplay(display.encode())
        self.root = self.x11.XDefaultRootWindow(self.display)

    def look(self, left, top, width, height):
        image = self.x11.XGetImage(self.display, self.root, left, top, width, height,
                                   ctypes.c_ulong(-1).value, 2)

        class Head(ctypes.Structure):
            _fields_ = [("size", ctypes.c_int * 4), ("data", ctypes.c_void_p)]
        seen = ctypes.string_at(Head.from_address(image).data, width * height * 4)
        self.x11.XDestroyImage(image)
        return seen


class Listener(threading.Thread):
    """Hears the same input as the program and notes when a strike arrived."""

    def __init__(self, env):
        super().__init__(daemon=True)
        self.process = subprocess.Popen(
            ["parec", "--raw", "--format=s16le", "--channels=1", f"--rate={RATE}", "--latency-msec=5"],
            env=env, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL)
        self.strike = None
        self.armed = False

    def run(self):
        while True:
            piece = self.process.stdout.read(2 * RATE // 200)
            if not piece:
                return
            loud = max(map(abs, array.array("h", piece)))
            if self.armed and loud > 1500:
                self.strike, self.armed = time.monotonic(), False


def breathe(given, env):
    noise = random.Random(1)
    file = sounds.write_wav(given.scratch / "room.wav",
                            array.array("d", (noise.gauss(0.0, 2e-4) for _ in range(240 * 16000))), 16000)
    return support.started(["paplay", file], env=env)


def processor_s(pid):
    fields = pathlib.Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def idle(shown, seconds=30):
    time.sleep(3)
    before = processor_s(shown.process.pid)
    time.sleep(seconds)
    used = processor_s(shown.process.pid) - before
    print(f"listening to a quiet room for {seconds} s: {100 * used / seconds:.2f} % of a core", flush=True)


def one_strike(given, env):
    """One strike on an imaginary plate, half a second into the file."""
    import math
    sound = array.array("d", bytes(8 * 2 * RATE))
    for hz, q, level in ((115, 50, 0.1), (170, 58, 0.15), (355, 62, 0.3)):
        decay = math.pi * hz / q
        for i in range(RATE // 2, 2 * RATE):
            t = (i - RATE // 2) / RATE
            sound[i] += level * math.exp(-decay * t) * math.sin(2 * math.pi * hz * t)
    return sounds.write_wav(given.scratch / "strike.wav", sound, RATE)


def first_readings(given, env, eye, count=10):
    file = one_strike(given, env)
    listener = Listener(env)
    listener.start()
    waits = []
    time.sleep(2)
    for _ in range(count):
        time.sleep(11)  # until the band listens again: an answer that ages changes as well
        before = eye.look(*STRIP)
        listener.strike, listener.armed = None, True
        with support.started(["paplay", file], env=env) as player:
            end = time.monotonic() + 4
            while eye.look(*STRIP) == before and time.monotonic() < end:
                time.sleep(0.002)
            changed = time.monotonic()
            player.wait(10)
        if listener.strike and changed < end:
            waits.append(1000 * (changed - listener.strike))
    support.stop(listener.process)
    if waits:
        print(f"from a strike to its first reading on the screen: median {statistics.median(waits):.0f} ms, "
              f"worst {max(waits):.0f} ms of {len(waits)}", flush=True)
    else:
        print("no strike was answered", flush=True)


def fill(folder, instruments=1000):
    """A ledger as large as a long life's: every instrument with two plates of five sessions."""
    with contextlib.closing(sqlite3.connect(folder / "ledger.sqlite")) as database, database:
        stamp = 1_925_000_000_000  # milliseconds: in 2031

        def insert(table, **values):
            names = ", ".join(values)
            marks = ", ".join("?" * len(values))
            return database.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})",
                                    list(values.values())).lastrowid
        for i in range(instruments):
            instrument = insert("instrument", label=f"Imagined {i}", kind="violin", notes="", created_ms=stamp)
            for part in ("top", "back"):
                plate = insert("plate", instrument=instrument, part=part, label=part, wood="invented",
                               notes="", created_ms=stamp)
                for s in range(5):
                    insert("session", plate=plate, begun_ms=stamp + 86_400_000 * s,
                           stage="graduating", mass_g=110.0 - s, notes="")


def starts(given, env, count=5):
    folder = given.scratch / "large"
    with glass.window(given, env, "--ledger", folder) as shown:
        shown.close()
    fill(folder)
    waits = []
    for _ in range(count):
        begun = time.monotonic()
        command = [given.program, "--ledger", folder]
        with support.started(command, env=env, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                             stderr=subprocess.DEVNULL) as process:
            def listens():
                done = support.run("pactl", "list", "short", "source-outputs", env=env, timeout=10)
                return done.stdout.strip()
            support.wait_until(listens, 20, "listening", step=0.005)
            waits.append(1000 * (time.monotonic() - begun))
            time.sleep(1.0)
            support.stop(process)
        time.sleep(0.5)
    print(f"from the start to listening, 1000 instruments in the ledger: median "
          f"{statistics.median(waits):.0f} ms, worst {max(waits):.0f} ms of {count}", flush=True)


def main():
    given = support.arguments()
    support.need("pulseaudio", "pactl", "paplay", "parec", "Xvfb", "xdotool")
    own = support.private_environment(given.scratch)
    ledger = given.scratch / "ledger"
    subprocess.run([given.program, "demo", "--fill", "begun", "--ledger", ledger], env=own, check=True,
                   timeout=300, stdout=subprocess.DEVNULL)
    with support.sound_server(given.scratch, own) as heard, support.screen(given.scratch, heard) as seen:
        starts(given, seen)
        with breathe(given, seen), glass.window(given, seen, "--ledger", ledger) as shown:
            first_readings(given, seen, Eye(seen["DISPLAY"]))
            idle(shown)
            shown.close()


if __name__ == "__main__":
    main()

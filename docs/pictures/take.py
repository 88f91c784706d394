#!/usr/bin/env python3
"""Takes the pictures of the guide from the real program: the demo workshop's ledger, the window on a
private screen, the newest session's taps out of a private sound server.

    python3 docs/pictures/take.py --program build/release/bin/platewright --source . \\
        --scratch build/scratch/pictures --pictures docs/pictures

Needs what the tests in tests/whole/ need."""
import array
import contextlib
import pathlib
import random
import subprocess
import sys
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[2] / "tests" / "whole"))
import glass  # noqa: E402  (found by the line above)
import sounds  # noqa: E402
import support  # noqa: E402

NEWEST = "wren-back-9.flac"
REFERENCE = (240, 122)  # the first row of the view "Compare", in a window of 1280 x 800


@contextlib.contextmanager
def quiet_room(given, env):
    """A room is never as silent as a sound server that plays nothing."""
    breath = random.Random(1)
    noise = array.array("d", (breath.gauss(0.0, 2e-4) for _ in range(600 * 16000)))
    file = sounds.write_wav(given.scratch / "room.wav", noise, 16000)
    with support.started(["paplay", file], env=env):
        time.sleep(2.0)
        yield


def fill(given, env, ledger):
    subprocess.run([given.program, "demo", "--fill", "begun", "--ledger", ledger], env=env, check=True,
                   timeout=300)


def is_fitted(env):
    """While the plate's model is fitted a bar stands below the sheets, and between them the
    window's ground is seen; afterwards a sheet, which is lighter."""
    done = subprocess.run(["import", "-window", "root", "-crop", "1x1+845+692", "-depth", "8", "rgb:-"], env=env, timeout=30,
                          capture_output=True, check=True)
    return done.stdout[2] > 235


def film(given, env, until):
    """Frames of the strip and the figures, up to ten a second."""
    frames = []
    while time.monotonic() < until:
        begun = time.monotonic()
        frames.append(given.scratch / f"film-{len(frames):02}.png")
        support.run("import", "-window", "root", "-crop", "900x420+108+50", frames[-1], env=env)
        time.sleep(max(0.0, 0.1 - (time.monotonic() - begun)))
    return frames


def filmstrip(given, env, frames):
    """A tap being answered: the frames that differ by more than the meter, beneath each other."""
    told = frames[:1]
    for frame in frames[1:]:
        done = support.run("compare", "-metric", "AE", told[-1], frame, "null:", env=env)
        if float(done.stderr.split()[0]) > 4000:
            told.append(frame)
    support.run("convert", *told[:4], "+repage", "-resize", "60%", "-append", "-dither", "None", "-colors", "192",
                f"PNG8:{given.pictures / 'a-tap-answered.png'}", env=env)


def first_visit(given, env):
    with quiet_room(given, env), glass.window(given, env, "--ledger", given.scratch / "empty") as shown:
        shown.keys("h", pause=4.5)
        path = given.pictures / "first-visit.png"
        shown.picture(path)
        support.run("convert", path, "-dither", "None", "-colors", "192", f"PNG8:{path}", env=env)
        shown.close()


def take(given, env, ledger):
    def picture(name):
        path = given.pictures / f"{name}.png"
        shown.picture(path)
        # Flat colours: a palette keeps the picture at a third of its size.
        support.run("convert", path, "-dither", "None", "-colors", "192", f"PNG8:{path}", env=env)

    with quiet_room(given, env), glass.window(given, env, "--ledger", ledger) as shown:
        shown.keys("F3", pause=1.0)
        shown.click(*REFERENCE)
        shown.tool("mousemove", 1270, 790)
        shown.keys("F1", "space", pause=0.8)
        playing = ["paplay", str(given.source / "sample-audio" / NEWEST)]
        begun = time.monotonic()
        with support.started(playing, env=env) as player:
            frames = film(given, env, begun + 6.0)
            time.sleep(max(0.0, begun + 8.2 - time.monotonic()))  # the fifth strike, struck twice, has just been refused
            picture("refused")
            player.wait(60)
        time.sleep(4.0)
        filmstrip(given, env, frames)
        shown.keys("F8", pause=2.0)  # whose model says on the bench how much may go, and where
        support.wait_until(lambda: is_fitted(env), 600, "the model of the bench's decision", step=1.0)
        shown.keys("F1", pause=1.5)
        picture("bench")
        for key, name in (("F2", "drift"), ("F3", "beside"), ("F4", "plates"), ("F5", "ear"), ("F6", "settings"),
                          ("F7", "look-into")):
            shown.keys(key, pause=2.0)
            picture(name)
        shown.keys("F2", "a", "a", pause=1.0)
        picture("drift-by-session")
        shown.keys("a", pause=0.5)
        shown.keys("F8", pause=2.0)
        support.wait_until(lambda: is_fitted(env), 300, "the model of nine sessions", step=1.0)
        time.sleep(1.0)
        picture("carve-thickness")
        for sheet, across in (("motion", 427), ("strokes", 550), ("pass", 672)):
            shown.click(across, 74, pause=2.0)
            if sheet == "strokes":
                shown.tool("mousemove", 430, 330)
                time.sleep(1.0)
                picture("carve-strokes")
        shown.keys("F1", "x", pause=1.5)
        picture("bench-spectrum")
        shown.keys("x", "d", pause=1.5)
        picture("bench-dark")
        shown.keys("d", "m", "Right")
        picture("naming")
        shown.keys("Escape", "e", pause=1.0)
        picture("session")
        shown.close()


if __name__ == "__main__":
    arguments = support.arguments()
    support.need("pulseaudio", "pactl", "paplay", "Xvfb", "xdotool", "import")
    arguments.pictures.mkdir(parents=True, exist_ok=True)
    own = support.private_environment(arguments.scratch)
    fill(arguments, own, arguments.scratch / "ledger")
    with support.sound_server(arguments.scratch, own) as heard:
        with support.screen(arguments.scratch, heard) as seen:
            take(arguments, seen, arguments.scratch / "ledger")
            first_visit(arguments, seen)

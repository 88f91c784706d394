#!/usr/bin/env python3
"""A hammer that tells its force, live in the window: its channel and newtons are chosen at the ear, its strikes come
through a real sound server, and what is kept gives the plate's response, known in closed form; clipped, absent and
double pushes are kept as they were."""
import json
import pathlib
import subprocess
import time

import force
import glass
import support

CHANNEL, SECOND, NEWTON = (254, 449), (254, 513), (254, 514)  # at the ear, in a window of 1280 x 800


def struck(given, env, ledger, file, count):
    subprocess.run(["paplay", str(file)], env=env, check=True, timeout=60)
    support.wait_until(lambda: support.ask(ledger, "SELECT count(*) FROM tap WHERE verdict = 'accepted'")[0][0] >= count, 20,
                       f"{count} good taps", step=0.5)


def kept(given, env, checks, ledger):
    """Each good tap's recording holds both channels; together they give the plate's response."""
    files = [ledger / "recordings" / name[:2] / f"{name}.flac" for (name,) in
             support.ask(ledger, "SELECT recording FROM tap WHERE verdict = 'accepted' ORDER BY id")]
    told = [json.loads(support.run(given.program, "read", file, "--force", f"2:{force.NEWTON:g}", "--json", env=env).stdout)
            ["files"][0]["response"] for file in files]
    checks.that([one["strikes"] for one in told].count(1) == 5, f"strikes that count: {told}")
    for one in told:
        for hz, _, _ in force.PLATE if one["strikes"] else ():
            at = min(one["modes"], key=lambda mode: abs(mode["hz"] - hz))
            near = [abs(force.truth(at["hz"] + off / 100)) for off in range(-25, 26)]  # half a step of the response's grid
            checks.that(0.97 * min(near) <= at["h1"] <= 1.03 * max(near), f"at {hz} Hz {at['h1']:.5g}, not {min(near):.5g}")
    checks.that(sum(one["force_clipped"] for one in told) == 1, f"one is clipped: {told}")
    comments = [file.read_bytes() for file in files]
    checks.that(all(b"; newton at full scale 220" in text for text in comments), "a recording does not name its newtons")


if __name__ == "__main__":
    given = support.arguments()
    support.need("pulseaudio", "pactl", "paplay", "Xvfb", "xdotool", "import")
    checks = support.Checks()
    own = support.private_environment(given.scratch)
    ledger = given.scratch / "ledger"
    support.run(given.program, "enter", "--plate", "Wren back", "--instrument", "Wren", "--ledger", ledger, env=own)
    hammer = force.recording(given.scratch / "hammer.wav", 6, clipped=(3,))
    with support.sound_server(given.scratch, own, channels=2) as heard, support.screen(given.scratch, heard) as seen:
        with glass.window(given, seen, "--ledger", ledger) as shown:
            shown.keys("F5", pause=1.5)
            if given.pictures:
                shown.picture(given.pictures / "force-1.png")
            shown.click(*CHANNEL)
            shown.click(*SECOND)
            time.sleep(1.0)
            if given.pictures:
                shown.picture(given.pictures / "force-2.png")
            shown.click(*NEWTON)
            shown.write(f"{force.NEWTON:g}")
            shown.keys("Return", pause=2.0)
            chosen = dict(support.ask(ledger, "SELECT key, value FROM setting WHERE key LIKE 'input.force%'"))
            checks.that(chosen == {"input.force_channel": "2", "input.force_newton": "220"}, f"chosen at the ear: {chosen}")
            if given.pictures:
                shown.picture(given.pictures / "force-3.png")
            shown.keys("F1", pause=1.5)
            struck(given, seen, ledger, hammer, 6)
            time.sleep(1.0)
            if given.pictures:
                shown.picture(given.pictures / "force-4.png")
            shown.keys("F7", pause=1.5)
            if given.pictures:
                shown.picture(given.pictures / "force-5.png")
            checks.that(shown.close() == 0, "the window did not close cleanly")
    kept(given, own, checks, pathlib.Path(ledger))
    checks.finish()

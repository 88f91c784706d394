#!/usr/bin/env python3
"""Three journeys through the window, by keys, clicks and looking, on a real sound server: a first visit up to
the first session; a plate of ten sessions beside its reference, its tap heard again and its chart kept;
an old plate found by its name, and its bench sheet printed. What was done is looked for in the ledger,
in the files, on the screen."""
import subprocess
import time

import glass
import support

NEWEST = "wren-back-9.flac"
REFERENCE = (240, 122)  # the first row of the view "Compare", in a window of 1280 x 800
FOUND_PLATE = (260, 227)  # the first row of the table of plates, under its head
STOP = (1207, 718)  # under Carve, while something is computed
STOP_BOX = (124, 704, 300, 732)  # the words beside it; nothing stands there at rest
NEXT_PASS = (672, 74)
AIM_FOR_MODE_5 = (916, 459)  # under what the plan counts from, in three lines
PLAN = (884, 505)
CHART = (180, 170, 860, 640)  # within the axes of the drift


def good_taps(folder):
    return support.ask(folder, "SELECT COUNT(*) FROM tap JOIN session ON session.id = tap.session WHERE verdict = "
                       "'accepted' AND session.id = (SELECT MAX(id) FROM session)")[0][0]


def wait_for_taps(folder, good):
    """All good taps of a recording; where one is missing, what was heard instead."""
    try:
        support.wait_until(lambda: good_taps(folder) == good, 20, f"{good} good taps")
    except TimeoutError as waited:
        heard = support.ask(folder, "SELECT onset_frame, verdict FROM tap WHERE session = (SELECT MAX(id) FROM session)")
        raise TimeoutError(f"{waited}; heard: {heard}") from waited


def play(given, env, name):
    done = support.run("paplay", given.source / "sample-audio" / name, env=env, timeout=120)
    if done.returncode != 0:
        raise RuntimeError("paplay: " + done.stderr)


def first_visit(given, env, checks, good):
    """In German, since the surroundings say so: the room, an instrument, a plate, a session."""
    folder = given.scratch / "first"
    with glass.window(given, env | {"LANG": "de_DE.UTF-8"}, "--ledger", folder) as shown:
        shown.keys("h", pause=4.5)  # the room
        shown.picture(given.scratch / "first-visit.png")
        shown.keys("i", pause=1.0)
        shown.write("Larkfield 11")
        shown.keys("Return", pause=1.5)
        # The plate's form comes by itself.
        shown.write("Boden")
        shown.keys("Return", pause=1.5)
        shown.keys("F1", "n", pause=1.0)
        play(given, env, NEWEST)
        wait_for_taps(folder, good)
        shown.keys("e", pause=1.0)
        shown.write("101,4")
        shown.keys("Return", pause=1.0)
        checks.that(shown.close() == 0, "the first visit did not close cleanly")
    checks.that(support.ask(folder, "SELECT label FROM instrument") == [("Larkfield 11",)], "no instrument")
    checks.that(support.ask(folder, "SELECT mass_g FROM session") == [(101.4,)],
                f"mass {support.ask(folder, 'SELECT mass_g FROM session')}")


def ten_sessions(given, env, checks, good):
    folder = given.scratch / "ten"
    subprocess.run([given.program, "demo", "--fill", "begun", "--ledger", folder], env=env, check=True,
                   timeout=300, stdout=subprocess.DEVNULL)
    with glass.window(given, env, "--ledger", folder) as shown:
        stop_a_fit(shown, given)
        shown.keys("F3", pause=1.0)
        shown.click(*REFERENCE)
        shown.keys("F1", pause=0.5)
        play(given, env, NEWEST)
        wait_for_taps(folder, good)
        # The tenth, a little later; weighed, since without its mass no map of the ninth is this plate's.
        grams = support.ask(folder, "SELECT mass_g FROM session JOIN plate ON plate.id = session.plate WHERE plate.label = "
                            "'Wren back' AND mass_g IS NOT NULL ORDER BY begun_ms DESC")[0][0]
        shown.keys("n", pause=1.0)
        shown.keys("e", pause=1.0)
        shown.write(f"{grams}")
        shown.keys("Return", pause=1.0)
        play(given, env, NEWEST)
        wait_for_taps(folder, good)
        shown.keys("F2", pause=1.5)  # the drift, by mass
        by_mass = shown.colours(*CHART)
        checks.that(min(by_mass.values()) > 300, f"the drift by mass lacks a mode: {by_mass} pixels")
        shown.keys("s", pause=2.0)
        home = support.pathlib.Path(env["HOME"])
        kept = sorted(path.suffix for path in home.glob("Wren back drift *"))
        checks.that(kept == [".png", ".svg"], f"the chart was kept as {kept}")
        # A tap is heard again; what sounds is heard by the program too, and is no tap.
        taps = support.ask(folder, "SELECT COUNT(*) FROM tap")
        shown.keys("F7", pause=1.5)
        with support.started(["parec", "--raw", "--format=s16le", "--channels=1", "--rate=16000"], env=env,
                             stdout=open(given.scratch / "heard.raw", "wb")):
            time.sleep(0.5)
            shown.keys("p", pause=4.0)
        loudest = max(abs(int.from_bytes(pair, "little", signed=True))
                      for pair in pairs((given.scratch / "heard.raw").read_bytes()))
        checks.that(loudest > 300, f"nothing was played: the loudest sample is {loudest} of 32767")
        checks.that(support.ask(folder, "SELECT COUNT(*) FROM tap") == taps, "what was played became a tap")
        shown.picture(given.scratch / "session.png")
        plan(shown, given, folder, checks)
        checks.that(shown.close() == 0, "the window of ten sessions did not close cleanly")
    sessions = support.ask(folder, "SELECT COUNT(*) FROM session JOIN plate ON plate.id = session.plate "
                           "WHERE plate.label = 'Wren back'")
    checks.that(sessions == [(10,)], f"the plate has {sessions} sessions")
    return folder


def works(shown):
    return shown.drawn(*STOP_BOX) > 100


def stop_a_fit(shown, given):
    """Without a goal the model is fitted for whoever looks: begun, stopped, begun again on another sheet."""
    shown.keys("F8", pause=0.2)
    support.wait_until(lambda: works(shown), 30, "the bar that says that the model is being fitted", step=0.02)
    shown.click(*STOP, pause=0.1)
    # the solve that is under way is finished first: a tenth of a second, several where others compute too
    support.wait_until(lambda: not works(shown), 1.5, "the fit's end after it was stopped", step=0.05)
    shown.picture(given.scratch / "stopped.png")
    shown.click(*NEXT_PASS, pause=0.2)  # who opens another sheet looks again: nothing was finished before
    support.wait_until(lambda: works(shown), 30, "the model being fitted again", step=0.02)
    support.wait_until(lambda: not works(shown), 400, "the model")


def plan(shown, given, folder, checks):
    """The next pass. With a goal the bench has asked the model by itself, for its decision."""
    shown.keys("F8", pause=2.0)
    support.wait_until(lambda: not works(shown), 400, "the model")
    time.sleep(0.5)
    shown.click(*AIM_FOR_MODE_5)
    shown.keys("ctrl+a", pause=0.2)
    shown.write("345,5")
    shown.picture(given.scratch / "to-plan.png")
    shown.click(*PLAN)
    support.wait_until(lambda: support.ask(folder, "SELECT COUNT(*) FROM plan") == [(1,)], 400, "a plan in the ledger")
    wanted = support.ask(folder, "SELECT want_hz FROM plan_mode WHERE number = 5")
    checks.that(wanted == [(345.5,)], f"the plan wants {wanted}")
    time.sleep(1.0)
    shown.picture(given.scratch / "planned.png")


def pairs(data):
    return (data[i:i + 2] for i in range(0, len(data) - 1, 2))


def old_plate(given, env, checks, folder):
    """Found by two words, in Italian; it is on the bench and stays there for the next day."""
    with glass.window(given, env | {"LANG": "it_IT.UTF-8"}, "--ledger", folder) as shown:
        shown.keys("F4", pause=1.0)
        shown.click(300, 98)  # the field that looks for words
        shown.write("heron")
        shown.click(*FOUND_PLATE)
        shown.keys("F2", pause=1.5)
        shown.picture(given.scratch / "found.png")
        checks.that(shown.close() == 0, "the window of the old plate did not close cleanly")
    label = support.ask(folder, "SELECT instrument.label FROM plate JOIN instrument ON instrument.id = plate.instrument "
                        "WHERE plate.id = (SELECT value FROM setting WHERE key = 'plate.last')")
    checks.that(label and "Heron" in label[0][0], f"on the bench lies {label}")
    chart = given.scratch / "sheet.pdf"
    plate = support.ask(folder, "SELECT value FROM setting WHERE key = 'plate.last'")[0][0]
    done = support.run(given.program, "sheet", plate, "--ledger", folder, "--to", chart, env=env)
    checks.that(done.returncode == 0 and chart.read_bytes().startswith(b"%PDF"),
                f"the bench sheet was not printed: {done.stderr}")


if __name__ == "__main__":
    arguments = support.arguments()
    support.need("pulseaudio", "pactl", "paplay", "parec", "Xvfb", "xdotool", "import")
    check = support.Checks()
    own = support.private_environment(arguments.scratch)
    strikes = support.manifest(arguments.source)[NEWEST]["strikes"]
    accepted = sum(strike["verdict"] == "accepted" for strike in strikes)
    with support.sound_server(arguments.scratch, own) as heard:
        with support.screen(arguments.scratch, heard) as seen:
            first_visit(arguments, seen, check, accepted)
            ledger = ten_sessions(arguments, seen, check, accepted)
            old_plate(arguments, seen, check, ledger)
    check.finish()

#!/usr/bin/env python3
"""Enters the demo workshop's recordings into a ledger, through the program itself.

Everything about the workshop is invented; manifest.json says what each recording holds.
"""
import argparse
import json
import pathlib
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent


def entry(program, ledger, recording, with_sound):
    """The command that enters one session; without its sound the session is only begun."""
    command = [program, "enter", "--ledger", ledger, "--plate", recording["plate"],
               "--instrument", recording["instrument"], "--kind", recording["kind"], "--part", recording["part"],
               "--wood", recording["wood"], "--stage", recording["stage"], "--mass", str(recording["mass_g"]),
               "--temperature", str(recording["temperature_c"]), "--humidity", str(recording["humidity_pct"]),
               "--when", recording["when"] + "Z", "--notes", recording["notes"] + " (invented)"]
    if recording["plate"] == "Heron back":
        command += ["--reference", "Heron back, the one we liked"]
    if with_sound:
        spot = None
        for strike in recording["strikes"]:
            if strike["spot"] != spot:
                spot = strike["spot"]
                command += ["--spot", f"{max(0.0, strike['onset_s'] - 0.3):.3f}:{spot}"]
        command.append(str(HERE / recording["file"]))
    return command


# What map_generator gave the plates.
SHAPES = {"back": ["--species", "red_maple", "--arch", "15", "--edge", "4"],
          "top": ["--species", "norway_spruce", "--arch", "15", "--edge", "4", "--fullness", "3:1.8"]}


def mapping(program, ledger, recording):
    """The command that takes a session's caliper readings in; none for the body, which has none."""
    if recording["part"] not in SHAPES:
        return None
    readings = HERE / recording["file"].replace(".flac", ".csv")
    return [program, "caliper", recording["plate"], str(readings), "--ledger", ledger, *SHAPES[recording["part"]]]


def wood(program, ledger, test):
    """The command that brings in one test of the invented wood."""
    command = [program, "wood", "add", test["wood"], "--ledger", ledger, "--species", test["species"],
               "--origin", test["origin"], "--piece", test["piece"], "--when", test["when"] + "Z", "--notes", "invented"]
    for option in ("along", "across", "thickness"):
        command += ["--" + option, str(test[option + "_mm"])]
    command += ["--mass", str(test["mass_g"]), "--temperature", str(test["temperature_c"]),
                "--humidity", str(test["humidity_pct"])]
    for motion, heard in test["motions"].items():
        command += ["--motion", f"{motion}={heard['hz']}@{heard['q']}"]
    return command


def bring_in_wood(program, ledger, plates):
    stock = json.loads((HERE / "wood.json").read_text(encoding="utf-8"))
    for test in stock["tests"]:
        run(wood(program, ledger, test), test["wood"])
    for plate, label in stock["plates"].items():
        if plate in plates:
            run([program, "wood", "carve", plate, label, "--ledger", ledger], plate)
    print(f"  {len({test['wood'] for test in stock['tests']})} woods")


def run(command, name):
    done = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=False)
    if done.returncode != 0:
        sys.stdout.write(done.stdout)
        sys.exit(f"{name}: platewright {command[1]} ended with {done.returncode}")
    return done.stdout


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--program", required=True)
    parser.add_argument("--ledger", required=True)
    parser.add_argument("--only", metavar="FILE", help="enter this recording alone")
    parser.add_argument("--but", metavar="FILE", help="leave this recording out")
    parser.add_argument("--begin", metavar="FILE", help="begin this recording's session, last, without its taps")
    options = parser.parse_args()
    recordings = json.loads((HERE / "manifest.json").read_text(encoding="utf-8"))["recordings"]
    recordings = [r for r in recordings if r["file"] != options.but and options.only in (None, r["file"])]
    # The closed body first, so that the plate worked on last is the one that opens.
    recordings.sort(key=lambda r: (r["file"] == options.begin, r["part"] != "body", r["when"]))
    for recording in recordings:
        with_sound = recording["file"] != options.begin
        told = run(entry(options.program, options.ledger, recording, with_sound), recording["file"])
        if command := mapping(options.program, options.ledger, recording):
            run(command, recording["file"])
        print("  " + next((line for line in told.splitlines() if "kept" in line), recording["file"]))
    if not options.only:
        bring_in_wood(options.program, options.ledger, {r["plate"] for r in recordings})


if __name__ == "__main__":
    main()

#!/usr/bin/env python3
"""The JSON of the command line is what docs/json.md says: every field it promises is there with its
type, and no field is printed that it does not name."""
import contextlib
import json
import math
import pathlib
import re
import sqlite3
import subprocess

import support

NUMBER, WHOLE, TEXT, TRUTH = "a number", "a whole number", "text", "true or false"


def maybe(kind):
    """The kind, or null where it is not known."""
    return ("maybe", kind)


PARTIAL = {"hz": NUMBER, "hz_sd": NUMBER, "q": NUMBER, "q_sd": NUMBER, "level_db": NUMBER,
           "level_dbfs": NUMBER, "phase_rad": NUMBER}
MODE = {"hz": NUMBER, "hz_sd": NUMBER, "spread_hz": NUMBER, "q": NUMBER, "q_sd": NUMBER,
        "level_db": NUMBER, "taps": WHOLE, "spots_db": dict}
TAP = {"onset_s": NUMBER, "peak_dbfs": NUMBER, "noise_dbfs": NUMBER, "verdict": TEXT,
       "partials": [PARTIAL]}
SESSION = {"id": WHOLE, "begun": TEXT, "stage": TEXT, "mass_g": maybe(NUMBER),
           "temperature_c": maybe(NUMBER), "humidity_pct": maybe(NUMBER), "notes": TEXT}
CHANGE = {"hz": NUMBER, "hz_sd": NUMBER, "hz_95": NUMBER, "cents": NUMBER, "mass_g": maybe(NUMBER),
          "hz_per_g": maybe(NUMBER)}
FORECAST = {"hz_per_g": NUMBER, "hz_per_g_sd": NUMBER, "hz_per_g_95": NUMBER, "sessions": WHOLE, "mass_g": NUMBER,
            "hz": NUMBER, "after_1_g_hz": NUMBER, "after_1_g_low_hz": NUMBER,
            "after_1_g_high_hz": NUMBER}

READ = {"schema": TEXT, "files": [{"path": TEXT, "sample_rate_hz": NUMBER, "duration_s": NUMBER,
                                   "taps": [TAP], "modes": [MODE],
                                   "input": {"moves_gain": TRUTH, "bends": TRUTH,
                                             "room": maybe({"t60_s": NUMBER, "direct_db": NUMBER,
                                                            "cents": NUMBER})}}]}
ENTER = {"schema": TEXT, "plate": {"id": WHOLE, "label": TEXT}, "session": SESSION, "taps": WHOLE,
         "accepted": WHOLE, "modes": [MODE], "doubt": TEXT}
RANGE = {"value": NUMBER, "low": NUMBER, "high": NUMBER}
DRIFT = {"schema": TEXT, "plate": {"id": WHOLE, "label": TEXT, "instrument": TEXT},
         "sessions": [SESSION | {"ratio_5_to_2": maybe(NUMBER), "moisture_pct": maybe(NUMBER)}],
         "tracks": [{"number": maybe(WHOLE),
                     "points": [MODE | {"session": WHOLE, "confidence": NUMBER}],
                     "steps": [CHANGE], "since_last": maybe(CHANGE),
                     "since_beginning": maybe(CHANGE), "forecast": maybe(FORECAST)}],
         "targets": [{"number": WHOLE, "target_hz": NUMBER, "now_hz": maybe(NUMBER), "grams": maybe(RANGE | {"high": maybe(NUMBER)}),
                      "mm": maybe(RANGE), "pass_g": NUMBER, "past_it": maybe(NUMBER), "safe_g": NUMBER,
                      "passed": TRUTH, "warning": TEXT}],
         "decision": {"advice": TEXT, "number": maybe(WHOLE), "now_hz": maybe(NUMBER), "doubt_hz": maybe(NUMBER),
                      "sessions": WHOLE, "goal_hz": maybe(NUMBER), "taps_wanted": WHOLE, "take_g": maybe(NUMBER),
                      "past_it": maybe(NUMBER), "where": maybe(TEXT), "by_history": TRUTH, "by_model": TRUTH,
                      "lowest_hz": maybe(NUMBER), "lowest_doubt_hz": maybe(NUMBER),
                      "sentence": TEXT, "reason": TEXT},
         "air": maybe({"temperature_c": NUMBER, "humidity_pct": NUMBER,
                       "sessions": [{"moisture_change_pct": maybe(NUMBER), "mass_sd_g": maybe(NUMBER),
                                     "measured_mass_g": maybe(NUMBER),
                                     "measured_modes": [{"number": maybe(WHOLE), "hz": NUMBER}]}]})}
FIGURE = maybe({"value": NUMBER, "sd": NUMBER})
WOOD_MODE = {"motion": TEXT, "hz": NUMBER, "hz_sd": NUMBER, "q": maybe(NUMBER), "q_sd": maybe(NUMBER), "taps": WHOLE}
WOOD = {"id": WHOLE, "label": TEXT, "species": TEXT, "origin": TEXT, "notes": TEXT, "plates": [WHOLE],
        "tests": [{"id": WHOLE, "at": TEXT, "piece": TEXT, "along_mm": NUMBER, "across_mm": NUMBER,
                   "thickness_mm": NUMBER, "thin_edge_mm": maybe(NUMBER), "thickness_sd_mm": maybe(NUMBER),
                   "mass_g": maybe(NUMBER), "temperature_c": maybe(NUMBER), "humidity_pct": maybe(NUMBER),
                   "moisture_pct": maybe(NUMBER), "notes": TEXT, "recordings": WHOLE,
                   "modes": [WOOD_MODE]}],
        "figures": {"moisture_pct": maybe(NUMBER)} | {key: FIGURE for key in (
            "density_kg_m3", "e_l_gpa", "e_r_gpa", "g_lr_gpa", "sound_l_m_s", "sound_r_m_s", "radiation",
            "q_along", "q_across", "q_twist")},
        "remarks": [TEXT]}
NEAREST = {"schema": TEXT, "like": TEXT,
           "nearest": [{"id": WHOLE, "label": TEXT, "distance": NUMBER,
                        "figures": [{"what": TEXT, "ratio": NUMBER, "deviations": NUMBER}]}]}
THICKNESS = {"schema": TEXT, "wood": TEXT, "like": TEXT, "like_mm": NUMBER,
             "thickness": {key: FIGURE for key in ("stiff_along_mm", "stiff_across_mm", "stiff_mm", "heavy_mm",
                                                   "tuned_mm")} | {"mass_share_when_stiff": maybe(NUMBER)}}
AGAINST = {"schema": TEXT, "plate": {"id": WHOLE, "label": TEXT, "session": WHOLE},
           "reference": {"label": TEXT, "session": WHOLE},
           "modes": [{"number": maybe(WHOLE), "plate": maybe(MODE), "reference": maybe(MODE),
                      "hz": maybe(NUMBER), "hz_sd": maybe(NUMBER), "hz_95": maybe(NUMBER), "cents": maybe(NUMBER),
                      "q_ratio": maybe(NUMBER), "beyond_spread": maybe(TRUTH)}],
           "plate_ratio_5_to_2": maybe(NUMBER), "reference_ratio_5_to_2": maybe(NUMBER),
           "mass_g": maybe(NUMBER), "doubt": TEXT}
CHECK = {"schema": TEXT, "whole": TRUTH, "taps": WHOLE, "sessions": WHOLE, "recordings": WHOLE,
         "database": [TEXT], "changed": [TEXT], "unfit": [TEXT], "missing": [TEXT], "damaged": [TEXT], "strangers": [TEXT],
         "unclaimed": [TEXT]}
FOUND = {name: WHOLE for name in ("taps", "sessions", "plates", "instruments", "woods", "corrected", "strangers",
                                  "unreadable", "facts_unreadable", "read")}
MENDED = CHECK | {"mended": {"was_damaged": TRUTH, "was_gone": TRUTH, "laid_aside": maybe(TEXT), "rows_read": WHOLE,
                             "copies": [TEXT], "rows_from_copies": WHOLE, "healed": WHOLE, "changed": [TEXT],
                             "found": FOUND}}
COPY = {"name": TEXT, "kind": TEXT, "number": WHOLE, "made": maybe(TEXT), "bytes": WHOLE}
COPIES = {"schema": TEXT, "copies": [COPY]}
RESTORED = {"schema": TEXT, "restored": COPY, "laid_aside": maybe(TEXT), "found": FOUND}

PLACE = {"x_mm": NUMBER, "y_mm": NUMBER}
PLATE = {"id": WHOLE, "label": TEXT, "instrument": TEXT}
FLEX = {"id": WHOLE, "kind": TEXT, "span_mm": NUMBER, "load_g": NUMBER, "measured_mm": NUMBER,
        "model_mm": NUMBER, "model_mm_sd": NUMBER, "deviations": NUMBER}
CALIPER = {"schema": TEXT, "plate": PLATE, "session": SESSION,
           "form": {"length_mm": NUMBER, "upper_mm": NUMBER, "waist_mm": NUMBER, "lower_mm": NUMBER,
                    "measured_outline": TRUTH, "area_cm2": NUMBER, "arch_mm": NUMBER,
                    "edge_mm": NUMBER, "measured_heights": WHOLE, "species": TEXT, "pieces": WHOLE,
                    "f_holes": TRUTH, "measured_f_holes": WHOLE, "bar": TRUTH, "right_density": NUMBER,
                    "right_stiffness": NUMBER, "rings_left_deg": maybe(NUMBER),
                    "rings_right_deg": maybe(NUMBER), "run_out_deg": maybe(NUMBER)},
           "readings": [PLACE | {"thickness_mm": NUMBER, "name": TEXT}],
           "map": {"mean_mm": NUMBER, "middle_mm": NUMBER, "edge_mm": NUMBER,
                   "middle_to_edge": NUMBER, "left_less_right_mm": NUMBER,
                   "thinnest": PLACE | {"mm": NUMBER, "mm_sd": NUMBER},
                   "next_reading": PLACE | {"worst_mm_sd": NUMBER, "worst_after_mm_sd": NUMBER}},
           "mass": {"predicted_g": NUMBER, "weighed_g": maybe(NUMBER), "density_kg_m3": NUMBER,
                    "density_is_own": TRUTH, "implied_density_kg_m3": maybe(NUMBER)},
           "change": maybe({"since": SESSION, "mean_mm": NUMBER,
                            "deepest": PLACE | {"mm": NUMBER, "mm_sd": NUMBER},
                            "map_g": maybe(NUMBER), "scales_g": maybe(NUMBER)}),
           "pins": [PLACE | {"id": WHOLE, "text": TEXT}], "flexes": [FLEX],
           "remarks": [TEXT]}
FACTOR = {"times": NUMBER, "ln_sd": NUMBER}
HINDSIGHT = {"number": WHOLE, "expected_hz": NUMBER, "tapped_hz": NUMBER, "deviations": NUMBER,
             "text": TEXT}
NEXT = {"what": TEXT, "number": WHOLE, "remains": NUMBER, "minutes": NUMBER, "words": TEXT,
        "x_mm": maybe(NUMBER), "y_mm": maybe(NUMBER), "mass_g": maybe(NUMBER)}
PLAN = {"schema": TEXT, "plate": PLATE, "session": SESSION, "aim": TEXT, "rests_on": [TEXT],
        "map": {"session": SESSION, "taken_g": NUMBER, "taken_mm": NUMBER},
        "air": maybe({"temperature_c": NUMBER, "humidity_pct": NUMBER}), "status": TEXT,
        "modes": [{"number": WHOLE, "now_hz": NUMBER, "want_hz": NUMBER, "firmness": NUMBER, "pass_hz": NUMBER,
                   "pass_hz_sd": NUMBER, "pass_hz_95": NUMBER, "after_hz": NUMBER, "after_hz_sd": NUMBER,
                   "after_hz_95": NUMBER, "met": TRUTH}],
        "wood_g": NUMBER, "deepest_mm": NUMBER, "thinnest_mm": NUMBER, "pass_share": NUMBER,
        "zones": [PLACE | {"name": TEXT, "mean_mm": NUMBER, "deepest_mm": NUMBER, "wood_g": NUMBER}],
        "fit": {"sessions": [WHOLE], "plausible": TRUTH, "wood": TEXT,
                "factors": {key: FACTOR for key in ("e_l", "e_r", "g_lr", "rest", "density")},
                "lie": {key: NUMBER for key in ("rings_left_deg", "rings_right_deg", "rings_deg_sd",
                                                "run_out_deg", "run_out_deg_sd")},
                "arch_mm": NUMBER, "long_fullness": NUMBER, "cross_fullness": NUMBER, "thickness_mm": NUMBER,
                "residuals": [{"session": WHOLE, "number": WHOLE, "tapped_hz": NUMBER,
                               "model_hz": NUMBER, "deviations": NUMBER}],
                "series": [{"session": WHOLE, "model_mode": WHOLE, "heard_hz": NUMBER,
                            "model_hz": NUMBER, "deviations": NUMBER}]},
        "flexes": [FLEX], "next": [NEXT],
        "hindsight": maybe({"planned": SESSION, "after": SESSION, "pass_g": NUMBER,
                            "taken_g": maybe(NUMBER), "modes": [HINDSIGHT],
                            "carved": maybe({"map_g": NUMBER, "map_g_sd": NUMBER, "likeness": maybe(NUMBER),
                                             "times": maybe(NUMBER), "times_sd": maybe(NUMBER),
                                             "modes": [HINDSIGHT]})}),
        "summary": TEXT, "cautions": [TEXT], "remarks": [TEXT], "not_kept": TEXT}


def faults(value, kind, where):
    """What of `value` is not as `kind` says; deep."""
    if isinstance(kind, tuple):
        return [] if value is None else faults(value, kind[1], where)
    if isinstance(kind, list):
        if not isinstance(value, list):
            return [f"{where} is no list: {value!r}"]
        return [fault for n, item in enumerate(value)
                for fault in faults(item, kind[0], f"{where}[{n}]")]
    if isinstance(kind, dict):
        if not isinstance(value, dict):
            return [f"{where} is no object: {value!r}"]
        missing = [f"{where}.{key} is missing" for key in kind if key not in value]
        return missing + [fault for key, inner in kind.items() if key in value
                          for fault in faults(value[key], inner, f"{where}.{key}")]
    right = {NUMBER: isinstance(value, (int, float)) and not isinstance(value, bool)
             and math.isfinite(value),
             WHOLE: isinstance(value, int) and not isinstance(value, bool),
             TEXT: isinstance(value, str), TRUTH: isinstance(value, bool),
             dict: isinstance(value, dict)}[kind]
    return [] if right else [f"{where} is not {kind}: {value!r}"]


def names(value):
    """All field names in a JSON value; those of spots_db are spots, not fields."""
    if isinstance(value, list):
        return {name for item in value for name in names(item)}
    if isinstance(value, dict):
        return set(value) | {name for key, item in value.items() if key != "spots_db"
                             for name in names(item)}
    return set()


class Schema:
    def __init__(self, given):
        self.given = given
        self.env = support.private_environment(given.scratch)
        self.checks = support.Checks()
        self.ledger = given.scratch / "ledger"
        page = (given.source / "docs" / "json.md").read_text(encoding="utf-8")
        self.documented = set(re.findall(r"\w+", page))

    def judge(self, printed, kind, command):
        for fault in faults(printed, kind, command)[:5]:
            self.checks.that(False, fault)
        self.checks.that(printed.get("schema") == f"platewright.{command}/1",
                         f"{command}: schema {printed.get('schema')}")
        unknown = names(printed) - self.documented
        self.checks.that(not unknown, f"{command}: docs/json.md does not name {unknown}")

    def run(self, kind, command, *words):
        printed = support.read_json(self.given.program, command, *words, env=self.env)
        self.judge(printed, kind, command)
        return printed

    def enter(self, name, *more):
        entry = support.manifest(self.given.source)[name]
        return self.run(ENTER, "enter", "--ledger", self.ledger, "--plate", entry["plate"],
                        "--instrument", entry["instrument"], "--stage", entry["stage"], "--mass",
                        entry["mass_g"], "--humidity", entry["humidity_pct"], "--temperature",
                        entry["temperature_c"], "--when", entry["when"][:10], *more,
                        self.given.source / "sample-audio" / name)

    def readings(self, taken):
        """The demo's readings of the Wren back, with so much off everywhere: no wood has its modes with others."""
        file = self.given.scratch / f"readings-{taken}.csv"
        demo = (self.given.source / "sample-audio/wren-back-8.csv").read_text(encoding="utf-8").splitlines()
        lines = ["x; y; mm"]
        for x, y, height in (line.split(";") for line in demo[2:]):
            lines.append(f"{x}; {y}; {float(height.replace(',', '.')) - taken:.3f}".replace(".", ","))
        file.write_text("\n".join(lines) + "\n", encoding="utf-8")
        return file

    def described(self, entered, mapped):
        """A column that a ledger has of a session, a plate or a shape is in its JSON, and an option puts it right."""
        for table, command, told, beside in (
                ("session", ("correct", "session"), entered["session"], {"plate", "begun_ms"}),
                ("plate", ("correct", "plate"), entered["plate"], {"created_ms"}),
                ("instrument", ("correct", "instrument"), None, {"created_ms"}),
                ("form", ("caliper",), mapped["form"], {"plate", "said_ms"})):
            help_text = support.run(self.given.program, *command, "--help", env=self.env).stdout
            options = set(re.findall(r"--([a-z-]+)", help_text))
            columns = {row[1] for row in support.ask(self.ledger, f"PRAGMA table_info({table})")} - {"id", "uid", "binned_ms"}
            for column in columns - beside:
                asked = {"two_piece": "pieces"}.get(column, column)
                for key in [asked] if told is not None else []:
                    self.checks.that(key in told, f"{table}.{column} is not in the JSON: {told}")
                together = {"long_fullness": "fullness", "cross_fullness": "fullness",
                            "right_density": "right-half", "right_stiffness": "right-half"}
                name = together.get(column, asked.replace("_", "-"))
                self.checks.that(any(name.startswith(option) for option in options),
                                 f"no option puts {table}.{column} right: {options}")

    def listen(self, recording):
        words = [self.given.program, "listen", "--json", "--taps", "3", "--replay", recording]
        done = subprocess.run(words, env=self.env, timeout=120, text=True, capture_output=True,
                              check=True)
        lines = [json.loads(line) for line in done.stdout.splitlines()]
        for line in lines[:-1]:
            self.judge(line, {"schema": TEXT, "tap": TAP}, "listen")
        self.judge(lines[-1], {"schema": TEXT, "modes": [MODE], "lost_frames": WHOLE}, "listen")
        self.checks.that(len(lines) >= 4, "listen --taps 3 told of fewer")


if __name__ == "__main__":
    test = Schema(support.arguments())
    audio = test.given.source / "sample-audio"
    read = test.run(READ, "read", audio / "wren-back-9.flac", audio / "heron-back-1.flac")
    test.checks.that(read["files"][0]["modes"] and read["files"][0]["taps"], "read found nothing")
    test.listen(audio / "wren-back-9.flac")
    entered = test.enter("heron-back-1.flac", "--reference", "the one we liked")
    test.checks.that(entered["accepted"] == 11, f"enter accepted {entered['accepted']} taps")
    for visit in (6, 7, 8, 9):
        test.enter(f"wren-back-{visit}.flac")
    drift = test.run(DRIFT, "drift", "Wren back", "--ledger", test.ledger)
    test.checks.that(any(track["forecast"] for track in drift["tracks"]), "no track has a forecast")
    against = test.run(AGAINST, "against", "Wren back", "the one we liked", "--ledger", test.ledger)
    test.checks.that(any(mode["beyond_spread"] is not None for mode in against["modes"]),
                     "against compared no mode")
    checked = test.run(CHECK, "check", "--ledger", test.ledger)
    test.checks.that(checked["whole"] and checked["taps"] == checked["recordings"] > 50,
                     f"check: {checked}")
    mended = test.run(MENDED, "check", "--mend", "--ledger", test.ledger)
    test.checks.that(mended["whole"] and mended["mended"]["found"]["taps"] == 0, f"check --mend: {mended}")
    copies = test.run(COPIES, "restore", "--ledger", test.ledger)["copies"]
    restored = test.run(RESTORED, "restore", copies[-1]["name"], "--ledger", test.ledger)
    test.checks.that(restored["found"]["taps"] > 0, f"restore found nothing again: {restored}")
    again = test.run(CHECK, "check", "--ledger", test.ledger)
    test.checks.that(again["whole"] and again["taps"] == checked["taps"], f"check after restore: {again}")
    for day, taken in (("2026-03-20", 0.0), ("2026-03-27", 0.12)):
        mapped = test.run(CALIPER, "caliper", "Wren back", test.readings(taken), "--session", day,
                          "--ledger", test.ledger)
    test.checks.that(mapped["change"] and abs(mapped["change"]["mean_mm"] - 0.12) < 0.01,
                     "caliper did not find what came off since the last map")
    test.described(entered, mapped)
    aim = ("plan", "Wren back", "--target", "5=345", "--ledger", test.ledger)
    plan = test.run(PLAN, *aim, "--session", "2026-03-20")
    test.checks.that(not plan["not_kept"] and plan["cautions"], "the plan is not kept, or without cautions")
    test.checks.that(len(plan["zones"]) == 9 and plan["fit"]["sessions"], "plan lacks zones or a fit")
    test.checks.that(test.run(PLAN, *aim)["hindsight"] is None,
                     "a plan of today is held against what was tapped months before it was made")
    ledger = pathlib.Path(test.ledger) / "ledger.sqlite"
    with contextlib.closing(sqlite3.connect(ledger)) as database, database: # as if made in that session
        database.execute("UPDATE plan SET made_ms = (SELECT begun_ms FROM session WHERE id = plan.session)")
    test.checks.that(test.run(PLAN, *aim)["hindsight"]["carved"]["modes"],
                     "the plan was not held against the next session and its map")
    test.run(DRIFT, "drift", "Wren back", "--target", "5=347", "--remember", "--ledger", test.ledger)
    kept = test.run(PLAN, "plan", "Wren back", "--ledger", test.ledger)
    test.checks.that(plan["aim"] == "typed" and kept["aim"] == "kept" and kept["modes"][0]["want_hz"] == 347,
                     "the plan does not aim at the targets kept")
    test.checks.finish()

#!/usr/bin/env python3
"""One question, one answer: what is told of the demo's plates as JSON stands in the terminal's text, on the sheet's paper
and on the record's page, figure by figure, with the same interval: drift, forecast, grams to a target, comparison, map,
plan and wood; the decision in the same words."""
import json
import re
import subprocess

import support

PLATES = ("Wren back", "Wren top")
MODES = (1, 2, 5)
REFERENCE = "Heron back, the one we liked"
WOOD = "Maple 5"
K_95 = 1.959963984540054


def plain(text):
    """Minus signs and blanks as a comparison wants them."""
    return re.sub(r"\s+", " ", text.replace("\u2212", "-").replace("\u00a0", " "))


def signed(value, decimals=1):
    return f"{value:+.{decimals}f}"


def change(step):
    return f"{signed(step['hz'])} ± {step['hz_95']:.1f}"


class Faces:
    """What one thing says of itself in each of its faces."""

    def __init__(self, given):
        self.given, self.check = given, support.Checks()
        self.own = support.private_environment(given.scratch)
        self.ledger = given.scratch / "demo"
        self.pages = {}
        self.run("demo", "--fill", "all")

    def run(self, *words):
        done = support.run(self.given.program, *words, "--ledger", self.ledger, env=self.own, timeout=300)
        if done.returncode != 0:
            raise RuntimeError(f"{words}: {done.stderr}")
        return done.stdout

    def asked(self, *words):
        """The JSON and the text of one command."""
        return json.loads(self.run(*words, "--json")), plain(self.run(*words))

    def paper(self, *words):
        file = self.given.scratch / "face.pdf"
        self.run("sheet", *words, "--language", "en", "--to", file)
        return plain(subprocess.run(["pdftotext", "-layout", file, "-"], capture_output=True, text=True, check=True).stdout)

    def page(self, instrument):
        """Each part's sessions on its record, by their days."""
        if instrument in self.pages:
            return self.pages[instrument]
        file = self.given.scratch / "record.html"
        self.run("record", instrument, "--language", "en", "--to", file)
        text = plain(re.sub(r"<[^>]*>", "", re.sub(r"<(script|style)>.*?</\1>", "", file.read_text(encoding="utf-8"),
                                                   flags=re.DOTALL)))
        self.pages[instrument] = {match[1]: text[match.end():match.end() + 400]
                                  for match in re.finditer(r"(\d{4}-\d\d-\d\d · [^·]+) ·", text)}
        return self.pages[instrument]

    def compare(self, what, figures, least, **faces):
        """`figures`: pairs of a name and what stands in every face, or what stands in each by the face's name."""
        count = 0
        for name, shown in figures:
            for face, text in faces.items():
                here = shown if isinstance(shown, str) else shown.get(face)
                if here is not None:
                    count += 1
                    self.check.that(here in text, f"{what}: {name} {here} is not in the {face}'s text"
                                    if face == "terminal" else f"{what}: {name} {here} is not on the {face}")
        self.check.that(count >= least, f"{what}: only {count} figures were compared")


def drift_figures(drift):
    """Of each named mode what terminal and paper have to show, as they print it."""
    for track in drift["tracks"]:
        if track["number"] not in MODES or not track["since_beginning"]:
            continue
        yield "frequency", f"{track['points'][-1]['hz']:.1f}"
        for which in ("since_last", "since_beginning"):
            if track[which]:
                yield which, change(track[which])
        if forecast := track["forecast"]:
            slope = [f"{forecast['hz_per_g']:.{n}f} ± {forecast['hz_per_g_95']:.{n}f}" for n in (2, 1)]
            ahead = [f"{forecast['after_1_g_hz']:.{n}f} ({forecast['after_1_g_low_hz']:.{n}f} to "
                     f"{forecast['after_1_g_high_hz']:.{n}f})" for n in (1, 0)]
            yield "hz_per_g", {"terminal": slope[0], "paper": slope[1]}
            yield "after 1 g", {"terminal": ahead[0], "paper": ahead[1]}


def decided(faces, plate, decision, terminal, paper):
    for part in ("sentence", "reason"):
        faces.check.that(plain(decision[part]) in terminal, f"{plate}: the terminal does not say {decision[part]!r}")
        faces.check.that(re.sub(r"\W+", "", decision[part]) in re.sub(r"\W+", "", paper),
                         f"{plate}: the paper does not say {decision[part]!r}")


def drifts(faces, plate):
    drift, terminal = faces.asked("drift", plate)
    paper = faces.paper(plate)
    faces.compare(plate, drift_figures(drift), 6, terminal=terminal, paper=paper)
    decided(faces, plate, drift["decision"], terminal, paper)
    chart = faces.given.scratch / f"{plate} drift.pdf"
    faces.run("drift", plate, "--chart", chart)
    drawn = plain(subprocess.run(["pdftotext", chart, "-"], capture_output=True, text=True, check=True).stdout)
    days = [session["begun"][:10] for session in drift["sessions"]]
    for word in (f"{plate};", days[0], days[-1], "% RH"):
        faces.check.that(word in drawn, f"{plate}: the drift's picture does not say {word!r}")
    page = faces.page(plate.split()[0])
    for track in (track for track in drift["tracks"] if track["number"] in MODES):
        for before, point, step in zip(track["points"], track["points"][1:], track["steps"]):
            if before["session"] + 1 == point["session"]:
                visit = page[f"{days[point['session']]} · {plate}"]
                faces.check.that(f"{point['hz']:.1f} Hz ({change(step)})" in visit,
                                 f"{plate}: the record's {days[point['session']]} has {visit!r}, not {change(step)}")


def targets(faces, plate):
    """Grams and thickness to take until a target is reached, and the decision that follows, kept so that the paper has it."""
    drift, terminal = faces.asked("drift", plate, "--target", "5=340", "--remember")
    target = drift["targets"][0]

    def span(value, decimals):
        return f"{value['value']:.{decimals}f} ({value['low']:.{decimals}f} to {value['high']:.{decimals}f})"
    faces.compare(plate, [("grams to the target", span(target["grams"], 1)), ("thickness to it", span(target["mm"], 2)),
                          ("chance beyond it", f"{target['pass_g']:.1f} {100 * target['past_it']:.0f}")], 3, terminal=terminal)
    decision = drift["decision"]
    faces.check.that(decision["by_model"] and f"{decision['take_g']:.1f} g" in decision["sentence"],
                     f"{plate}: {decision['take_g']} g are not what is said: {decision['sentence']!r}")
    decided(faces, plate, decision, terminal, faces.paper(plate))


def comparison(faces, plate):
    against, terminal = faces.asked("against", plate, REFERENCE)
    paper = faces.paper(plate, "--reference", REFERENCE)
    compared = [mode for mode in against["modes"] if mode["number"] in MODES]
    faces.compare(f"{plate} against", [
        (f"mode {mode['number']}", {"terminal": f"{mode['plate']['hz']:.1f} {mode['reference']['hz']:.1f} {signed(mode['hz'])} "
                                    f"{mode['hz_95']:.1f} {signed(mode['cents'], 0)}",
                                    "paper": f"{mode['reference']['hz']:.1f} {signed(mode['cents'], 0)}"})
        for mode in compared], 6, terminal=terminal, paper=paper)


def plans(faces, plate):
    """A plan, kept; and the map that it rests on."""
    plan, terminal = faces.asked("plan", plate)
    caliper, described = faces.asked("caliper", plate)
    paper = faces.paper(plate)
    faces.compare(f"{plate}'s plan", [
        (f"mode {mode['number']}", f"{mode['now_hz']:.1f} {mode['want_hz']:.1f} {mode['pass_hz']:.1f} ± {mode['pass_hz_95']:.1f} "
         f"{mode['after_hz']:.1f} ± {mode['after_hz_95']:.1f}") for mode in plan["modes"]
    ] + [("wood", {"terminal": f"taking {plan['wood_g']:.1f} g", "paper": f"In all {plan['wood_g']:.1f} g"}),
         ("pass", {"terminal": f"this pass only ({plan['pass_g']:.1f} g)", "paper": f"{plan['pass_g']:.1f} g of it"})],
        10, terminal=terminal, paper=paper)
    now, thinnest, mass, off = caliper["map"], caliper["map"]["thinnest"], caliper["mass"], caliper["change"]
    faces.compare(f"{plate}'s map", [
        ("thinnest", f"{thinnest['mm']:.2f} ± {K_95 * thinnest['mm_sd']:.2f}"),
        ("most taken off", f"{off['deepest']['mm']:.2f} ± {K_95 * off['deepest']['mm_sd']:.2f} mm"),
        ("mean taken off", f"{off['mean_mm']:.2f} mm o"), ("left less right", signed(now["left_less_right_mm"], 2)),
        ("mean", f"{now['mean_mm']:.2f} mm"),
        ("middle", f"{now['middle_mm']:.2f} and {now['edge_mm']:.2f} mm, ratio {now['middle_to_edge']:.2f}"),
        ("mass", f"{mass['predicted_g']:.1f} g with"), ("density", f"{mass['density_kg_m3']:.0f} kg/m³"),
        ("implied density", f"{mass['implied_density_kg_m3']:.0f} kg/m³"),
        ("off by the maps and the scales", f"{off['map_g']:.1f} g and {off['scales_g']:.1f} g"),
        ("scales", f"{mass['weighed_g']:.1f} g")], 22, terminal=described, paper=paper)


def wood(faces):
    told, terminal = faces.asked("wood", "show", WOOD)
    decimals = {"density_kg_m3": 0, "e_l_gpa": 2, "e_r_gpa": 2, "g_lr_gpa": 2, "sound_l_m_s": 0, "sound_r_m_s": 0,
                "radiation": 1, "q_along": 0, "q_across": 0, "q_twist": 0}

    def both(name, n):
        value, reach = (f"{x:.{n}f}" for x in (told["wood"]["figures"][name]["value"], K_95 * told["wood"]["figures"][name]["sd"]))
        return {"terminal": f"{value} ± {reach}", "paper": f"{value} {reach}"}
    heard = [(mode["motion"], f"{mode['hz']:.1f} Hz, Q {mode['q']:.0f}" if mode["q"] else f"{mode['hz']:.1f} Hz")
             for test in told["wood"]["tests"] for mode in test["modes"]]
    faces.compare(WOOD, [(name, both(name, n)) for name, n in decimals.items()] + heard, 28, terminal=terminal,
                  paper=faces.paper(WOOD, "--wood"))


if __name__ == "__main__":
    arguments = support.arguments()
    support.need("pdftotext")
    shown = Faces(arguments)
    for one in PLATES:
        drifts(shown, one)
    comparison(shown, PLATES[0])
    targets(shown, PLATES[0])
    plans(shown, PLATES[0])
    wood(shown)
    shown.check.finish()

#!/usr/bin/env python3
"""Shapes, pins and flex readings in the forms that makers have them: measured outlines as points and as
a path, heights, f-holes, bar, unlike halves. What was given is there again, and the model takes it."""
import json
import math

import support

PLATE = "Good top"


class GoodReadings(support.OwnLedger):
    def run(self, *words):
        done = super().run(*words)
        self.checks.that(done.returncode == 0, f"{words}: exit {done.returncode}: {done.stderr.strip()!r}")
        return done.stdout

    def told(self, *words):
        return json.loads(self.run("caliper", PLATE, *words, "--json"))


def width_mm(share):
    """Half the width of a plate 350 mm long and 205 wide, at a share of the length; an oval of our own."""
    return 102.5 * math.sin(math.pi * share) ** 0.6


def rim():
    steps = 40
    right = [(width_mm(k / steps), 350.0 * k / steps) for k in range(steps + 1)]
    return right + [(-x, y) for x, y in reversed(right[1:-1])]


def outlines(test):
    comma = "x; y\n" + "".join(f"{x:.1f}; {y:.1f}\n".replace(".", ",") for x, y in rim())
    by_points = test.told("--outline", test.file("outline.csv", comma))["form"]
    # an SVG path has y downwards, and may lie anywhere on its page
    path = "M" + " L".join(f"{x + 150:.2f},{400 - y:.2f}" for x, y in rim()) + " Z"
    drawing = f'<svg xmlns="http://www.w3.org/2000/svg"><path fill="none" d="{path}"/></svg>'
    by_path = test.told("--outline", test.file("outline.svg", drawing))["form"]
    area = sum(2 * width_mm((k + 0.5) / 2000) * 350 / 2000 for k in range(2000)) / 100
    for name, form in (("points", by_points), ("path", by_path)):
        test.checks.that(form["measured_outline"], f"{name}: not a measured outline")
        test.checks.that(abs(form["length_mm"] - 350) < 0.5, f"{name}: length {form['length_mm']}")
        # The oval is widest in its middle; the lower bout is looked for up to 45 % of the length.
        test.checks.that(abs(form["lower_mm"] - 2 * width_mm(0.45)) < 0.2, f"{name}: width {form['lower_mm']}")
        test.checks.that(abs(form["area_cm2"] / area - 1) < 0.01, f"{name}: area {form['area_cm2']}, not {area}")


def shapes(test):
    heights = test.file("heights.csv", "x, y, height\n0, 175, 15.5\n30, 175, 14.1\n-30, 175, 14.2\n0, 300, 9.5\n")
    form = test.told("--length", "356", "--upper", "168,5", "--waist", "112", "--lower", "208", "--arch", "15,5",
                     "--edge", "4", "--heights", heights, "--f-holes", "21:208:38:152", "--bar", "5,2:10,5:2,5:1,8",
                     "--bar-line=-18:42:-14:312",
                     "--species", "norway_spruce", "--right-half", "104:93")["form"]
    test.checks.that(form["length_mm"] == 356 and form["upper_mm"] == 168.5, f"size: {form}")
    test.checks.that(form["measured_heights"] == 4, "heights are not kept")
    test.checks.that(form["f_holes"] and form["bar"], "no f-holes or bar at the stage that has them")
    lying = test.told("--rings", "-6:9,5", "--run-out=-2")["form"]
    test.checks.that((lying["rings_left_deg"], lying["rings_right_deg"], lying["run_out_deg"]) == (-6, 9.5, -2),
                     f"the wood's lie: {lying}")
    alike = test.told("--rings", "4")["form"]
    test.checks.that(alike["rings_left_deg"] == 4 == alike["rings_right_deg"] and alike["run_out_deg"] == -2,
                     f"one figure is not both halves': {alike}")
    test.checks.that(test.told("--rings", "unknown")["form"]["rings_left_deg"] is None, "what is unknown is known")
    test.checks.that(form["right_density"] == 1.04 and form["right_stiffness"] == 0.93, "the halves are alike")


def drawn_f_holes(test):
    # invented: an oval hole, drawn into the outline's own drawing, its page 150 mm to the right
    hole = [(42 + 4 * math.cos(2 * math.pi * k / 24), 160 + 33 * math.sin(2 * math.pi * k / 24)) for k in range(24)]
    path = lambda line: "M" + " L".join(f"{x + 150:.2f},{400 - y:.2f}" for x, y in line) + " Z"
    drawing = test.file("both.svg", f'<svg xmlns="http://www.w3.org/2000/svg"><path d="{path(rim())}"/>'
                                    f'<path d="{path(hole)}"/></svg>')
    drawn = test.told("--outline", drawing, "--f-hole-line", drawing)["form"]
    test.checks.that(drawn["measured_f_holes"] == 1 and drawn["f_holes"], f"not measured f-holes: {drawn}")
    both = test.file("both.csv", "right\n" + "".join(f"{x};{y}\n" for x, y in hole) + "left\n" +
                     "".join(f"{-x - 1};{y}\n" for x, y in hole))
    test.checks.that(test.told("--f-hole-line", both)["form"]["measured_f_holes"] == 2, "two holes are not two")
    eyes = test.told("--f-holes", "24:190:54:130")["form"]
    test.checks.that(eyes["measured_f_holes"] == 0 and eyes["f_holes"], "eyes don't take the place of the line")


def by_hand(test):
    told = test.told("--pin", "lower_bout_left:stiff here", "--pin", "12,5:200:moves well: best of all",
                     "--flex", "lengthwise:300:1000:0,42", "--flex", "twist:240:300:2.1")
    test.checks.that([pin["text"] for pin in told["pins"]] == ["stiff here", "moves well: best of all"],
                     f"pins: {told['pins']}")
    test.checks.that(told["pins"][1]["x_mm"] == 12.5, "a pin moved")
    test.checks.that([flex["kind"] for flex in told["flexes"]] == ["lengthwise", "twist"], "flexes are not there")
    for flex in told["flexes"]:
        test.checks.that(flex["model_mm"] > 0 and flex["model_mm_sd"] > 0, f"no value of the model: {flex}")
    left = test.told("--unpin", str(told["pins"][0]["id"]), "--unflex", str(told["flexes"][0]["id"]))
    test.checks.that(len(left["pins"]) == 1 and len(left["flexes"]) == 1, "a pin or a flex reading stayed")
    text = test.run("caliper", PLATE)
    test.checks.that("moves well" in text and "twist" in text, "the text lacks pins or flexes")


if __name__ == "__main__":
    good = GoodReadings(support.arguments())
    good.run("enter", "--plate", PLATE, "--instrument", "Good", "--kind", "violin", "--part", "top", "--stage",
             "bar_fitted", "--mass", "66,1")
    readings = "".join(f"{x}; {y}; {2.7 + 0.3 * math.exp(-((y - 178) / 120) ** 2):.2f}\n"
                       for x in (-50, -25, 0, 25, 50) for y in (60, 90, 270, 290)) + "0; 178; 3,0\n-40; 178; 2,8\n40; 178; 2,8\n"
    good.run("caliper", PLATE, good.file("readings.csv", readings))
    outlines(good)
    shapes(good)
    drawn_f_holes(good)
    by_hand(good)
    good.checks.finish()

#!/usr/bin/env python3
"""One question, one answer: what drift tells of the demo's plates as JSON stands in its text and on the sheet's paper,
figure by figure, with the same interval; the decision in the same words."""
import json
import re
import subprocess
import sys

import support

PLATES = ("Wren back", "Wren top")


def plain(text):
    """Minus signs and blanks as a comparison wants them."""
    return re.sub(r"\s+", " ", text.replace("\u2212", "-").replace("\u00a0", " "))


def signed(value, decimals=1):
    return f"{value:+.{decimals}f}"


def figures(drift):
    """Of each named mode what terminal and paper have to show, as they print it."""
    for track in drift["tracks"]:
        if track["number"] not in (1, 2, 5) or not track["since_beginning"]:
            continue
        newest = track["points"][-1]
        yield "frequency", f"{newest['hz']:.1f}"
        for which in ("since_last", "since_beginning"):
            if change := track[which]:
                yield which, f"{signed(change['hz'])} ± {change['hz_95']:.1f}"
        if forecast := track["forecast"]:
            yield "hz_per_g", (f"{forecast['hz_per_g']:.2f} ± {forecast['hz_per_g_95']:.2f}",
                               f"{forecast['hz_per_g']:.1f} ± {forecast['hz_per_g_95']:.1f}")
            yield "after 1 g", (f"{forecast['after_1_g_hz']:.1f} ({forecast['after_1_g_low_hz']:.1f} to "
                                f"{forecast['after_1_g_high_hz']:.1f})",
                                f"{forecast['after_1_g_hz']:.0f} ({forecast['after_1_g_low_hz']:.0f} to "
                                f"{forecast['after_1_g_high_hz']:.0f})")


def run(given, env, *words):
    done = support.run(given.program, *words, env=env, timeout=120)
    if done.returncode != 0:
        raise RuntimeError(f"{words}: {done.stderr}")
    return done.stdout


if __name__ == "__main__":
    arguments = support.arguments()
    support.need("pdftotext")
    check = support.Checks()
    own = support.private_environment(arguments.scratch)
    ledger = arguments.scratch / "demo"
    run(arguments, own, "demo", "--fill", "all", "--ledger", ledger)
    for plate in PLATES:
        drift = json.loads(run(arguments, own, "drift", plate, "--json", "--ledger", ledger))
        terminal = plain(run(arguments, own, "drift", plate, "--ledger", ledger))
        sheet = arguments.scratch / f"{plate}.pdf"
        run(arguments, own, "sheet", plate, "--language", "en", "--to", sheet, "--ledger", ledger)
        paper = plain(subprocess.run(["pdftotext", "-layout", sheet, "-"], capture_output=True, text=True,
                                     check=True).stdout)
        count = 0
        for what, shown in figures(drift):
            on_terminal, on_paper = (shown, shown) if isinstance(shown, str) else shown
            check.that(on_terminal in terminal, f"{plate}: {what} {on_terminal} is not in the terminal's text")
            check.that(on_paper in paper, f"{plate}: {what} {on_paper} is not on the paper")
            count += 1
        check.that(count >= 6, f"{plate}: only {count} figures were compared")
        chart = arguments.scratch / f"{plate} drift.pdf"
        run(arguments, own, "drift", plate, "--chart", chart, "--ledger", ledger)
        drawn = plain(subprocess.run(["pdftotext", chart, "-"], capture_output=True, text=True, check=True).stdout)
        days = [session["begun"][:10] for session in drift["sessions"]]
        for word in (f"{plate};", days[0], days[-1], "% RH"):
            check.that(word in drawn, f"{plate}: the drift's picture does not say {word!r}")
        decision = drift["decision"]
        for part in ("sentence", "reason"):
            check.that(plain(decision[part]) in terminal, f"{plate}: the terminal does not say {decision[part]!r}")
            check.that(re.sub(r"\W+", "", decision[part]) in re.sub(r"\W+", "", paper),
                       f"{plate}: the paper does not say {decision[part]!r}")
    check.finish()

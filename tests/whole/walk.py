#!/usr/bin/env python3
"""The first walk through the demo, taken with real keys in a real window: a session, nine good strikes, the mass, the
decision. Each is in the ledger because it happened there; left, the walk strikes no more. With --pictures also in German
and in a large window, for the eye."""
import time

import glass
import support

ADVICE = {"tap": "1", "take": "2", "stop": "3"}


class Ledger:
    def __init__(self, folder):
        self.folder = folder

    def ask(self, question):
        return support.ask(self.folder, question)

    def newest(self):
        return self.ask("SELECT id, mass_g FROM session ORDER BY id DESC LIMIT 1")[0]

    def spots(self, session):
        """Of its good taps, in order."""
        return [spot for (spot,) in self.ask(f"SELECT spot FROM tap WHERE session = {session} AND verdict = 'accepted' ORDER BY id")]


def taken(given, env, checks, ledger, size, pictures):
    """All of the walk, to the end; gives the decision that it came to."""
    before = ledger.newest()[0]
    step = 0

    def look(shown):
        nonlocal step
        step += 1
        if pictures:
            shown.picture(pictures / f"walk-{step}.png")

    with glass.window(given, env, "demo", "--walk", "--ledger", ledger.folder) as shown:
        if size:
            shown.tool("windowsize", shown.number, *size.split("x"))
            time.sleep(2.0)
        look(shown)
        shown.keys("n", pause=1.5)
        session = ledger.newest()[0]
        checks.that(session != before, "N began no session")
        shown.keys("a", pause=2.5)
        checks.that(ledger.spots(session) == [], "it strikes before the spot was said")
        look(shown)
        shown.keys("space", pause=1.0)
        for strike in range(25):
            if strike == 3:
                look(shown)
            if len(ledger.spots(session)) >= 9:
                break
            shown.keys("a", pause=2.5)
        spots = ledger.spots(session)
        checks.that(spots == ["centre"] * 3 + ["lower_end"] * 3 + ["lower_bout_right"] * 3, f"struck at {spots}")
        look(shown)
        shown.keys("a", pause=2.5)
        checks.that(len(ledger.spots(session)) == 9, "it strikes on after the last strike that was wanted")
        shown.keys("e", pause=1.0)
        shown.write("100,6")
        shown.keys("Return", pause=0.6)
        try:
            support.wait_until(lambda: ledger.newest() == (session, 100.6), 10, "the mass")
        except TimeoutError:
            checks.that(False, f"the mass is {ledger.newest()}")
        time.sleep(1.0)
        look(shown)
        decision = support.read_json(given.program, "drift", "Wren back", "--like", "Heron back", "--ledger", ledger.folder, env=env)["decision"]
        right = ADVICE.get(decision["advice"], "1")
        shown.keys("2" if right != "2" else "3", pause=1.0)
        look(shown)
        shown.keys(right, pause=1.0)
        look(shown)
        shown.keys("Escape", pause=2.0)
        shown.keys("a", pause=2.5)
        checks.that(len(ledger.spots(session)) == 9, "it strikes though the walk was left")
        look(shown)
        checks.that(shown.close() == 0, "the window did not close cleanly")
    return decision


if __name__ == "__main__":
    given = support.arguments()
    support.need("Xvfb", "xdotool", "import")
    checks = support.Checks()
    own = support.private_environment(given.scratch)
    book = Ledger(given.scratch / "demo")
    filled = support.run(given.program, "demo", "--fill", "all", "--ledger", book.folder, env=own)
    checks.that(filled.returncode == 0, f"demo --fill: {filled}")
    looks = [("1280x800", "en_GB.UTF-8")] + ([("1920x1080", "de_DE.UTF-8"), ("1280x800", "de_DE.UTF-8"), ("1280x800", "it_IT.UTF-8")]
                                             if given.pictures else [])
    for size, language in looks:
        folder = given.pictures / f"{size}-{language[:2]}" if given.pictures else None
        if folder:
            folder.mkdir(parents=True, exist_ok=True)
        with support.screen(given.scratch, own | {"LANG": language}, size) as seen:
            told = taken(given, seen, checks, book, size, folder)
            print(size, language, told["advice"], told.get("sentence", ""))
            time.sleep(0.5)
    checks.finish()

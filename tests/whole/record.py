#!/usr/bin/env python3
"""The record of an instrument as a page: whole in one file, in three languages, safe against what a ledger
may hold, and alive in a real browser: pointed at, followed, listened to, printed."""
import base64
import hashlib
import html.parser
import io
import json
import re
import wave

import browser
import support

HOSTILE = '<img src=x onerror="document.title=1">&amp;\'"'


class Elements(html.parser.HTMLParser):
    """Element names and attributes; elements left open or closed wrongly."""
    VOID = {"meta", "img", "br", "hr", "input", "link"}

    def __init__(self, text):
        super().__init__()
        self.found, self.open, self.wrong = [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.found.append((tag, dict(attrs)))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.found.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)


def whole(test, text, language):
    page = Elements(text)
    check = test.checks.that
    check(not page.wrong and not page.open, f"{language}: elements closed wrongly {page.wrong}, left open {page.open}")
    names = {name for name, _ in page.found}
    check(names.isdisjoint({"img", "link", "iframe", "object", "embed", "base", "form"}), f"{language}: holds {names}")
    check(not [attrs for _, attrs in page.found for name in attrs if name.startswith("on")], f"{language}: an attribute runs script")
    addresses = [value for _, attrs in page.found for name, value in attrs.items() if name in ("src", "href")]
    check(all(a.startswith(("#", "data:audio/wav;base64,")) for a in addresses), f"{language}: leads elsewhere")
    targets = {attrs["id"] for _, attrs in page.found if "id" in attrs}
    check({a[1:] for a in addresses if a.startswith("#")} <= targets, f"{language}: a link leads nowhere")
    script = re.search(r"<script>(.*?)</script>", text, re.DOTALL)[1]
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    check(f"script-src &#39;sha256-{digest}&#39;" in text, f"{language}: the policy does not name the script's hash {digest}")
    return page


def heard(test, page, sessions):
    sounds = [attrs["src"] for name, attrs in page.found if name == "audio"]
    test.checks.that(len(sounds) == sessions, f"{len(sounds)} taps to be heard for {sessions} sessions")
    with wave.open(io.BytesIO(base64.b64decode(sounds[0].split(",")[1]))) as sound:
        test.checks.that(sound.getnchannels() == 1 and 0.4 < sound.getnframes() / sound.getframerate() < 1.2, "a tap's length")


def driven(test, file):
    check = test.checks.that
    with browser.page(test.given.scratch, test.env) as page:
        page.go(file)
        check(page.value("document.title").startswith("Wren"), "the page's title")
        for selector, words in ((".drift .hot", "Hz"), (".map .hot", "mm")):
            page.mouse("mouseMoved", page.middle(selector))
            said = page.value("document.getElementById('pointed').textContent")
            wanted = page.value(f"document.querySelector('{selector}').getAttribute('data-words')")
            shown = page.value("getComputedStyle(document.getElementById('pointed')).display")
            check(said == wanted and words in said and shown == "block", f"pointed at {selector}: {said!r} ({shown})")
        page.mouse("mouseMoved", [1, 1])
        check(page.value("getComputedStyle(document.getElementById('pointed')).display") == "none", "it stays when nothing is pointed at")
        page.value("document.querySelector('.drift a').focus()")
        check(page.value("getComputedStyle(document.getElementById('pointed')).display") == "block", "keys don't show what they reach")
        at = page.middle(".drift .hot")
        for kind in ("mousePressed", "mouseReleased"):
            page.mouse(kind, at, button="left", clickCount=1)
        followed = page.value("location.hash")
        check(page.value(f"document.querySelector('{followed or 'nothing'}') !== null") and followed.startswith("#session-"),
              f"a click leads to {followed!r}")
        page.value("document.querySelectorAll('audio')[0].play()")
        check(0.4 < page.value("document.querySelectorAll('audio')[0].duration") < 1.2, "a tap can't be played")
        page.value("document.querySelectorAll('audio')[1].play()")
        page.value("new Promise(done => setTimeout(done, 150))")
        check(page.value("document.querySelectorAll('audio')[0].paused"), "two taps are heard at once")
        check(page.value("document.querySelectorAll('audio')[1].currentTime") > 0.0, "the tap does not sound on")
        page.ask("Emulation.setEmulatedMedia", media="print")
        check(page.value("getComputedStyle(document.querySelector('.tap')).display") == "none", "on paper there are players")
        paper = base64.b64decode(page.ask("Page.printToPDF", preferCSSPageSize=True)["data"])
        (test.given.scratch / "wren.pdf").write_bytes(paper)
        check(paper.startswith(b"%PDF"), "it does not print")
        outside = [a for a in page.requests if not a.startswith(("file:", "data:"))]
        check(not outside, f"it asks for {outside}")
        check(not page.errors, f"the browser complains: {page.errors}")


if __name__ == "__main__":
    test = support.OwnLedger(support.arguments())
    audio = test.given.source / "sample-audio"
    for visit, notes in ((7, HOSTILE), (8, "a plain word")):
        test.run("enter", "--plate", "Wren back", "--instrument", "Wren", "--spot", "centre", "--mass", str(113 - visit), "--notes", notes,
                 "--when", f"2026-03-{visit:02}", audio / f"wren-back-{visit}.flac")
    test.run("caliper", "Wren back", audio / "wren-back-8.csv", "--arch", "15", "--edge", "4")
    pages = {}
    for language in ("en", "de", "it"):
        file = test.given.scratch / f"wren-{language}.html"
        done = test.run("record", "Wren", "--to", file, "--language", language, "--json")
        said = json.loads(done.stdout or "{}")
        test.checks.that(done.returncode == 0 and said.get("sessions") == 2 and said.get("taps") == 2, f"record: {done}")
        pages[language] = file.read_text(encoding="utf-8")
        page = whole(test, pages[language], language)
        heard(test, page, 2)
        test.checks.that("a plain word" in pages[language] and "onerror=&#34;" in pages[language], f"{language}: the notes are not there")
    test.checks.that("Baubericht" in pages["de"] and "Storia dello strumento" in pages["it"] and "Record of making" in pages["en"],
                     "a page is not in its language")
    test.checks.that(re.search(r"106,0 g", pages["de"]) and re.search(r"106\.0 g", pages["en"]), "decimal marks")
    plain = test.given.scratch / "plain.html"
    test.run("record", "Wren", "--to", plain, "--no-notes", "--sounds", "0")
    test.checks.that("plain word" not in plain.read_text("utf-8") and "<audio" not in plain.read_text("utf-8"), "--no-notes, --sounds 0")
    for words, code in ((("record", "Nobody"), 4), (("record", "Wren", "--to", test.given.scratch / "not" / "there.html"), 1)):
        done = test.run(*words)
        test.checks.that(done.returncode == code and len(done.stderr.splitlines()) == 1, f"{words}: {done}")
    if browser.program() is None:
        print("not opened in a browser: no Chromium here")
    else:
        driven(test, test.given.scratch / "wren-en.html")
    test.checks.finish()

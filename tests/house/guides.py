#!/usr/bin/env python3
"""The guide says the same in its three languages. Section by section it has the same blocks in the same order
(paragraphs, items of lists, rows of tables, lines of commands, pictures), and block by block the same figures,
keys, commands, options, links and headwords, and as many sentences, in about as many letters. What it quotes of
the window stands in the catalogue, in the row that the English quotes; and there is a part for each view of the
window. Guide, catalogue and manual page have one word for one thing."""
import collections
import pathlib
import re
import sys

import wording

VIEWS = ("bench", "drift", "session", "beside", "plates", "sound", "settings", "carving", "wood", "files")
COMMANDS = ("again|against|bin|bundle|caliper|carve|check|correct|demo|drift|enter|listen|nearest|plan|read|record|"
            "rehearse|restore|sheet|tables|thickness|undo|weigh|wood")
KEYS = {"Leertaste": "Space", "Spazio": "Space", "Rücktaste": "Backspace", "Eingabe": "Enter", "Invio": "Enter",
        "Umschalt": "Shift", "Maiusc": "Shift", "Strg Z": "Ctrl Z"}
KEY = re.compile(r"[A-Z0-9.,]|Space|Backspace|Enter|Shift|Esc|Ctrl Z")
TITLES = {"Acoustics for Violin and Guitar Makers"}  # in italics, and no words of the window
# A language needs so much more or fewer letters than English; what lies outside says more or less than it.
LEAST, MOST, TOO_SHORT_TO_TELL = 0.9, 1.35, 120
# Words that guide, window and manual page have others for.
STRANGE = {"guide.de.md": "Mittelbug|Dickenkarte|Dickenmess|f-L[oö]ch|Kammerton|Papierkorb|abgewiesen|Werdegang|Kurven?\\b|Verdrehung|"
                          "Steife\\b|Schubsteife\\b|Abstrahl(?!zahl)|Intervall|an der Bank|das Buch\\b|eingelesen",
           "guide.it.md": "tronchett|diario|pacc[oh]i?\\b|obiettiv|l[ea] CC\\b|calibro|\\bstanza|[Ss]cheda d|asticell|dispersion|"
                          "estremità|bordo inferiore|linea di centro|dietro il taglio|ripristin|registro di costruzione|[“”]"}
MANUALS = {"guide.de.md": "platewright.de.1", "guide.it.md": "platewright.it.1"}
GANG = re.compile(r"(?<!erste )(?<!erster )(?<!ersten )\bG[aä]nge?s?\b")  # but for the first walk

Block = collections.namedtuple("Block", "kind text")


def blocks(markdown):
    """The blocks of a guide in turn; what belongs to one stands in one text, however its lines are broken."""
    found, goes_on = [], False
    for line in markdown.splitlines():
        words, kind = line.strip(), "paragraph"
        if not words:
            goes_on = False
            continue
        if words.startswith("#"):
            kind, words = words[:words.index(" ")], words.lstrip("# ")
        elif words.startswith("<!-- help: "):
            kind = words
        elif words.startswith("!["):
            kind = "picture"
        elif words.startswith("|"):
            kind = "row"
        elif line.startswith("    "):
            kind = "line of commands"
        elif item := re.match(r"- |\d+\. ", words):
            kind, words = "item", words[item.end():]
        elif words.startswith("> "):
            kind, words = "caution", words[2:]
        if kind == "paragraph" and goes_on:
            found[-1] = Block(found[-1].kind, found[-1].text + " " + words)
        else:
            found.append(Block(kind, words))
        goes_on = kind in ("paragraph", "item", "caution")
    return found


def sections(markdown):
    """Lists of blocks, each from a heading to the next."""
    found = [[]]
    for block in blocks(markdown):
        if block.kind.startswith("#"):
            found.append([])
        found[-1].append(block)
    return [section for section in found if section]


def italics(text):
    """What stands between single asterisks, outside code and bold words."""
    plain = re.sub(r"`[^`]*`|\*\*", "", text)
    return [words for words in re.findall(r"\*([^*]+)\*", plain) if words not in TITLES]


def marks(block):
    """What has to be alike in every language."""
    text = block.text
    bold = re.findall(r"\*\*([^*]+)\*\*", re.sub(r"`[^`]*`", "", text))
    cells = [cell.strip() for cell in text.strip("|").split("|")] if block.kind == "row" else []
    code = " ".join([text] if block.kind == "line of commands" else re.findall(r"`([^`]*)`", text))
    code = re.sub(r"#.*", "", code) if block.kind == "line of commands" else code
    keys = [KEYS.get(word, word) for word in bold + cells]
    plain = re.sub(r"\]\([^)]*\)", "", text)  # no figures of a link
    return {
        "figures": sorted(figure.replace(",", ".") for figure in re.findall(r"(?<![A-Za-z\d_])\d+(?:[.,:]\d+)*", plain)),
        "keys": sorted(key for key in keys if KEY.fullmatch(key)) + sorted(re.findall(r"\bF\d{1,2}\b", text)),
        "options": sorted(re.findall(r"(?<!\S)--?[a-z]+(?:-[a-z]+)*", code)),
        "commands": sorted(re.findall(rf"(?<![\w./-])(?:{COMMANDS})(?![\w./-])", code)),
        "names": sorted(re.findall(r"[a-z]+(?:_[a-z]+)+|\$?[A-Z]+_[A-Z]+|~/[\w./]+", code)),
        "links": sorted(re.findall(r"\]\(([^)]*)\)", text)),
        "headwords": len(bold),
        "sentences": len(re.findall(r"[.?!][)*“”»]*(?=\s|$)", re.sub(r"`[^`]*`|\b(?:E|C|ch|Kap|cap)\.", "", text))),
        "words of the window": len(italics(text)),
        "cells": len(cells),
        "cautions of dust": len(re.findall("IARC", text)),
    }


def catalogue(src):
    """By English: the German and the Italian of each row. A field is shown as … there."""
    row = re.compile(r"\{\s*" + ",\\s*".join([wording.TEXT] * 3))
    known = {}
    for path in (src / "wording" / "phrases").glob("*.hpp"):
        for found in row.finditer(re.sub(r"//[^\n]*", "", path.read_text(encoding="utf-8"))):
            english, german, italian = (wording.joined(text).replace("{}", "…") for text in found.groups())
            known[english] = {"guide.md": english, "guide.de.md": german, "guide.it.md": italian}
    return known


def faults_of_a_pair(name, where, english, other, known):
    theirs = marks(other)
    for what, wanted in marks(english).items():
        if theirs[what] != wanted:
            yield f"{where}: {what} are {theirs[what]}, in English {wanted}: “{other.text[:60]}…”"
    share = len(other.text) / len(english.text)
    if len(english.text) > TOO_SHORT_TO_TELL and not LEAST < share < MOST:
        yield f"{where}: {share:.2f} of the English in length: “{other.text[:60]}…”"
    wanted = [known[words][name] for words in italics(english.text) if words in known]
    yield from (f"{where}: “{words}” is not what the window says for what the English quotes ({wanted})"
                for words in italics(other.text) if words not in wanted)


def faults_of_a_translation(name, english, other, known):
    if len(english) != len(other):
        yield f"{name}: {len(other)} sections, in English {len(english)}"
    for one, two in zip(english, other):
        where = f"{name}, {two[0].text!r}"
        kinds, wanted = ([block.kind for block in section] for section in (two, one))
        if kinds != wanted:
            counted, want = collections.Counter(kinds), collections.Counter(wanted)
            yield from (f"{where}: {counted[kind]} of {kind}, in English {want[kind]}"
                        for kind in sorted(want | counted) if counted[kind] != want[kind])
            if counted == want:
                yield f"{where}: its blocks come in another order than in English"
            continue
        for english_block, block in zip(one, two):
            yield from faults_of_a_pair(name, where, english_block, block, known)
    walk = next((section for section in other if any("walk.png" in block.text for block in section)), [])
    for block in (block for section in other for block in section):
        if strange := re.search(STRANGE[name], block.text):
            yield f"{name}: the window has another word for “{strange.group()}”: “{block.text[:60]}…”"
        if name == "guide.de.md" and block not in walk and GANG.search(block.text):
            yield f"{name}: “Gang” is the first walk, a pass is a Durchgang: “{block.text[:60]}…”"


def strange_words(name, docs, known):
    """In the catalogue and the manual page: what the guide has another word for."""
    texts = [("the catalogue", row[name]) for row in known.values()]
    texts += [(MANUALS[name], line) for line in (docs / MANUALS[name]).read_text(encoding="utf-8").splitlines()]
    for where, text in texts:
        if strange := re.search(STRANGE[name], text):
            yield f"{where}: {name} has another word for “{strange.group()}”: “{text[:60]}…”"


def main(docs):
    known = catalogue(docs.resolve().parent / "src")
    texts = {name: (docs / name).read_text(encoding="utf-8") for name in ("guide.md", "guide.de.md", "guide.it.md")}
    guides = {name: sections(text) for name, text in texts.items()}
    faults = [f"guide.md: “{words}” does not stand in the catalogue"
              for section in guides["guide.md"] for block in section for words in italics(block.text) if words not in known]
    for name, text in texts.items():
        if name != "guide.md":
            faults += faults_of_a_translation(name, guides["guide.md"], guides[name], known)
            faults += strange_words(name, docs, known)
        faults += [f"{name}: no part for the view {view}" for view in VIEWS if f"<!-- help: {view} -->" not in text]
        links = set(re.findall(r"\]\(([^)#:]+)\)", text))
        faults += [f"{name}: {link} is not there" for link in sorted(links) if not (docs / link).is_file()]
        faults += [f"{name}: no anchor {name_of}" for name_of in re.findall(r"\]\(#([^)]+)\)", text)
                   if f'<a id="{name_of}">' not in text]
    print("\n".join(faults) or "the guides say the same")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(pathlib.Path(sys.argv[1])))

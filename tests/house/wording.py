#!/usr/bin/env python3
"""Fails on a text that is said and has no row in the catalogue, and on words for people that stand in a view or a
chart outside it: every string
literal with two letters in a row in src/screen/, src/plot/, src/report/ and the bench's engine has to be looked
up (say, say_count, wording::Phrase and what is built of it) or be of the machine's own. Files named *_file write what the program reads."""
import pathlib
import re
import sys

ROOMS = ("screen", "plot", "bench", "report")
# Tables that programs read, and sentences on a failing disk, which are English everywhere.
# The last write markup and sound, or read the guide, and get every word from others.
EXCEPT = {"csv_tables", "cairo_canvas", "markup", "svg_canvas", "page_sound", "guide_text"}
# Ids of widgets, names of settings and files, shader and locale names: never shown.
MACHINE = re.compile(r'^(##.*|[a-z_]+(\.[a-z_]+)*|[#.-]?[a-z0-9]+([-/][a-z0-9]+)*(-\{\})?|#version .*|/.*|\.config|[A-Z_]+|dBFS|kHz|Hz|F\d+|Esc|\.[a-z0-9]+|[A-Za-z-]+\.ttf|.?Platewright)$')
UNITS = re.compile(r"^[ ,(]*(dBFS|dB|MB|kHz|Hz|mm|kg/m|cents?)[ ),]*$")
LITERAL = re.compile(r'"((?:[^"\\]|\\.)*)"')


def letters(text, start=0):
    """(place, letter, whether within a literal) in turn; what a backslash escapes is passed over."""
    inside, i = False, start
    while i < len(text):
        if inside and text[i] == "\\":
            i += 2
            continue
        if text[i] == '"':
            inside = not inside
        yield i, text[i], inside
        i += 1


def statements(text):
    """(line, statement) pairs; a statement ends at a ; outside a literal."""
    text = re.sub(r"//[^\n]*", "", text)
    start = 0
    for i, letter, inside in letters(text):
        if letter == ";" and not inside:
            yield text.count("\n", 0, start) + 1, text[start:i + 1]
            start = i + 1
    yield text.count("\n", 0, start) + 1, text[start:]


LOOKING_UP = re.compile(r"\b(?:say|say_count|Phrase|Pattern|Said<\w+>|Door|\w*Column|invalid_argument)\s*[({]"
                        r"|Phrase, \d+> \w+\{|Phrase \w+[({]")


def spoken_spans(statement):
    """Where within a statement the arguments of a looking-up stand."""
    spans = []
    for call in LOOKING_UP.finditer(statement):
        depth, end = 1, len(statement)
        for i, letter, inside in letters(statement, call.end()):
            depth += 0 if inside else (letter in "({") - (letter in ")}")
            if depth == 0:
                end = i
                break
        spans.append((call.start(), end))
    return spans


TEXT = r'((?:"(?:[^"\\]|\\.)*"\s*)+)'


def joined(literals):
    return re.sub(r"\\u([0-9a-fA-F]{4})", lambda code: chr(int(code[1], 16)), "".join(LITERAL.findall(literals)))


def catalogue(src):
    """The English of every row."""
    known = set()
    for path in (src / "wording" / "phrases").glob("*.hpp"):
        text = re.sub(r"//[^\n]*", "", path.read_text(encoding="utf-8"))
        known |= {joined(row[1]) for row in re.finditer(r"\{\s*" + TEXT + ",", text)}
    return known


def unknown_texts(src):
    """What is said and not in the catalogue, anywhere in src/: it would stay English in every language."""
    known = catalogue(src)
    said = (re.compile(r"\bsay\(\s*" + TEXT), re.compile(r"\bPhrase(?:\(|\{| \w+\{)\s*" + TEXT),
            re.compile(r"\bsay_count\((?:[^\"]|\"dBFS\")*?,\s*" + TEXT + r",\s*" + TEXT),
            re.compile(r"\basked\(\s*" + TEXT + r",\s*" + TEXT), re.compile(r"\basked_figure\(\s*" + TEXT + r",\s*" + TEXT),
            re.compile(r"\b(?:Said<\w+>|\w+Word|Door)\{[^\"{}]*\"[^\"]*\",\s*(?:Phrase\()?" + TEXT))
    for path in sorted(src.rglob("*.[ch]pp")):
        text = re.sub(r"//[^\n]*", "", path.read_text(encoding="utf-8"))
        room = path.relative_to(src).parts[0]
        if room == "wording":
            continue
        if room == "main":  # the command line speaks English, by a say of its own
            text = re.sub(r"(?<!wording::)\bsay\(", "print(", text)
        for pattern in said:
            for call in pattern.finditer(text):
                for words in filter(None, map(joined, call.groups())):
                    if words not in known:
                        line = text.count("\n", 0, call.start()) + 1
                        yield f"{path.relative_to(src)}:{line}: \"{words}\" is said and is not in the catalogue"


def faults(src):
    yield from unknown_texts(src)
    for room in ROOMS:
        for path in sorted((src / room).rglob("*.[ch]pp")):
            if path.stem.endswith("_file") or path.stem in EXCEPT:
                continue  # writes what the program itself reads
            for line, statement in statements(path.read_text(encoding="utf-8")):
                if "#include" in statement:
                    statement = re.sub(r"#include[^\n]*", "", statement)
                spans = spoken_spans(statement)
                for found in LITERAL.finditer(statement):
                    words = re.sub(r"\\(u[0-9a-f]{4}|n)", "", found[1])
                    if not re.search(r"[A-Za-z]{2}", words):
                        continue
                    if MACHINE.match(words) or UNITS.match(words):
                        continue
                    if any(a <= found.start() < b for a, b in spans):
                        continue
                    yield f"{path.relative_to(src)}:{line}: \"{words}\" is not in the catalogue"


if __name__ == "__main__":
    found = list(faults(pathlib.Path(sys.argv[1])))
    print("\n".join(found) or "all that is shown comes from the catalogue")
    sys.exit(1 if found else 0)

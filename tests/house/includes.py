#!/usr/bin/env python3
"""Fails on an #include between rooms of src/ that the architecture does not allow, and on an
outside library's header in more than its one wrapper. docs/architecture.md has the table."""
import pathlib
import re
import sys

SAID = {"base", "wording"}
VALUES = SAID | {"taps", "modes", "plate", "ledger", "trends"}
ALLOWED = {
    "base": set(),
    "wording": {"base"},
    "audio": SAID,
    "taps": SAID,
    "modes": SAID | {"taps"},
    "plate": SAID | {"modes"},
    "ledger": SAID | {"taps", "modes", "plate"},
    "trends": SAID | {"modes", "ledger", "plate"},
    "plot": SAID,
    "speech": SAID | {"modes", "trends"},
    "bench": VALUES | {"audio", "speech"},
    "screen": VALUES | {"plot", "bench"},
    "report": VALUES | {"plot"},
    "main": VALUES | {"bench", "screen", "report", "audio", "plot"},
}
# header pattern -> the only folder, or the only files, that may include it
WRAPPED = {
    r"portaudio": {"audio/sound_library.hpp"},
    r"sqlite3\.h": {"ledger/"},
    r"kiss_fft": {"modes/signal/spectrum.cpp"},
    r"cairo|pango": {"report/sheet/cairo_canvas.cpp"},
    r"Spectra/": {"plate/shell/eigen_modes.cpp"},
    r"boost/": {"base/stats.cpp"},
    r"zip\.h": {"ledger/files/zip_file.cpp"},
    r"sndfile": {"audio/", "ledger/"},
    r"libspeechd": {"speech/speaker.cpp"},
    r"imgui|GLFW": {"screen/"},
    r"CLI/": {"main/"},
    r"nlohmann/": {"main/", "ledger/"},
}


def faults(src: pathlib.Path):
    for path in sorted(src.rglob("*.[ch]pp")):
        name = path.relative_to(src).as_posix()
        room = name.split("/")[0]
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            ours = re.match(r'\s*#\s*include\s+"([a-z_]+)/', line)
            allowed = {room} | ALLOWED.get(room, set())
            if ours and ours[1] not in allowed:
                yield f"{name}:{number}: {room}/ may not include {ours[1]}/"
            theirs = re.match(r"\s*#\s*include\s+<([^>]+)>", line)
            for pattern, places in WRAPPED.items():
                if theirs and re.match(pattern, theirs[1]) and not any(name.startswith(p) for p in places):
                    yield f"{name}:{number}: <{theirs[1]}> belongs in {', '.join(sorted(places))} only"


if __name__ == "__main__":
    found = list(faults(pathlib.Path(sys.argv[1])))
    print("\n".join(found) or "all includes follow the way the data takes")
    sys.exit(1 if found else 0)

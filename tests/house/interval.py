#!/usr/bin/env python3
"""Fails where a view, a sheet or a command makes an interval of its own: what stands after a plus-minus
comes from base::plus_minus, a range from base::k_coverage, so that the figures of one thing agree on the
bench, on paper and in the terminal."""
import pathlib
import re
import sys

ROOMS = ("main", "plot", "report", "screen", "bench", "trends", "plate")
# A deviation taken twice, a quantile typed in; deviations of a span's two ends are none.
OWN = re.compile(r"\b(?:1\.96|2(?:\.0)?) \* [*\w>.()-]*_sd(?:_\w+)?\b|\b1\.96\b|coverage = 0\.\d")
EXCEPT = {("trends", "wood_figures.cpp")}  # 2 is the exponent of a measure there


def main(src):
    faults = []
    for room in ROOMS:
        for file in sorted((src / room).rglob("*.[ch]pp")):
            if (room, file.name) in EXCEPT:
                continue
            for number, line in enumerate(file.read_text().splitlines(), 1):
                if OWN.search(line.split("//")[0]):
                    faults.append(f"{file}:{number}: {line.strip()}")
    for fault in faults:
        print(fault)
    print("intervals of their own" if faults else "one interval everywhere")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(pathlib.Path(sys.argv[1])))

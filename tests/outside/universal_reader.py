"""A reader of Universal Files that shares nothing with the program: strict in its columns, after the layouts
published by the Structural Dynamics Research Laboratory, University of Cincinnati ("Universal File Formats for
Modal Analysis Testing", File-Format-Storehouse: unv_0015, unv_0055, unv_0058, unv_0151, unv_0164, unv_2412).
Anything that does not lie in its columns is an error."""


def cut(line, widths, begin=0):
    """Fields of fixed width, blanks trimmed."""
    fields = []
    for width in widths:
        fields.append(line[begin:begin + abs(width)].strip() if width > 0 else None)
        begin += abs(width)
    if line[begin:].strip():
        raise ValueError(f"beyond its columns: {line!r}")
    return [field for field in fields if field is not None]


def datasets(text):
    """(number, lines) of each dataset."""
    found, lines = [], None
    for line in text.split("\n"):
        if len(line) > 80 or not line.isascii():
            raise ValueError(f"not 80 columns of ASCII: {line!r}")
        if line == "    -1":
            if lines is None:
                lines = []
            else:
                found.append((int(lines[0][:6]), lines[1:]))
                lines = None
        elif lines is not None:
            lines.append(line)
        elif line.strip():
            raise ValueError(f"between datasets: {line!r}")
    if lines is not None:
        raise ValueError("a dataset does not end")
    return found


def numbers(lines, width, a_line):
    values = []
    for line in lines:
        values += [float(field) for field in cut(line, [width] * ((len(line) + width - 1) // width))]
        if len(line) > width * a_line:
            raise ValueError(f"more than {a_line} in a line")
    return values


def nodes(lines):  # 15: 4I10, 1P3E13.5
    read = [cut(line, [10] * 4 + [13] * 3) for line in lines]
    return {int(row[0]): tuple(map(float, row[4:])) for row in read}


def elements(lines):  # 2412: 6I10, then 8I10 of nodes
    read = {}
    for first, second in zip(lines[::2], lines[1::2], strict=True):
        label, kind, _, _, _, count = map(int, cut(first, [10] * 6))
        corners = list(map(int, cut(second, [10] * count)))
        read[label] = (kind, corners)
    return read


def shape(lines):  # 55, analysis type 2
    model, analysis, character, data, kind, per_node = map(int, cut(lines[5], [10] * 6))
    integers, reals, case, number = map(int, cut(lines[6], [10] * 4))
    hz, mass, viscous, hysteretic = map(float, cut(lines[7], [13] * 4))
    motion = {}
    for first, second in zip(lines[8::2], lines[9::2], strict=True):
        motion[int(cut(first, [10])[0])] = [float(v) for v in cut(second, [13] * per_node)]
    return {"about": lines[:5], "model": model, "analysis": analysis, "character": character, "data": data,
            "kind": kind, "per_node": per_node, "integers": integers, "reals": reals, "case": case, "number": number,
            "hz": hz, "mass": mass, "viscous": viscous, "hysteretic": hysteretic, "motion": motion}


def function(lines):  # 58
    head = cut(lines[5], [5, 10, 5, 10, -1, 10, 10, 4, -1, 10, 10, 4])
    kind, count, even, first, step, _ = cut(lines[6], [10] * 3 + [13] * 3)
    axes = []
    for line in lines[7:11]:
        data, length, force, temperature, label, units = cut(line, [10, 5, 5, 5, -1, 20, -1, 20])
        axes.append({"data": int(data), "exponents": (int(length), int(force), int(temperature)), "label": label, "units": units})
    width, a_line = {2: (13, 6), 4: (20, 4), 5: (13, 6), 6: (20, 4)}[int(kind)]
    values = numbers(lines[11:], width, a_line)
    if int(kind) in (5, 6):
        values = [complex(a, b) for a, b in zip(values[::2], values[1::2], strict=True)]
    if len(values) != int(count) or int(even) != 1:
        raise ValueError(f"{len(values)} values for {count}, spacing {even}")
    return {"about": lines[:5], "type": int(head[0]), "heard": (head[4], int(head[5]), int(head[6])),
            "driven": (head[7], int(head[8]), int(head[9])), "first": float(first), "step": float(step),
            "axes": axes, "values": values}


READERS = {15: nodes, 2412: elements, 55: shape, 58: function, 151: lambda lines: lines, 164: lambda lines: lines}


def read(path):
    """{number: [dataset, …]} of a file."""
    all_ = {}
    for number, lines in datasets(path.read_bytes().decode("ascii")):
        all_.setdefault(number, []).append(READERS[number](lines))
    return all_

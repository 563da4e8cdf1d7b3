"""Cells as people type and read them: ASCII braille, Unicode braille, dot numbers."""

from __future__ import annotations

from .cells import ASCII_CELLS, BLANK, ascii_of, cells_of, dots_of

WAYS = ("ascii", "unicode", "dots")
_DOTS = frozenset("123456")
_ASCII = frozenset(ASCII_CELLS + ASCII_CELLS.lower() + "`{|}~")


def write_cells(cells: str, way: str) -> str:
    """Unicode braille in one of :data:`WAYS`."""
    if way == "ascii":
        return ascii_of(cells)
    return dots_of(cells) if way == "dots" else cells


def read_cells(line: str, way: str | None = None) -> str:
    """A typed line as Unicode braille.

    ``way`` of ``None``: Unicode braille if the line has any, dots if it is nothing but dot
    numbers that rise, with two in one cell at least, else ASCII braille.  Raises ValueError with
    a sentence that says which character is wrong.
    """
    if way is None:
        way = _way_of(line)
        parted = parted_dots(line) if way == "ascii" else ""
        if parted:
            raise ValueError(
                f"“{line.strip()}” seems to be dot numbers, but a hyphen joins the dots of one "
                f"cell and a space stands between cells: write {parted}. If it is ASCII braille, "
                "name that form (--from ascii)."
            )
    return {"ascii": _from_ascii, "unicode": _from_unicode, "dots": _from_dots}[way](line)


def _way_of(line: str) -> str:
    if any("\u2800" <= char <= "\u28ff" for char in line):
        return "unicode"
    words = line.split()
    dots = [word.split("-") if "-" in word else list(word) for word in words]
    rising = all(
        (set(cell) <= _DOTS and cell == sorted(set(cell))) or word == "0"
        for word, cell in zip(words, dots, strict=True)
    )
    return "dots" if rising and any(len(cell) > 1 for cell in dots) else "ascii"


def parted_dots(line: str) -> str:
    """Dot numbers whose cells a hyphen joins (3456-14) as they should be typed, or ""."""
    words = [word.split("-") for word in line.split()]
    cells = [cell for word in words for cell in word]
    joined = any(len(word) > 1 and any(len(cell) > 1 for cell in word) for word in words)
    if not joined or not all(map(_rises, cells)):
        return ""
    return " ".join("-".join(cell) for cell in cells)


def _rises(cell: str) -> bool:
    return cell == "0" or (set(cell) <= _DOTS and list(cell) == sorted(set(cell)) != [])


def _from_ascii(line: str) -> str:
    for at, char in enumerate(line, 1):
        if char not in _ASCII:
            raise ValueError(f"character {at}, “{char}”, is not North American ASCII braille.")
    return cells_of(line)


def _from_unicode(line: str) -> str:
    for at, char in enumerate(line, 1):
        if "\u2840" <= char <= "\u28ff":
            raise ValueError(f"cell {at}, dots {dots_of(char)}, has more than six dots.")
        if char != " " and not "\u2800" <= char <= "\u283f":
            raise ValueError(f"character {at}, “{char}”, is not Unicode braille.")
    return line.replace(" ", BLANK)


def _from_dots(line: str) -> str:
    return "".join(_cell(at, word) for at, word in enumerate(line.split(), 1))


def _cell(at: int, word: str) -> str:
    if word == "0":
        return BLANK
    dots = word.split("-") if "-" in word else list(word)
    if any(dot not in tuple("123456") for dot in dots):
        parted = parted_dots(word)
        raise ValueError(
            f"cell {at}, “{word}”, is not dots: write the numbers 1 to 6 joined by hyphens, "
            + (
                "as 1-2-4, and 0 for an empty cell."
                if not parted
                else f"a space between cells: {parted}."
            )
        )
    if len(set(dots)) < len(dots):
        raise ValueError(f"cell {at}, “{word}”, names a dot twice.")
    return chr(0x2800 + sum(1 << (int(dot) - 1) for dot in dots))

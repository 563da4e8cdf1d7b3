"""A letter-for-cell translator, so that layout and conservation need no braille code."""

from __future__ import annotations

from collections.abc import Iterable

from convert.findings import Findings
from convert.translation.cells import BLANK, Cells, Piece, cells_of
from convert.translation.passage import Passage


def letter_cells(text: str) -> Cells:
    """Every character one cell (dots 1-2-3-4-5-6 where it has no letter), one piece a word."""
    cells = Cells(passage=Passage(text))
    at = 0
    for word in text.split(" "):
        if word:
            made = "".join(chr(0x2801 + (ord(ch) * 7) % 62) for ch in word)
            cells.starts.append(at)
            cells.prints.append(at)
            cells.pieces.append(Piece(made, tuple(range(len(word))), bytes(len(word)), len(word)))
            cells.text += made
        at += len(word) + 1
        cells.text += BLANK
    cells.text = cells.text[: len(text)]
    return cells


class LetterTranslator:
    """A translator that gives every letter its own braille letter, capitals after dot 6 (words of
    capitals after two), digits
    after a numeric indicator, anything else as North American ASCII braille."""

    code = "letters"

    def prepare(self, passages: Iterable[Passage]) -> None:
        """Nothing depends on the document."""

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        """One piece a word."""
        cells = Cells(passage=passage)
        chunks: list[str] = []
        at = cell = 0
        reach: list[int] = []
        for word in passage.text.replace("\t", " ").split(" "):
            made, origin = letters_of(word)
            for char in range(len(word)):
                reach.append(cell + next((c for c, o in enumerate(origin) if o >= char), len(made)))
            reach.append(cell + len(made))
            if word:
                cells.starts.append(cell)
                cells.prints.append(at)
                cells.pieces.append(Piece(made, origin, bytes(len(made)), len(word)))
            chunks.append(made)
            at += len(word) + 1
            cell += len(made) + 1
        cells.text = BLANK.join(chunks)
        cells.marks = tuple((reach[m.at], m.what, m.value) for m in passage.marks)
        return cells


def letters_of(word: str) -> tuple[str, tuple[int, ...]]:
    """The cells of a word and the character each stands for."""
    made: list[str] = []
    origin: list[int] = []
    shout = len(word) > 1 and word.isupper()
    for at, char in enumerate(word):
        number = char.isdigit()
        opens = number and not (at and word[at - 1].isdigit())
        capital = ",," if shout and not at else "," if char.isupper() and not shout else ""
        sign = "#" if opens else capital
        body = "jabcdefghi"[int(char)] if number else char.lower()
        made.append(cells_of(sign + body) if body.isascii() else sign + SIGNS.get(char, FULL))
        origin.extend([at] * len(made[-1]))
    return "".join(made), tuple(origin)


FULL = cells_of("=")
SIGNS = {"£": cells_of("@l")}

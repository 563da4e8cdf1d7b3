"""The signs of a transcriber's note of several paragraphs: once at its start, once at its end.

The translator encloses every paragraph; here the closing sign goes from all paragraphs of a note
but the last, the opening sign from all but the first (BF 3.1, section 3 of the digest, from
memory).  The key to the headings of a table belongs to the note that tells of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..translation.cells import Cells, Piece, cells_of
from .items import Item

OPEN, CLOSE = cells_of("@.<"), cells_of("@.>")
NOTE, TOLD = "transcriber-note", "table-note"
# Styles that go on with the note above them.
GOES_ON = frozenset(("table-key", "table-step-heading"))


def join_notes(items: Sequence[Item]) -> None:
    """Take the inner signs from notes of several paragraphs."""
    above: Item | None = None
    for item in items:
        if item.page is not None:
            continue
        if above is not None and _one_note(above, item):
            _join(above, item)
        above = item if item.kind == "tn" else None


def _one_note(above: Item, item: Item) -> bool:
    """Whether two items that follow one another are paragraphs of one note."""
    if item.style in GOES_ON:
        return above.style in (TOLD, item.style)
    same = above.style == item.style == NOTE
    return same and item.group is not None and item.group == above.group


def _join(above: Item, item: Item) -> None:
    if above.cells is None or item.cells is None:
        return
    ended, begun = _unclosed(above.cells), _unopened(item.cells)
    if ended is not None and begun is not None:
        above.cells, item.cells = ended, begun


def _unclosed(cells: Cells) -> Cells | None:
    """The cells without the closing sign at their end; ``None`` where nothing else is there."""
    last = cells.pieces[-1] if cells.pieces else None
    end = len(cells.text) - len(CLOSE)
    if last is None or not last.cells.endswith(CLOSE) or cells.text[end:] != CLOSE:
        return None
    size = len(last.cells) - len(CLOSE)
    if not size:
        return None
    kept = last._replace(
        cells=last.cells[:size],
        origin=last.origin[:size],
        sign=last.sign[:size],
        breaks=tuple(at for at in last.breaks if at < size),
        joins=tuple(join for join in last.joins if join[0] < size),
        divisions=(),
    )
    marks = tuple((min(at, end), what, value) for at, what, value in cells.marks)
    return replace(cells, text=cells.text[:end], pieces=[*cells.pieces[:-1], kept], marks=marks)


def _unopened(cells: Cells) -> Cells | None:
    """The cells without the opening sign at their beginning; ``None`` where nothing else is."""
    first, size = (cells.pieces[0] if cells.pieces else None), len(OPEN)
    if first is None or not first.cells.startswith(OPEN) or len(first.cells) == size:
        return None
    if not cells.text.startswith(OPEN):
        return None
    return replace(
        cells,
        text=cells.text[size:],
        pieces=[_shifted(first, size), *cells.pieces[1:]],
        starts=[max(0, at - size) for at in cells.starts],
        fixed=frozenset(at - size for at in cells.fixed if at >= size),
        marks=tuple((max(0, at - size), what, value) for at, what, value in cells.marks),
    )


def _shifted(piece: Piece, size: int) -> Piece:
    """A piece without its first cells."""
    return piece._replace(
        cells=piece.cells[size:],
        origin=piece.origin[size:],
        sign=piece.sign[size:],
        breaks=tuple(at - size for at in piece.breaks if at > size),
        joins=tuple((at - size, *more) for at, *more in piece.joins if at > size),  # type: ignore[misc]
        divisions=(),
    )

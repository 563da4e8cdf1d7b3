"""Nothing lost: every print character of the ledger reaches a placed cell, or a reason.

This check trusts no stage.  It works back from the finished pages: which cells stand on which
lines, which stretches of print those cells' own pieces claim, and whether the claims leave a
gap.  What is neither claimed, nor white space, nor inside an omission that names its reason
is lost, and each loss is a finding of the top severity.

Format characters (soft hyphens, joiners) that show nothing in print count as omitted: the
translator names them in a finding.

Rows the edition adds (contents, title page, running heads: ``row.item`` is -1) repeat print by
rule, so they neither count as a place for it nor as a doubling.
"""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_left
from collections.abc import Iterable, Iterator
from itertools import accumulate
from operator import itemgetter

from .document.ledger import BREAK, Ledger
from .document.nodes import Document
from .edition import Totals
from .findings import Findings, Span
from .layout.book import Book
from .layout.items import Part
from .places import ledger_spans
from .translation.cells import BLANK, Cells, Piece

_UNCLAIMED = re.compile(b"\x00\x00*")  # Begins with a byte that can be looked for.
_LENGTH, _CELLS = (
    itemgetter(Piece._fields.index("length")),
    itemgetter(Piece._fields.index("cells")),
)
_ONE_MORE = (1).__add__
_TWO_BLANKS = BLANK * 2
_WORDS = re.compile(r"\S(?:.*\S)?", re.S)
CLAIMED, OMITTED, IGNORED = 1, 2, 3
# What an omission makes of each state: what is not claimed counts as left out for a reason.
_EXCUSED = bytes.maketrans(bytes((0, IGNORED)), bytes((OMITTED, OMITTED)))


def conserve(document: Document, book: Book, findings: Findings) -> Totals:
    """Account for every print character; file ``print.lost`` and ``print.doubled``."""
    ledger = document.ledger
    state = bytearray(len(ledger.text))
    origins = ledger.pieces.origins()
    breaks = [(start, end) for start, end, _, kind in origins if kind == BREAK]
    _ignore((*breaks, *((gap.start, gap.end) for gap in document.omissions)), state)
    doubled: list[Span] = []
    folded = 0
    for parts in _placed(book):
        folds = _claim_whole(parts, ledger.text, state)
        folded += max(folds, 0)
        if folds < 0:
            doubled += _claim(parts, state)
    for gap in document.omissions:
        state[gap.start : gap.end] = state[gap.start : gap.end].translate(_EXCUSED)
    _ignore(breaks, state)
    lost, invisible = _lost(ledger, state)
    for start, end in lost:
        quote = ledger.quote(start, min(end, start + 40))
        findings.add("print.lost", (start, end), number=end - start, words=quote)
    for start, end in doubled:
        findings.add("print.doubled", (start, end), words=ledger.quote(start, min(end, start + 40)))
    return Totals(
        print_characters=len(state) - state.count(IGNORED),
        in_cells=state.count(CLAIMED) - folded,
        folded=state.count(0) + folded - _length(lost) - _length(invisible),
        omitted=state.count(OMITTED) + _length(invisible),
        lost=_length(lost),
        doubled=_length(doubled),
    )


def _length(spans: list[Span]) -> int:
    return sum(end - start for start, end in spans)


def _placed(book: Book) -> Iterable[list[Part]]:
    """For each passage its stretches of cells that stand on a page, in page order."""
    placed: dict[int, list[Part]] = {}
    here: list[Part] = []
    last: Cells | None = None
    for volume in book.volumes:
        for page in volume.pages:
            for row in page.rows:
                if row is None or row.item < 0:
                    continue
                for part in row.parts:
                    source = part.source
                    if source is None or not part.text:
                        continue
                    if source is not last:
                        here, last = placed.setdefault(id(source), []), source
                    here.append(part)
    return placed.values()


def _claim_whole(parts: list[Part], text: str, state: bytearray) -> int:
    """The same as `_claim`, in one stroke, for a passage with nothing odd about it: one stretch
    of the ledger, a piece with cells for all between single spaces, all its cells on lines, in
    order, once.  How many spaces line ends took the place of; -1, with nothing marked, if that
    is not so."""
    source = parts[0].source
    passage = source.passage if source else None
    if source is None or passage is None or len(passage.at) != 1 or passage.at[0][1] < 0:
        return -1
    low = passage.at[0][1] - passage.at[0][0]
    high = low + len(passage.text)
    met = max(state.find(CLAIMED, low, high), state.find(IGNORED, low, high))
    if met >= 0 or text[low:high] != passage.text or not _is_piece_by_piece(source, passage.text):
        return -1
    folds = _folds(parts, source)
    if folds >= 0:
        state[low:high] = bytes((CLAIMED,)) * (high - low)
    return folds


def _is_piece_by_piece(source: Cells, text: str) -> bool:
    """Whether pieces that have cells cover the text but for single spaces between them, and
    their cells are the passage's but for single empty cells between them."""
    pieces = source.pieces
    ends = list(accumulate(map(_ONE_MORE, map(_LENGTH, pieces)), initial=0))
    if not pieces or ends.pop() != len(text) + 1 or ends != list(source.prints):
        return False
    before = itemgetter(*ends)(" " + text)  # What stands before each piece.
    cells = BLANK.join(map(_CELLS, pieces))
    if before.count(" ") != len(pieces) or cells != source.text:
        return False
    return cells.count(BLANK) == len(pieces) - 1 and _TWO_BLANKS not in BLANK + cells + BLANK


def _folds(parts: list[Part], source: Cells) -> int:
    """How many empty cells line ends took the place of; -1 where lines do not follow one another
    cell by cell, or one begins with a piece whose first cell is not its first character's."""
    begins = [part.at for part in parts]
    lines = [part.text for part in parts]
    if BLANK.join(lines) != source.text:
        begins = _after_spaces(begins, lines, source.text)
    elif begins != list(accumulate([len(line) + 1 for line in lines[:-1]], initial=0)):
        return -1
    starts, pieces = source.starts, source.pieces
    at = [bisect_left(starts, cell) for cell in begins]
    if [starts[i] for i in at if i < len(starts)] != begins:
        return -1
    return -1 if any(pieces[i].origin[0] for i in at) else len(at) - 1


def _after_spaces(begins: list[int], lines: list[str], text: str) -> list[int]:
    """Of the cells that lines begin with, those after an empty cell that the line end took the
    place of, and the first; none where lines do not follow one another cell by cell."""
    found: list[int] = []
    here = 0
    for at, line in zip(begins, lines, strict=True):
        if at != here or not here:
            if at and (at != here + 1 or text[here] != BLANK):
                return []
            found.append(at)
        here = at + len(line)
    return found if here == len(text) else []


def _claim(parts: list[Part], state: bytearray) -> list[Span]:
    """Mark the print that the placed cells of one passage stand for; what was marked before."""
    doubled: list[Span] = []
    source = parts[0].source
    passage = source.passage if source else None
    if source is None or passage is None:
        return doubled
    for part in parts:
        for low, high in ledger_spans(passage, *part.print_span()):
            if state.find(CLAIMED, low, high) >= 0:
                doubled.append((low, high))
            state[low:high] = bytes((CLAIMED,)) * (high - low)
    stretches = [(part.at, part.at + len(part.text)) for part in parts]
    for low, high in _unclaimed(source, stretches):
        for first, last in ledger_spans(passage, low, high):
            state[first:last] = bytes(last - first)
    return doubled


def _unclaimed(source: Cells, stretches: list[Span]) -> Iterator[Span]:
    """Stretches of the passage that no cell stands for: between pieces, in pieces without
    cells, in cells that are on no line."""
    text = source.passage.text if source.passage else ""
    end = 0
    for piece, at in zip(source.pieces, source.prints, strict=True):
        if at > end and not text[end:at].isspace():
            yield end, at
        if piece.length and not piece.cells and not text[at : at + piece.length].isspace():
            yield at, at + piece.length
        end = at + piece.length
    if end < len(text) and not text[end:].isspace():
        yield end, len(text)
    here = 0
    for start, stop in sorted(stretches):
        if start > here and source.text[here:start].strip(BLANK):
            yield source.span(here, start)
        here = max(here, stop)
    if source.text[here:].strip(BLANK):
        yield source.span(here, len(source.text))


def _ignore(stretches: Iterable[Span], state: bytearray) -> None:
    for start, end in stretches:
        state[start:end] = bytes((IGNORED,)) * (end - start)


def _is_invisible(text: str) -> bool:
    return all(unicodedata.category(ch) == "Cf" for ch in text)


def _lost(ledger: Ledger, state: bytearray) -> tuple[list[Span], list[Span]]:
    """Stretches of words that nothing accounts for, and stretches of format characters."""
    lost: list[Span] = []
    invisible: list[Span] = []
    for run in _UNCLAIMED.finditer(state):
        for words in _WORDS.finditer(ledger.text, run.start(), run.end()):
            (invisible if _is_invisible(words.group()) else lost).append(words.span())
    return lost, invisible

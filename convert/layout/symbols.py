"""Which signs a volume must list on its special symbols page (BF 2.5), and which notes it
carries (BF 2.6)."""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from functools import cache

from ..document.nodes import STRIKE, MathRun, Run
from ..findings import Findings, Span
from ..maths.cells import NEMETH, UEB
from ..maths.data import technical_names
from ..maths.nemeth_data import switch_names
from ..settings import Settings
from ..translation.cells import Cells, Piece, cells_of
from ..translation.passage import Passage
from ..translation.signs import Sign, of_kind
from ..translation.ueb.chars import same
from .convention import Front
from .front import code_name
from .items import Item
from .pages import Made

# Signs the standard does not ask for (BF 2.5, Appendix G).
UNLISTED = frozenset("%•_…–—.,;:?!'\"‘’“”()[]/-")
# Print that is on no symbols page whatever it stands for: letters and digits without marks.
_PLAIN = bytes(code for code in range(128) if re.match(r"[\w\s%.,;:?!'\"()\[\]/\-]", chr(code)))
LOCATOR = "dot locator for mention"
# Print that is struck out is in this typeform (UEB 9.5), which the page then says.
STRUCK = "first transcriber-defined typeform"
_LINE_MODE = "horizontal line mode indicator"
# Cells in braille order: the seven lines of the table of cells.
_BRAILLE_ORDER = cells_of("abcdefghijklmnopqrstuvxyz&=(!)*<%?:$]\\[w1234567890/+#>'-@^_\".;,")
_RANK = {cell: at for at, cell in enumerate(_BRAILLE_ORDER)}


@cache
def locator() -> tuple[str, str]:
    """Cells and name of the dot locator."""
    sign = of_kind("indicator")[LOCATOR]
    return sign.cells, sign.name[0].upper() + sign.name[1:]


class Signs:
    """What the blocks of a flow have that a symbols page may list, worked out once for each."""

    __slots__ = ("_forms", "_found", "_items", "_shapes")

    def __init__(self, items: Sequence[Item]) -> None:
        self._items = items
        self._found: dict[int, tuple[frozenset[str], frozenset[str]]] = {}
        self._shapes: dict[str, frozenset[str]] = {}
        self._forms: dict[int, frozenset[str]] = {}

    def listed(self, made: Sequence[Made]) -> list[tuple[str, str]]:
        """Cells and names of the signs of a volume that its symbols page lists, in the order of
        the sections of UEB; the dot locator first.  Empty if there are none."""
        rows = [row for each in made for row in each.page.rows if row is not None]
        there = {row.item for row in rows}
        odd: set[str] = set()
        shapes: set[str] = set()
        signed: set[int] = set()
        for at in there:
            if 0 <= at < len(self._items):
                chars, forms = self._found.get(at) or self._look(at)
                if chars or forms:
                    signed.add(at)
                    odd |= chars
                    shapes |= forms
        signs = [sign for shape, sign in _typeform_signs().items() if shape in shapes]
        signs += _printed(odd)
        # Print may be shown without its sign (a character that is described), and a paragraph
        # may go on from one volume to the next: only what stands in these cells is listed.
        marked = [row.parts for row in rows if row.item in signed] if signs else []
        text = "\n".join([part.text for parts in marked for part in parts])
        signs = [sign for sign in signs if sign.cells in text]
        signs.sort(key=_by_section)
        listed = {sign.cells: sign.name for sign in signs}
        for cells, name in self._technical(there):
            listed.setdefault(cells, name)
        if not listed:
            return []
        if STRUCK in shapes:
            listed = {
                cells: f"{name}, for print that is struck out" if name.startswith(STRUCK) else name
                for cells, name in listed.items()
            }
        named = [(cells, name[0].upper() + name[1:]) for cells, name in listed.items()]
        first = locator()
        return [first, *(row for row in named if row[0] != first[0])]

    def _technical(self, there: set[int]) -> list[tuple[str, str]]:
        """Cells and names of the technical signs and code switches of some items (the guidance
        of the Braille Authority of North America asks for the switches), in table order."""
        used: set[tuple[str, str]] = set()
        for at in there:
            if 0 <= at < len(self._items):
                item = self._items[at]
                if item.cells is not None:
                    used |= item.cells.technical
                for line in item.set_lines:
                    used.update(*(part.source.technical for part in line.parts if part.source))
        if not used:
            return []
        names = {NEMETH: switch_names(), UEB: technical_names()}
        return [
            (cells, name)
            for code, rows in names.items()
            for cells, name in rows.items()
            if (code, cells) in used
        ]

    def _look(self, at: int) -> tuple[frozenset[str], frozenset[str]]:
        """The odd characters of an item's print, and the typeform indicators of its cells."""
        item = self._items[at]
        parts = [part.source for line in item.set_lines for part in line.parts]
        chars: frozenset[str] = frozenset()
        forms: set[str] = set()
        for cells in {id(each): each for each in (item.cells, *parts)}.values():
            if cells is None or cells.passage is None:
                continue
            chars |= _odd(_without_formulas(cells.passage))
            if any(bits & STRIKE for *_, bits in cells.passage.forms):
                forms.add(STRUCK)
            for piece in _formed(cells, cells.passage):
                own = self._forms.get(id(piece))
                forms |= self._of_piece(piece) if own is None else own
        found = self._found[at] = (chars, frozenset(forms))
        return found

    def _of_piece(self, piece: Piece) -> frozenset[str]:
        """The typeform indicators of a piece, which many places share."""
        run = _signs_of(piece)
        if run not in self._shapes:
            self._shapes[run] = _typeforms(run)
        found = self._forms[id(piece)] = self._shapes[run]
        return found


def _without_formulas(passage: Passage) -> str:
    """The print of a passage outside its formulas, whose signs are known by their cells."""
    text = passage.text
    if not passage.marks:
        return text
    runs = [(mark.at, mark.value) for mark in passage.marks if isinstance(mark.value, MathRun)]
    for at, run in reversed(runs):
        text = text[:at] + " " + text[at + run.end - run.start :]
    return text


def _odd(text: str) -> frozenset[str]:
    """The characters of print beyond the plain ones."""
    coded = text.encode("utf-8", "surrogatepass").translate(None, _PLAIN)
    return frozenset(coded.decode("utf-8", "surrogatepass"))


def _formed(cells: Cells, passage: Passage) -> Iterator[Piece]:
    """The pieces with indicators that touch a stretch with a typeform, and their neighbours."""
    done = 0
    for start, end, _ in passage.forms:
        first = max(done, bisect_right(cells.prints, start) - 2)
        done = max(done, bisect_right(cells.prints, end) + 1)
        yield from [piece for piece in cells.pieces[first:done] if 1 in piece.sign]


def _signs_of(piece: Piece) -> str:
    """The indicators of a piece, a space for its other cells."""
    sign, cells = piece.sign, piece.cells
    last = sign.rfind(1) + 1
    if sign.count(1) == last:
        return cells[:last]
    return "".join([c if s else " " for c, s in zip(cells[:last], sign, strict=False)])


def _printed(odd: set[str]) -> list[Sign]:
    """Signs that stand for a character of print, or for one written another way: symbols,
    modifiers of letters, drawn lines."""
    odd = {same().get(char, char) for char in odd}
    small = {char.lower() for char in odd}
    marks = {mark for char in odd for mark in unicodedata.normalize("NFD", char)[1:]}
    modifiers = [sign for mark, sign in of_kind("modifier").items() if mark in marks]
    letters = [_of_letter(sign) for char, sign in of_kind("letter").items() if char in small]
    if small & of_kind("ligature").keys():
        letters.append(of_kind("indicator")["ligature indicator"])
    symbols = [sign for char, sign in of_kind("symbol").items() if char in odd - UNLISTED]
    drawn = odd & of_kind("line segment").keys()
    lines = [of_kind("indicator")[_LINE_MODE]] if drawn else []
    return [*modifiers, *letters, *symbols, *lines]


def _of_letter(letter: Sign) -> Sign:
    """What the list names of a letter that English does not have: the modifier of a letter with
    a stroke, else the letter (BF 2.5: modified letters, letters of other languages)."""
    overlays = [s for s in of_kind("modifier").values() if s.name.endswith("overlay")]
    found = (sign for sign in overlays if letter.modified and letter.cells.startswith(sign.cells))
    return next(found, letter)


@cache
def _typeform_signs() -> dict[str, Sign]:
    """Typeform indicators by their cells."""
    return {
        sign.cells: sign
        for name, sign in of_kind("indicator").items()
        if name.startswith(("italic", "bold", "underline", "script")) or "typeform" in name
    }


def in_order(rows: Sequence[tuple[str, str]], order: str) -> list[tuple[str, str]]:
    """Rows of a symbols page as they are (``section``) or in braille order (``braille``); the
    dot locator, which heads them, stays first (BF 2.5; which order is not confirmed)."""
    if order != "braille":
        return list(rows)
    return [*rows[:1], *sorted(rows[1:], key=lambda row: [_RANK.get(c, 0) for c in row[0]])]


def _by_section(sign: Sign) -> tuple[bool, list[int]]:
    """Signs in the order of the sections of UEB, those of one section as in the table; after them
    those of the guidelines for technical material."""
    numbers = [int(number) for number in re.findall(r"\d+", sign.section)]
    return sign.section.startswith("GTM"), numbers


def _typeforms(run: str) -> frozenset[str]:
    """Typeform indicators among some indicators."""
    known = _typeform_signs()
    longest = max(map(len, known), default=0)
    found: set[str] = set()
    at = 0
    while at < len(run):
        size = next((n for n in range(longest, 0, -1) if run[at : at + n] in known), 0)
        if size:
            found.add(run[at : at + size])
        at += size or 1
    return frozenset(found)


# The styles of the blocks of a table, and of what may stand between.
_TABLE_STYLES = ("table", "page-turn")
_TABLE_NOTES = {
    "layout.table-listed": "note-tables",
    "layout.table-linear": "note-tables-rows",
    "layout.table-as-text": "note-tables-text",
}


class Notes:
    """The notes of the transcriber's notes pages: the code, that this is a draft, and what the
    edition did throughout; how tables are set is told in the volumes that have such tables."""

    __slots__ = ("_front", "_tables", "_words")

    def __init__(
        self, findings: Findings, settings: Settings, front: Front, items: Sequence[Item]
    ) -> None:
        self._front = front
        found = findings.all()
        kinds = {finding.kind for finding in found}
        self._words = [
            front.words("note-code", code=code_name(settings.code, settings.math)),
            front.words("note-draft"),
        ]
        if any(kind.startswith("layout.picture") for kind in kinds):
            self._words.append(front.words("note-pictures"))
        kinds &= _TABLE_NOTES.keys()
        starts = _starts(items) if kinds else []
        self._tables = {
            kind: [
                _extent(span, starts, items)
                for finding in found
                if finding.kind == kind
                for span in finding.spans or (None,)
            ]
            for kind in _TABLE_NOTES
            if kind in kinds
        }

    def of(self, made: Sequence[Made]) -> list[str]:
        """The notes of a volume."""
        rows = (row for each in made for row in each.page.rows) if self._tables else ()
        there = sorted({row.item for row in rows if row is not None})
        told = [
            _TABLE_NOTES[kind]
            for kind, extents in self._tables.items()
            if any(last < 0 or _reaches(there, first, last) for first, last in extents)
        ]
        return self._words + [self._front.words(words) for words in told]


def _reaches(there: Sequence[int], first: int, last: int) -> bool:
    """Whether any of some sorted numbers is one from ``first`` to ``last``."""
    at = bisect_left(there, first)
    return at < len(there) and there[at] <= last


def _extent(
    span: Span | None, starts: Sequence[tuple[int, int]], items: Sequence[Item]
) -> tuple[int, int]:
    """The first block of the table that begins with ``span``, and its last; (-1, -1) for a
    finding without a place."""
    if span is None or not starts:
        return (-1, -1)
    first = starts[max(0, bisect_right(starts, (span[0], len(items))) - 1)][1]
    last = first
    while last + 1 < len(items) and items[last + 1].style.startswith(_TABLE_STYLES):
        last += 1
    return (first, last)


def _starts(items: Sequence[Item]) -> list[tuple[int, int]]:
    """Where the print of each block begins in the ledger, with its number, in order."""
    found = ((next((r.start for r in item.runs if isinstance(r, Run)), -1), at)
             for at, item in enumerate(items))  # fmt: skip
    return sorted(row for row in found if row[0] >= 0)

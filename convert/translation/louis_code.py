"""Codes by a table of the liblouis library: ``--code louis:fr-bfu-g2.ctb``.

Such a table owns everything, capitals and numbers too: the library is given whole texts and
answers with cells and positions.  Nothing but six-dot cells may pass; what the table cannot
write is a finding of severity stop.
"""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable, Iterator
from pathlib import Path

from ..document.nodes import BOLD, ITALIC, TYPEFORM_BITS, UNDERLINE
from ..errors import JobError
from ..findings import Findings
from ..settings import Settings
from . import louis_gate_tables as gate
from .cells import BLANK, CHAR, Cells, Piece
from .louis_gate import TABLE
from .passage import Passage

_SIX_DOTS = "\u283f"
# Typeforms as the library counts them (liblouis.h).
_FORMS = {ITALIC: 1, UNDERLINE: 2, BOLD: 4}
_PROBE = "abcABC 123"
_ENDINGS = (".ctb", ".utb")


def tables() -> list[str]:
    """Names of the installed tables that can follow ``louis:``, sorted.  Raises PluginError
    without the library."""
    beside = Path(gate.table_path(TABLE)).parent
    found = {*gate.installed_tables(), *(file.name for file in beside.iterdir())}
    return sorted(name for name in found if name.endswith(_ENDINGS))


def describe_tables() -> Iterator[tuple[str, str]]:
    """Each table with its name for people."""
    for name in tables():
        yield name, gate.table_title(name)


def check_table(name: str) -> str:
    """The name of an installed table.  Raises JobError for anything else, paths included."""
    known = tables()
    if not name:
        raise JobError(
            "The code louis needs the name of a table.", "Write it as louis:fr-bfu-g2.ctb."
        )
    if name not in known:
        near = difflib.get_close_matches(name, known, n=1)
        hint = (
            f"Did you mean louis:{near[0]}?"
            if near
            else "List them with: cellset translate --tables."
        )
        raise JobError(f"There is no braille table “{name}” in the installed liblouis.", hint)
    cells, _ = gate.translate_text(name, _PROBE)
    if any(cell > _SIX_DOTS for cell in cells):
        raise JobError(
            f"The table {name} writes cells of eight dots; braille files have six.",
            "Choose a literary table of the language.",
        )
    return name


def read_back_by(table: str, cells: str) -> str:
    """Cells as print, as the library reads them by an installed table.

    Raises JobError for a table that is not installed, PluginError where the library gives up.
    """
    return gate.back_text(check_table(table), cells)


def table_code(settings: Settings) -> TableCode:
    """The translator of ``louis:TABLE``.  Raises JobError for a table that is not installed."""
    return TableCode(check_table(settings.code.partition(":")[2]))


class TableCode:
    """Print to cells by one table of the library."""

    def __init__(self, table: str) -> None:
        self.code = f"louis:{table}"
        self.table = table
        self._writable: dict[str, str] = {}

    def prepare(self, passages: Iterable[Passage]) -> None:
        """Nothing of the whole document matters to a table."""

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        """The cells of one passage; print the table cannot write is a finding."""
        self._check_print(passage, findings)
        out = Cells(passage=passage)
        ends = sorted({m.at for m in passage.marks if m.what == "line"} | {len(passage.text)})
        start = 0
        for end in ends:
            self._segment(passage, start, end, out, findings)
            start = end
        out.marks = tuple((_cell_at(out, mark.at), mark.what, mark.value) for mark in passage.marks)
        for mark in passage.marks:
            if mark.what == "math":
                self._tell_math(passage, mark.at, mark.value, findings)
        return out

    # ------------------------------------------------------------ one stretch of text

    def _segment(
        self, passage: Passage, start: int, end: int, out: Cells, findings: Findings
    ) -> None:
        """Add the cells of ``start`` to ``end``, a stretch without a line end in it."""
        text = passage.text[start:end]
        if not text.strip():
            if text and out.pieces:
                out.text += BLANK
            return
        # One code unit a character, so that positions are offsets of the text.
        asked = "".join(
            " " if char.isspace() else char if char <= "\uffff" else "\ufffd" for char in text
        )
        forms = _library_forms(passage, start, end)
        cells, places = gate.translate_text(self.table, asked, forms)
        if forms and cells == gate.translate_text(self.table, asked)[0]:
            self._tell_forms(passage, start, end, findings)
        kept = [(c, p) for c, p in zip(cells, places, strict=True) if c <= _SIX_DOTS]
        _lay_out(out, text, start, kept, {c for c, fault in self._writable.items() if fault})
        if end == len(passage.text):
            out.text = out.text.rstrip(BLANK)

    def _check_print(self, passage: Passage, findings: Findings) -> None:
        """File a finding for every character without cells of six dots."""
        for at, char in enumerate(passage.text):
            fault = self._writable.get(char)
            if fault is None:
                fault = self._writable[char] = self._fault(char)
            if fault:
                place = passage.ledger_at(at)
                span = (place, place + 1) if place >= 0 else None
                name = unicodedata.name(char, f"character U+{ord(char):04X}").lower()
                findings.add(fault, span, table=self.table, sign=char, name=name)

    def _fault(self, char: str) -> str:
        if char.isspace() or unicodedata.category(char) == "Cf":
            return ""
        if char > "\uffff":
            return "louis.no-cells"
        cells, _ = gate.translate_text(self.table, char)
        if any(cell > _SIX_DOTS for cell in cells):
            return "louis.eight-dots"
        return "" if cells.strip(BLANK) else "louis.no-cells"

    def _tell_forms(self, passage: Passage, start: int, end: int, findings: Findings) -> None:
        for low, high, bits in passage.forms:
            low, high = max(low, start), min(high, end)
            if low < high:
                names = [name for name, bit in TYPEFORM_BITS.items() if bits & bit]
                place = passage.ledger_at(low)
                span = (place, place + high - low) if place >= 0 else None
                findings.add("louis.typeform", span, form=" and ".join(names), table=self.table)

    def _tell_math(self, passage: Passage, at: int, value: object, findings: Findings) -> None:
        length = int(getattr(value, "end", 0)) - int(getattr(value, "start", 0))
        place = passage.ledger_at(at)
        span = (place, place + length) if place >= 0 else None
        findings.add(
            "louis.math", span, table=self.table, words=passage.text[at : at + length][:60]
        )


def _library_forms(passage: Passage, start: int, end: int) -> list[int] | None:
    """For each character the library's typeform, or ``None`` where there is none at all."""
    out = [0] * (end - start)
    for low, high, bits in passage.forms:
        value = sum(number for bit, number in _FORMS.items() if bits & bit)
        for at in range(max(low, start), min(high, end)):
            out[at - start] = value
    marked = any(low < end and high > start for low, high, _ in passage.forms)
    return out if marked else None


def _lay_out(
    out: Cells, text: str, base: int, cells: list[tuple[str, int]], lost: set[str]
) -> None:
    """Add cells as pieces, one a word of braille, with one blank cell between them.

    A word of print with nothing but ``lost`` characters belongs to no piece.
    """
    words: list[list[tuple[str, int]]] = [[]]
    for cell, place in cells:
        if cell == BLANK:
            words.append([])
        else:
            words[-1].append((cell, place))
    words = [word for word in words if word]
    starts = [_word_start(text, word, at == 0) for at, word in enumerate(words)]
    for at, word in enumerate(words):
        start = starts[at]
        limit = starts[at + 1] if at + 1 < len(words) else len(text)
        length = _covered(text[start:limit], lost)
        origin = tuple(min(max(place - start, 0), max(length - 1, 0)) for _, place in word)
        if at or (text[0].isspace() and out.text and not out.text.endswith(BLANK)):
            out.text += BLANK
        out.starts.append(len(out.text))
        out.prints.append(base + start)
        out.pieces.append(
            Piece("".join(cell for cell, _ in word), origin, bytes([CHAR]) * len(word), length)
        )
        out.text += out.pieces[-1].cells
    if text[-1].isspace():
        out.text += BLANK


def _covered(text: str, lost: set[str]) -> int:
    """How much of ``text`` a word of braille stands for: all but lost words and space after it."""
    words = text.rstrip()
    while len(parts := words.rsplit(None, 1)) > 1 and set(parts[1]) <= lost:
        words = parts[0]
    return len(words)


def _word_start(text: str, word: list[tuple[str, int]], first: bool) -> int:
    """Where a word of braille begins in print; signs without cells before it are included."""
    at = min(place for _, place in word)
    if first:
        return len(text) - len(text.lstrip())
    while at > 0 and not text[at - 1].isspace():
        at -= 1
    return at


def _cell_at(cells: Cells, offset: int) -> int:
    """The cell at which a text offset stands, or the end."""
    for at, start in enumerate(cells.prints):
        if offset <= start:
            return cells.starts[at]
        piece = cells.pieces[at]
        if offset < start + piece.length:
            inside = [n for n, own in enumerate(piece.origin) if own >= offset - start]
            return cells.starts[at] + (inside[0] if inside else len(piece.cells))
    return len(cells.text)

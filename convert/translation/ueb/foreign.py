"""Foreign words in their own braille code, between code switch indicators (UEB 13.6, 14.3).

By default foreign words are uncontracted UEB with its own modifiers (13.2, 13.5); a text that
teaches a language may want that language's code.  Its cells come from a table of the liblouis
library; the indicators are those of a code that is not UEB.
"""

from __future__ import annotations

import tomllib
from dataclasses import replace
from functools import cache
from importlib import resources

from ...document.choices import Choice
from ...document.nodes import AnswerSpace, MathRun
from ...errors import JobError
from ...findings import Findings
from .. import signs
from ..cells import BLANK
from ..louis_code import TableCode, check_table
from ..passage import Passage, within
from .readings import CELLS

UNCONTRACTED, CODE = "uncontracted", "foreign-code"
FEWEST_WORDS = 3
_ENDS = ("indicator", "terminator")


@cache
def _known() -> dict[str, str]:
    file = resources.files(__package__) / "foreign.toml"
    tables: dict[str, str] = tomllib.loads(file.read_text("utf-8"))["tables"]
    return tables


def is_foreign(lang: str) -> bool:
    """Whether a language mark is of another language than English."""
    return lang.lower().split("-")[0] != "en"


class Foreign:
    """Foreign words by the tables of their languages.

    ``chosen``: ``LANGUAGE=TABLE``, which go before the tables of foreign.toml.  Raises JobError
    for what is not so written or not installed, PluginError without the library.
    """

    def __init__(self, chosen: tuple[str, ...] = ()) -> None:
        self._tables = dict(_known())
        self._codes: dict[str, TableCode] = {}
        for row in chosen:
            lang, sign, table = row.partition("=")
            if not (lang.strip() and sign and table.strip()):
                raise JobError(
                    f"“{row}” does not name a language and its table.",
                    "Write them as fr=fr-bfu-comp6.utb.",
                )
            self._tables[lang.strip().lower()] = check_table(table.strip())

    def _code(self, lang: str) -> TableCode | None:
        whole = lang.lower()
        table = self._tables.get(whole) or self._tables.get(whole.split("-")[0])
        if table is None:
            return None
        if table not in self._codes:
            self._codes[table] = TableCode(check_table(table))
        return self._codes[table]

    def coded(self, passage: Passage, findings: Findings) -> Passage:
        """The passage with its foreign stretches as given cells, switch indicators included.

        A language without a table, and words with a formula or an answer space among them, stay
        uncontracted UEB.
        """
        left: list[tuple[int, int, str]] = []
        given: list[Choice] = []
        for start, end, lang in passage.langs:
            while start < end and passage.text[start].isspace():
                start += 1
            while end > start and passage.text[end - 1].isspace():
                end -= 1
            code = self._code(lang) if is_foreign(lang) and start < end else None
            place = passage.ledger_at(start)
            span = (place, place + end - start) if place >= 0 else None
            if code is None and is_foreign(lang) and start < end:
                findings.add("ueb.foreign-no-table", span, lang=lang)
            if code is None or holds_objects(passage, start, end):
                left.append((start, end, lang))
                continue
            given.extend(_given(passage, start, end, code, findings))
            findings.add("ueb.foreign-code", span, lang=lang, table=code.table)
        if not given:
            return passage
        choices = tuple(sorted((*passage.choices, *given)))
        return replace(passage, langs=tuple(left), choices=choices)


def holds_objects(passage: Passage, start: int, end: int) -> bool:
    """Whether a formula or an answer space stands in a stretch."""
    return any(
        isinstance(mark.value, MathRun | AnswerSpace) and start <= mark.at < end
        for mark in passage.marks
    )


def _given(
    passage: Passage, start: int, end: int, code: TableCode, findings: Findings
) -> list[Choice]:
    """The cells of a foreign stretch, word by word, with the indicators of UEB 14.3: one at
    each word, or from three words on one before all and a terminator after."""
    cells = code.translate(within(passage, start, end), findings)
    shown = [piece.cells for piece in cells.pieces]
    places = [(at, at + piece.length) for at, piece in zip(cells.prints, cells.pieces, strict=True)]
    if len(shown) != len(passage.text[start:end].split()):
        # A table may part a word of print in two: then all is given at once.
        shown, places = [str(cells).strip(BLANK)], [(0, end - start)]
    goes_on = bool(passage.text[end : end + 1].strip())
    marked = switched(BLANK.join(shown), goes_on)
    shown = marked.split(BLANK) if len(shown) > 1 else [marked]
    return [
        Choice(start + low, start + high, CELLS, word)
        for (low, high), word in zip(places, shown, strict=True)
    ]


def switched(cells: str, goes_on: bool) -> str:
    """Cells between the indicators of another code; ``goes_on``: no space comes after them."""
    words = cells.split(BLANK)
    if len(words) >= FEWEST_WORDS:
        opening, closing = (signs.cells(f"non-UEB passage {end}") for end in _ENDS)
        return opening + cells + closing
    opening, closing = (signs.cells(f"non-UEB word {end}") for end in _ENDS)
    return BLANK.join(opening + word for word in words) + closing * goes_on

"""Which form a table takes, and why (BF 11.1, 11.7, 11.8, 11.12 to 11.18).

The convention gives the forms in the order in which they are tried (``[rules] table_forms``); a
person may ask for one of a table.  The first that the table can take is taken.

| form | is possible where |
|---|---|
| columned | the columns fit the page, without many runovers |
| keyed | they fit once headings wider than their entries are letters, explained in a key |
| interchanged | rows and columns change places, and then fit |
| divided | parts of at least two columns fit, the row headings repeated in each |
| listed | print has column headings |
| facing | two parts fit pages that face one another: both sides of the paper are used |
| languages | each column is in one language, not all in the same: steps |
| matching | two columns of marked entries, numbers in one and letters in the other |
| linear, stairstep, form | no entry holds more than a paragraph |
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from ..document.choices import choices_in
from ..document.nodes import (
    Added,
    Graphic,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Table,
    TableEntry,
    inlines_of,
    walk,
)
from ..findings import Span
from .flow_columns import HEADINGS, NOT_ASKED, Fitter, columns_of, is_wide, shape_unfit
from .flow_grid import Line, Spot, answers, flat, simple
from .flow_heads import Heads, cuts, heads_of, levels_of, opened, part_of
from .flow_marks import in_languages, marks
from .flow_runs import span_of, visible
from .flow_state import Flow, Scope
from .items import TablePlan
from .table_shape import RUNS_OVER, wide_heads

FORMS = (
    "columned",
    "keyed",
    "interchanged",
    "divided",
    "listed",
    "facing",
    "matching",
    "languages",
    "linear",
    "stairstep",
    "form",
)
ASKED = "it was asked for"
FITS = "its columns fit the page"
KEYS = "abcdefghijklmnopqrstuvwxyz"
NO_HEADINGS = "it has no column headings"
NOT_WIDE = "no heading is wider than its entries"
TOO_MANY_KEYS = "too many of its headings would have to be shortened"
TURNED = "a print page begins inside it"
UNEVEN = "its rows have not all the same columns"
NO_ROW_HEADING = "a row has no heading"
PARTS = "it would need too many parts"
BLOCKS = "an entry holds more than one paragraph"
ONE_ROW = "it is one row, which only stands side by side in print"
ONE_COLUMN = "most of its rows are one entry"
NO_MATCH = "its columns are not two lists to match"
ONE_TONGUE = "its columns are not in several languages"
MOST_TONGUES = 4
ONE_SIDE = "one side of the paper is used, so no pages face one another"
TOO_LONG = "its parts are longer than a page"
ABOVE = 10  # Lines that title, note and headings may take (common practice, no source).
SPANS = "a heading reaches over several columns"
STEPS = "it has too many columns for steps"
MOST_STEPS = 8
WHOLE = 100  # Rows of a hundred that may run over where a person asks for a form.
UNKNOWN = "there is no such form"

Part = tuple[TablePlan, Sequence[Line | PrintPage]]


@dataclass(frozen=True, slots=True)
class Chosen:
    """The form of a table and the reason; for columns the parts, each with its lines, and the
    shortened headings with what they stand for."""

    form: str
    reason: str = ""
    parts: tuple[Part, ...] = ()
    key: tuple[tuple[str, Spot], ...] = ()


def choose(flow: Flow, lines: Sequence[Line | PrintPage], scope: Scope, node: Table) -> Chosen:
    """The form a table takes.  A form that was asked for and cannot be is reported."""
    trial = _Trial(flow, lines, scope, node.address)
    words = asked(flow, node, "short-headings")
    trial.keys = (*words.split("\n"), *KEYS) if words else tuple(KEYS)
    wish = asked(flow, node, "table-format") or ("keyed" if words else "")
    if wish:
        made = trial.of(wish, WHOLE)
        if isinstance(made, Chosen):
            return replace(made, reason=ASKED)
        span = span_of_table(node)
        flow.findings.add("layout.table-form-refused", span, form=wish, reason=made)
    if not trial.headed and trial.texts:
        return Chosen("text")
    share = int(flow.convention.rules["table_runovers"])
    reason = ""
    for form in flow.convention.rules["table_forms"]:
        made = trial.of(form, share)
        if isinstance(made, Chosen):
            return made if made.reason else replace(made, reason=reason or NOT_ASKED)
        reason = reason or (made if form == "columned" else "")
    made = trial.of("listed" if trial.headed else "linear", share)
    return replace(made, reason=reason or NOT_ASKED) if isinstance(made, Chosen) else Chosen("text")


def asked(flow: Flow, node: Table, kind: str) -> str:
    """What a person asked for, by a choice of a kind whose stretch is that of the table."""
    choices = flow.document.choices
    if not choices or (span := span_of_table(node)) is None:
        return ""
    start, end = span
    found = [
        choice
        for choice in choices_in(choices, start, max(end, start + 1), (kind,))
        if choice.start == start or choice.end >= end
    ]
    return min(found, key=lambda c: abs(c.start - start) + abs(c.end - end)).value if found else ""


def span_of_table(node: Table) -> Span | None:
    """The stretch of print of a whole table."""
    spans = [span for part in walk(node) if (span := span_of(inlines_of(part)))]
    return (min(s for s, _ in spans), max(e for _, e in spans)) if spans else None


class _Trial:
    """One table, tried in one form after another."""

    def __init__(
        self, flow: Flow, lines: Sequence[Line | PrintPage], scope: Scope, address: str
    ) -> None:
        self.flow, self.lines = flow, lines
        self.rows = [line for line in lines if isinstance(line, Line)]
        several = [row for row in self.rows if len(row.spots) > 1]
        self.headed = any(r.head for r in several) and not all(r.head for r in several)
        self.blocks = any(not simple(spot.entry) for row in self.rows for spot in row.spots)
        self.texts = 2 * len(several) <= len(self.rows) or self.blocks
        self.fitter = Fitter(flow, scope, address)
        self.scope = scope
        self._unfit: str | None = None
        self._even: list[Line | PrintPage] = []
        self.keys: tuple[str, ...] = tuple(KEYS)

    def of(self, form: str, share: int) -> Chosen | str:
        """The table in a form; or why it cannot be."""
        make = _TRIALS.get(form)
        if make is None:
            return UNKNOWN
        if not self.headed and self.texts:
            return BLOCKS if self.blocks else ONE_COLUMN
        return make(self, share)

    @property
    def unfit(self) -> str:
        """Why its shape keeps it from all kinds of columns."""
        if self._unfit is None:
            self._unfit = shape_unfit(self.flow, self.lines, self.scope)
        return self._unfit

    @property
    def even(self) -> Sequence[Line | PrintPage]:
        """The lines with each entry in every column it covers, column headings as they are."""
        if not self._even:
            columns, levels = columns_of(self.rows), levels_of(self.rows)
            entries = {id(row) for row in self.rows[levels:]}
            self._even = [
                opened(line, columns) if isinstance(line, Line) and id(line) in entries else line
                for line in self.lines
            ]
        return self._even

    @property
    def even_rows(self) -> list[Line]:
        return [line for line in self.even if isinstance(line, Line)]

    def heads(self) -> Heads:
        """The column headings."""
        ledger = self.flow.document.ledger

        def shows(entry: TableEntry) -> bool:
            return visible(flat(entry.children)[0], ledger)

        return heads_of(self.rows, columns_of(self.rows), shows)

    def columned(self, share: int) -> Chosen | str:
        if self.unfit:
            return self.unfit
        rows = self.even_rows
        if self.fitter.surely_over(rows, share):
            return RUNS_OVER
        found = self.fitter.fitted(rows, share)
        if isinstance(found, str):
            return found
        reason = f"{FITS} with few runovers" if found[1].over else FITS
        return Chosen("columned", reason, ((found[0], self.even),))

    def keyed(self, share: int) -> Chosen | str:
        """Headings wider than their entries become letters (BF 11.7, 11.8)."""
        asked = share == WHOLE
        if reason := self._not_arranged(share, 1):
            return reason
        wide = set(wide_heads(self.fitter.grid(self.even_rows)[0]))
        heads = {id(leaf.entry): leaf for leaf in self.heads().leaves if leaf.column in wide}
        if not heads:
            return NOT_WIDE
        most = len(KEYS) if asked else int(self.flow.convention.rules["table_keys"])
        if len(heads) > most:
            return TOO_MANY_KEYS
        key = tuple(zip(self.keys, heads.values(), strict=False))
        letters = {id(spot.entry): _letter(letter, spot.entry) for letter, spot in key}
        lines = [_lettered(line, letters) if isinstance(line, Line) else line for line in self.even]
        found = self.fitter.fitted([line for line in lines if isinstance(line, Line)], share)
        return found if isinstance(found, str) else Chosen("keyed", "", ((found[0], lines),), key)

    def interchanged(self, share: int) -> Chosen | str:
        """Rows become columns and columns rows (BF 11.15)."""
        if reason := self._not_arranged(share, 1) or self._uneven():
            return reason
        if levels_of(self.rows) > 1:
            return HEADINGS
        ledger = self.flow.document.ledger
        even = self.even_rows
        if any(spot.columns > 1 for spot in even[0].spots):
            return SPANS
        if not all(visible(flat(r.spots[0].entry.children)[0], ledger) for r in even[1:]):
            return NO_ROW_HEADING
        rows = [
            Line(
                tuple(Spot(row.spots[column].entry, at, 1, True) for at, row in enumerate(even)),
                column == 0,
                self.rows[0].address,
            )
            for column in range(columns_of(even))
        ]
        found = self.fitter.fitted(rows, share)
        return found if isinstance(found, str) else Chosen("interchanged", "", ((found[0], rows),))

    def divided(self, share: int) -> Chosen | str:
        """Columns in parts, one below the other, with the row headings in each (BF 11.14)."""
        return self._in_parts(share, int(self.flow.convention.rules["table_parts"]))

    def _in_parts(self, share: int, most: int) -> Chosen | str:
        if reason := self._not_arranged(share, most) or self._uneven():
            return reason
        columns = columns_of(self.rows) - 1
        heads = self.heads()
        for parts in range(2, min(most, columns // 2) + 1):
            for ends in cuts(columns, parts, heads):
                made = self._parts(ends, share)
                if made:
                    return Chosen("divided", "", tuple(made))
        return PARTS

    def _parts(self, ends: Sequence[int], share: int) -> list[Part]:
        """The parts between some columns; none if one does not fit."""
        made: list[Part] = []
        for first, end in pairwise(ends):
            rows = [part_of(row, first, end) for row in self.even_rows]
            found = self.fitter.fitted(rows, share)
            if isinstance(found, str):
                return []
            made.append((found[0], rows))
        return made

    def listed(self, share: int) -> Chosen | str:
        return Chosen("listed") if self.headed else NO_HEADINGS

    def matching(self, share: int) -> Chosen | str:
        """Two lists to match, one below the other (BF 10.11 of the digest: not confirmed)."""
        if self.headed or self.blocks or _turned(self.lines):
            return NO_MATCH
        even = all(len(row.spots) == 2 and row.spots[1].column == 1 for row in self.rows)
        ledger = self.flow.document.ledger
        kinds = [marks(self.rows, column, ledger) for column in (0, 1)] if even else [set(), set()]
        matched = all(len(kind) == 1 for kind in kinds) and kinds[0] != kinds[1]
        return Chosen("matching") if matched and "" not in kinds[0] | kinds[1] else NO_MATCH

    def languages(self, share: int) -> Chosen | str:
        """Columns of several languages nest: the first from cell 1, the second from cell 3 and so
        on (section 17 of the digest), which is what steps are."""
        columns = columns_of(self.rows)
        if self.blocks or self.headed or columns > MOST_TONGUES:
            return ONE_TONGUE
        told = in_languages(self.rows, self.flow.document.ledger)
        return Chosen("stairstep") if told else ONE_TONGUE

    def facing(self, share: int) -> Chosen | str:
        """The left part on a left-hand page, the right part on the page that faces it (11.13)."""
        convention, settings = self.flow.convention, self.flow.settings
        if convention.page.sides != "two":
            return ONE_SIDE
        made = self._in_parts(0, 2)
        if isinstance(made, Chosen) and len(self.rows) + ABOVE > (
            settings.lines or convention.page.lines
        ):
            return TOO_LONG
        return replace(made, form="facing") if isinstance(made, Chosen) else made

    def linear(self, share: int) -> Chosen | str:
        if self.blocks:
            return BLOCKS
        form = not self.headed and any(answers(s.entry) for row in self.rows for s in row.spots)
        if len(self.rows) == 1 and not form and share != WHOLE and self._several_blocks():
            return ONE_ROW
        return Chosen("form" if form else "linear")

    def _several_blocks(self) -> bool:
        """Whether an entry holds a picture, or more than one block."""
        entries = [spot.entry for row in self.rows for spot in row.spots]
        return any(
            len(entry.children) > 1 or isinstance(entry.children[0], Graphic)
            for entry in entries
            if entry.children
        )

    def form(self, share: int) -> Chosen | str:
        return BLOCKS if self.blocks else Chosen("form")

    def stairstep(self, share: int) -> Chosen | str:
        if self.blocks:
            return BLOCKS
        return STEPS if columns_of(self.rows) > MOST_STEPS else Chosen("stairstep")

    def _not_arranged(self, share: int, parts: int) -> str:
        """Why the columns cannot be arranged anew."""
        if self.unfit:
            return self.unfit
        if not self.headed:
            return NO_HEADINGS
        return RUNS_OVER if self.fitter.surely_over(self.even_rows, share, parts) else ""

    def _uneven(self) -> str:
        """Why rows and columns cannot change places."""
        if _turned(self.lines):
            return TURNED
        count = columns_of(self.rows)
        body = self.even_rows[levels_of(self.rows) :]
        even = all(len(row.spots) == count for row in body)
        even = even and all(sum(s.columns for s in row.spots) == count for row in self.even_rows)
        return "" if even and not any(is_wide(row, count) for row in body) else UNEVEN


_TRIALS: Mapping[str, Callable[[_Trial, int], Chosen | str]] = {
    "columned": _Trial.columned,
    "keyed": _Trial.keyed,
    "interchanged": _Trial.interchanged,
    "divided": _Trial.divided,
    "listed": _Trial.listed,
    "matching": _Trial.matching,
    "languages": _Trial.languages,
    "facing": _Trial.facing,
    "linear": _Trial.linear,
    "stairstep": _Trial.stairstep,
    "form": _Trial.form,
}


def _letter(letter: str, instead: TableEntry) -> TableEntry:
    return replace(instead, children=(Paragraph(runs=(Added(letter),)),))


def _lettered(row: Line, letters: Mapping[int, TableEntry]) -> Line:
    """A row with letters in the place of some headings."""
    return replace(
        row, spots=tuple(replace(s, entry=letters.get(id(s.entry), s.entry)) for s in row.spots)
    )


def _turned(lines: Iterable[Line | PrintPage]) -> bool:
    return any(
        isinstance(line, PrintPage)
        or any(isinstance(r, PrintPageTurn) for s in line.spots for r in flat(s.entry.children)[0])
        for line in lines
    )

"""Tables: the grid in one pass, merged entries, header rows, layout tables (17.4)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from lxml import etree

from ..document.nodes import AnswerSpace, Block, Box, Paragraph, Table, TableEntry, TableRow
from .docx_answers import answering
from .docx_blocks import blocks
from .docx_controls import Control, control_of
from .docx_inlines import note_change, unknown
from .docx_lists import Entry
from .docx_names import MC, VAL, W, is_on, number
from .docx_styles import ground_name
from .docx_table_looks import TableLooks, in_typeform, looks_of_table
from .docx_walk import Walk, choose, speaks, step
from .limits import LIMITS

_ROW, _ENTRY, _ROW_PROPS, _ENTRY_PROPS = f"{W}tr", f"{W}tc", f"{W}trPr", f"{W}tcPr"
_WRAPPERS = frozenset(f"{W}{name}" for name in ("customXml", "ins", "moveTo", "smartTag"))
_QUIET_NAMES = """
tblPr tblGrid tblPrEx trPr tcPr bookmarkStart bookmarkEnd commentRangeStart commentRangeEnd
proofErr permStart permEnd moveFromRangeStart moveFromRangeEnd moveToRangeStart moveToRangeEnd
sdtPr sdtEndPr customXmlPr
"""
_QUIET = frozenset(f"{W}{name}" for name in _QUIET_NAMES.split())


@dataclass(slots=True)
class _Slot:
    """An entry being built; ``rows`` grows with every continuation below it."""

    address: str
    children: list[Block] = field(default_factory=list)
    columns: int = 1
    rows: int = 1


@dataclass(slots=True)
class _Grid:
    rows: list[tuple[list[_Slot], bool, str]] = field(default_factory=list)
    open: dict[int, _Slot] = field(default_factory=dict)
    entries: int = 0


def table(walk: Walk, element: etree._Element, path: str) -> list[Entry]:
    """Read a table.  One entry alone is a box or, without lines, only its content."""
    address = f"{walk.line.part}!{path}"
    begun = walk.ledger.length
    grid = _Grid()
    for row, place, control in _parts_of(walk, element, path, _ROW):
        if control is None:
            _row(walk, row, place, grid)
        else:
            with answering(walk, control[0], control[1], inline=False):
                _row(walk, row, place, grid)
    rows = [row for row in grid.rows if row[0]]
    if not rows:
        return []
    lines = _has_lines(walk, element)
    if len(rows) == 1 and len(rows[0][0]) == 1:
        children = tuple(rows[0][0][0].children)
        here = walk.ledger.length
        walk.findings.add("docx.layout-table", (here, here))
        if lines:
            return [Entry([Box(children=children, address=address)], address=address)]
        return [Entry(list(children), address=address)]
    if not lines and max(len(row[0]) for row in rows) == 2:
        walk.findings.add("docx.table-without-lines", (begun, begun))
    made = _made(rows, looks_of_table(walk, element))
    _note_alt(walk, element)
    return [Entry([Table(children=made, address=address)], address=address)]


def _made(rows: list[tuple[list[_Slot], bool, str]], looks: TableLooks) -> tuple[TableRow, ...]:
    """The rows; headings and typeforms are those of the rows and of the table's style (17.7.6)."""
    out = []
    for at, (slots, head, place) in enumerate(rows):
        head = head or (looks.first_row and at == 0)
        below = looks.last_row if at == len(rows) - 1 and not head else 0
        entries = []
        for nth, slot in enumerate(slots):
            named = looks.first_column and nth == 0 and len(slots) > 1
            bits = below | (looks.last_column if nth == len(slots) - 1 and not head else 0)
            entries.append(_finish(slot, head or named, bits))
        out.append(TableRow(entries=tuple(entries), head=head, address=place))
    return tuple(out)


def _finish(slot: _Slot, head: bool, bits: int) -> TableEntry:
    return TableEntry(
        children=tuple(in_typeform(block, bits) for block in slot.children),
        head=head,
        rows=slot.rows,
        columns=slot.columns,
        address=slot.address,
    )


_Wrapped = tuple[Control, etree._Element] | None


def _parts_of(
    walk: Walk, parent: etree._Element, path: str, wanted: str
) -> Iterator[tuple[etree._Element, str, _Wrapped]]:
    """Rows of a table or entries of a row, inside whatever wrappers, in order."""
    stack: list[tuple[etree._Element, str, _Wrapped]] = [(parent, path, None)]
    while stack:
        here, place, control = stack.pop()
        if here.tag == wanted:
            yield here, place, control
            continue
        if here is not parent and here.tag in (f"{W}sdt",):
            control = (control_of(here), here)
        inside: list[tuple[etree._Element, str, _Wrapped]] = []
        for at, child in enumerate(here, 1):
            tag, spot = child.tag, place + step(at)
            if tag in (wanted, f"{W}sdt", f"{W}sdtContent") or tag in _WRAPPERS:
                inside.append((child, spot, control))
            elif tag == f"{MC}AlternateContent" and (branch := choose(child)) is not None:
                inside.append((branch[1], spot + step(branch[0]), control))
            elif tag not in _QUIET and tag not in (f"{W}del", f"{W}moveFrom"):
                unknown(walk, child, spot)
            elif tag not in _QUIET and not walk.final:
                inside.append((child, spot, control))
            elif tag in _QUIET and speaks(child):
                unknown(walk, child, spot)
        stack.extend(reversed(inside))


class _RowFacts(NamedTuple):
    """``gone``: why print does not show the row; ``before``: columns it leaves free."""

    gone: str = ""
    head: bool = False
    before: int = 0


def _row_facts(walk: Walk, element: etree._Element) -> _RowFacts:
    props = element.find(_ROW_PROPS)
    facts = _RowFacts()
    for prop in props if props is not None else ():
        tag, value = prop.tag, prop.get(VAL)
        if tag in (f"{W}del", f"{W}ins"):
            gone = tag == f"{W}del"
            note_change(walk, prop, "deletions" if gone else "insertions")
            if gone == walk.final:
                return _RowFacts("docx.revisions")
        elif tag == f"{W}hidden" and is_on(value):
            return _RowFacts("docx.hidden-text")
        elif tag == f"{W}tblHeader":
            facts = facts._replace(head=is_on(value))
        elif tag == f"{W}gridBefore":
            facts = facts._replace(before=number(value))
    return facts


def _row(walk: Walk, element: etree._Element, path: str, grid: _Grid) -> None:
    facts = _row_facts(walk, element)
    if facts.gone:
        _leave_out(walk, element, path, facts.gone)
        return
    slots: list[_Slot] = []
    address = f"{walk.line.part}!{path}"
    column = min(facts.before, LIMITS.columns)
    if column:
        slots.append(_Slot(f"{address}#before", columns=column))
    for entry, place, control in _parts_of(walk, element, path, _ENTRY):
        column += _cell(walk, (entry, place, control), column, (grid, slots))
    grid.rows.append((slots, facts.head, address))


def _leave_out(walk: Walk, element: etree._Element, path: str, why: str) -> None:
    """A row that is hidden, or that the chosen view of the revisions does not have (``why``); its
    words are an omission."""
    for entry, place, _ in _parts_of(walk, element, path, _ENTRY):
        _mute_entry(walk, entry, place, why)


def _mute_entry(walk: Walk, entry: etree._Element, path: str, why: str) -> None:
    before, walk.shut = walk.shut, why
    walk.mute()
    blocks(walk, entry, path)
    walk.shut = before
    walk.mute()


class _EntryFacts(NamedTuple):
    """``merge``: how it goes on from its neighbour; ``gone``: the chosen view has it not;
    ``ruled``: print draws a line below it and none beside or above."""

    span: int = 1
    merge: str = ""
    gone: bool = False
    ruled: bool = False
    ground: str = ""


def _entry_facts(walk: Walk, element: etree._Element) -> _EntryFacts:
    props = element.find(_ENTRY_PROPS)
    facts = _EntryFacts()
    for prop in props if props is not None else ():
        tag = prop.tag
        if tag == f"{W}gridSpan":
            facts = facts._replace(span=min(LIMITS.columns, max(1, number(prop.get(VAL), 1))))
        elif tag in (f"{W}vMerge", f"{W}hMerge"):
            facts = facts._replace(merge=tag[len(W)] + (prop.get(VAL) or "continue"))
        elif tag in (f"{W}cellDel", f"{W}cellIns"):
            note_change(walk, prop, "changes of table entries")
            facts = facts._replace(gone=(tag == f"{W}cellDel") == walk.final)
        elif tag == f"{W}tcBorders":
            drawn = [side.tag for side in prop if side.get(VAL) not in (None, "nil", "none")]
            facts = facts._replace(ruled=drawn == [f"{W}bottom"])
        elif tag == f"{W}shd":
            facts = facts._replace(ground=ground_name(prop))
    return facts


def _cell(
    walk: Walk,
    where: tuple[etree._Element, str, _Wrapped],
    column: int,
    into: tuple[_Grid, list[_Slot]],
) -> int:
    """Read one entry into its slot; returns how many columns it takes."""
    element, path, control = where
    grid, slots = into
    facts = _entry_facts(walk, element)
    span, merge = facts.span, facts.merge
    if facts.gone:
        _mute_entry(walk, element, path, "docx.revisions")
        return 0
    begun = walk.ledger.length
    if control is None:
        content = blocks(walk, element, path)
    else:
        with answering(walk, control[0], control[1], inline=False):
            content = blocks(walk, element, path)
    content = _shown(walk, facts, content, (begun, not grid.rows))
    grid.entries += 1
    if merge == "vcontinue" and (root := grid.open.get(column)) is not None:
        root.rows += 1
        root.children.extend(b for b in content if _has_words(b))
        return span
    if merge == "hcontinue" and slots:
        slots[-1].columns += span
        slots[-1].children.extend(b for b in content if _has_words(b))
        return span
    slot = _Slot(f"{walk.line.part}!{path}", list(content), span)
    for at in range(column, column + span):
        grid.open.pop(at, None)
    if merge.startswith("v"):
        grid.open[column] = slot
    slots.append(slot)
    return span


def _shown(
    walk: Walk, facts: _EntryFacts, content: tuple[Block, ...], at: tuple[int, bool]
) -> tuple[Block, ...]:
    """The content with what the looks of its entry mean: a ground in colour is told, and an empty
    entry over a line of its own is a blank to fill in (common practice, no source).  ``at``: where
    it begins, and whether it is of the first row, whose ground means headings."""
    begun, first = at
    here = walk.ledger.length
    if facts.ground and here > begun and not first:
        walk.findings.add("docx.colour", (begun, here), colour=facts.ground)
    own = facts.ruled and not facts.merge.endswith("continue")
    only = content[0] if own and len(content) == 1 else None
    if isinstance(only, Paragraph) and not only.runs:
        return (replace(only, runs=(AnswerSpace(here, here, "line"),)),)
    return content


def _has_words(block: Block) -> bool:
    return bool(getattr(block, "runs", True))


def _has_lines(walk: Walk, element: etree._Element) -> bool:
    """Whether print draws lines: the table's own borders, its entries', or its style's."""
    props = element.find(f"{W}tblPr")
    borders = props.find(f"{W}tblBorders") if props is not None else None
    if borders is not None:
        return any(side.get(VAL) not in (None, "nil", "none") for side in borders)
    named = props.find(f"{W}tblStyle") if props is not None else None
    for style in walk.styles.chain(named.get(VAL, "") if named is not None else "", "table"):
        drawn = style.find(f"{W}tblPr/{W}tblBorders")
        if drawn is not None and any(s.get(VAL) not in ("nil", "none") for s in drawn):
            return True
    cells = element.iter(f"{W}tcBorders")
    return any(side.get(VAL) not in (None, "nil", "none") for cell in cells for side in cell)


def _note_alt(walk: Walk, element: etree._Element) -> None:
    props = element.find(f"{W}tblPr")
    for prop in props if props is not None else ():
        if prop.tag in (f"{W}tblCaption", f"{W}tblDescription") and prop.get(VAL):
            here = walk.ledger.length
            walk.findings.add("docx.table-alt", (here, here), words=prop.get(VAL, "")[:200])

"""Tables: rows and entries with their printed spans; tables that only lay out text."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import islice
from typing import Any, NamedTuple

from ..document.nodes import Paragraph, PrintPage, Table, TableEntry, TableRow
from .limits import LIMITS
from .roles import is_captioned
from .xhtml import Handler, Here, Walker
from .xhtml_blocks import address_of, flow, fresh
from .xhtml_lines import speeches

_HOLDERS = 2  # Elements around a table that may hold its title too.
_WHOLE = re.compile(r"\d{1,9}")


class Foot(NamedTuple):
    """The rows of a ``tfoot``, printed last wherever the source puts them [HTML, 4.9.7]."""

    rows: tuple[Any, ...]


def table(walker: Walker, here: Here) -> None:
    """A table, a play set as one, or text that a table only lays out."""
    if walker.too_deep():
        flow(walker, here)
        return
    start = walker.ledger.length
    personas = len(walker.personas)
    out = walker.collect(here, fresh(walker.around, in_table="table"))
    rows = [b for b in out if isinstance(b, TableRow | PrintPage)]
    rows += [row for block in out if isinstance(block, Foot) for row in block.rows]
    caption = tuple(b for b in out if not isinstance(b, TableRow | PrintPage | Foot))
    if len(walker.personas) > personas:
        walker.out.extend([*caption, *speeches(rows, walker.personas)])
        return
    body = [row for row in rows if isinstance(row, TableRow)]
    entries = [entry for row in body for entry in row.entries]
    span = (start, walker.ledger.length)
    if len(entries) > LIMITS.entries_in_table:
        walker.findings.add("read.table-too-big", span, number=len(entries))
    elif here.attrs.get("role") not in ("presentation", "none") and not _is_layout(body, caption):
        if body:
            address = address_of(walker, here)
            clipped = tuple(_clip_rows(rows))
            caption = (*_caption_above(walker, here), *caption)
            walker.out.append(Table(children=clipped, caption=caption, address=address))
        else:
            walker.out.extend([*caption, *rows])
        return
    elif entries:
        walker.findings.add("read.layout-table", span)
    walker.out.extend(caption)
    for row in rows:
        if isinstance(row, TableRow):
            walker.out.extend(block for entry in row.entries for block in entry.children)
        else:
            walker.out.append(row)


def _caption_above(walker: Walker, here: Here) -> tuple[Any, ...]:
    """The caption that stands just above a table in what holds both."""
    holders = (each.get("class", "") for each in islice(here.element.iterancestors(), _HOLDERS))
    last = walker.out[-1] if walker.out else None
    if isinstance(last, Paragraph) and last.role == "caption" and any(map(is_captioned, holders)):
        return (walker.out.pop(),)
    return ()


def _is_layout(rows: list[TableRow], caption: tuple[Any, ...]) -> bool:
    """Whether there is but one column and no heading: nothing that only a table could show."""
    if caption or not rows:
        return False
    return all(
        len(row.entries) <= 1 and not any(e.head or e.columns > 1 for e in row.entries)
        for row in rows
    )


def _clip_rows(rows: list[Any]) -> list[Any]:
    """Row spans no longer than the group of rows or the table; a span of 0 reaches its end
    [HTML, 4.9.11]."""
    left = sum(1 for row in rows if isinstance(row, TableRow))
    done: list[Any] = []
    for row in rows:
        if isinstance(row, TableRow):
            if any(e.rows == 0 or e.rows > left for e in row.entries):
                entries = tuple(replace(e, rows=min(e.rows or left, left)) for e in row.entries)
                row = replace(row, entries=entries)
            left -= 1
        done.append(row)
    return done


def rows_group(walker: Walker, here: Here) -> None:
    """``thead``, ``tbody``, ``tfoot``."""
    if walker.around.in_table != "table":
        flow(walker, here)
        return
    around = fresh(walker.around, in_table="table", in_head=here.plan.tag == "thead")
    out = _clip_rows(walker.collect(here, around))
    if here.plan.tag == "tfoot":
        walker.out.append(Foot(tuple(b for b in out if isinstance(b, TableRow | PrintPage))))
        out = [b for b in out if not isinstance(b, TableRow | PrintPage)]
    walker.out.extend(out)


def row(walker: Walker, here: Here) -> None:
    """A row; what stands in it outside any entry becomes an entry of its own."""
    if walker.around.in_table != "table":
        flow(walker, here)
        return
    in_head = walker.around.in_head
    first = not any(isinstance(block, TableRow) for block in walker.out)
    out = walker.collect(here, fresh(walker.around, in_table="row", in_head=in_head))
    entries: list[TableEntry] = []
    for block in out:
        if isinstance(block, TableEntry):
            entries.append(block)
        elif isinstance(block, PrintPage):
            walker.out.append(block)
        else:
            entries.append(TableEntry(children=(block,), address=f"{block.address}:entry"))
    if entries:
        head = in_head or (first and len(entries) > 1 and all(entry.head for entry in entries))
        address = address_of(walker, here)
        walker.out.append(TableRow(entries=tuple(entries), head=head, address=address))


def entry(walker: Walker, here: Here) -> None:
    """``td`` or ``th``; spans beyond the limits are clipped [HTML, 4.9.11]."""
    place = walker.around.in_table
    if not place:
        flow(walker, here)
        return
    named = here.attrs.get("role") in ("columnheader", "rowheader")
    head = here.plan.tag == "th" or named or walker.around.in_head
    out = walker.collect(here, fresh(walker.around))
    address = address_of(walker, here)
    if here.plan.terms and not {"persona", "speaker"}.isdisjoint(here.plan.terms):
        walker.personas.add(address)
    made = TableEntry(
        children=tuple(out),
        head=head,
        rows=_span(here, "rowspan", 65_534),
        columns=max(1, _span(here, "colspan", LIMITS.columns)),
        address=address,
    )
    alone = place == "table"
    walker.out.append(TableRow(entries=(made,), address=f"{address}:row") if alone else made)


def _span(here: Here, name: str, most: int) -> int:
    words = here.attrs.get(name, "").strip()
    return min(int(words), most) if _WHOLE.fullmatch(words) else 1


HANDLERS: dict[str, Handler] = {"table": table, "rows": rows_group, "row": row, "entry": entry}

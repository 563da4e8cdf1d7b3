"""The row headings of a table without the bold type that all of them wear (BF 5.3, 11.2)."""

from __future__ import annotations

from dataclasses import replace

from ..document.choices import TYPEFORMS, choices_in
from ..document.nodes import BOLD, Block, Inlines, Paragraph, PrintPage, Run, TableEntry
from .flow_grid import Line
from .flow_runs import has_letters, span_of
from .flow_state import Flow

Lines = list[Line | PrintPage]


def row_heads_upright(flow: Flow, lines: Lines) -> Lines:
    """The rows of a table, with row headings upright where print has all of them in bold: such
    type tells them from the entries, as their place does in braille.  Bold that only some wear
    is kept, and so are italics, which may name titles or species."""
    firsts = [
        line.spots[0].entry
        for line in lines
        if isinstance(line, Line) and not line.head and len(line.spots) > 1
        if line.spots[0].column == 0 and line.spots[0].fresh
    ]
    shown = [entry for entry in firsts if _words(flow, entry)]
    if len(shown) < 2 or not all(_is_bold(flow, entry) for entry in shown):
        return lines
    changed = {id(entry): _upright(flow, entry) for entry in shown}
    return [_with(line, changed) if isinstance(line, Line) else line for line in lines]


def _words(flow: Flow, entry: TableEntry) -> list[Run]:
    ledger = flow.document.ledger
    runs = (run for kid in entry.children if isinstance(kid, Paragraph) for run in kid.runs)
    return [run for run in runs if isinstance(run, Run) and has_letters(run, ledger)]


def _is_bold(flow: Flow, entry: TableEntry) -> bool:
    return all(isinstance(kid, Paragraph) for kid in entry.children) and all(
        run.typeform & BOLD for run in _words(flow, entry)
    )


def _upright(flow: Flow, entry: TableEntry) -> TableEntry:
    return replace(entry, children=tuple(_block_upright(flow, kid) for kid in entry.children))


def _block_upright(flow: Flow, block: Block) -> Block:
    span = span_of(block.runs) if isinstance(block, Paragraph) else None
    if not isinstance(block, Paragraph) or span is None:
        return block
    if choices_in(flow.document.choices, *span, TYPEFORMS):
        return block
    flow.findings.add("layout.typeform-dropped", span, style="table-row-heading")
    return replace(block, runs=_without_bold(block.runs))


def _without_bold(runs: Inlines) -> Inlines:
    return tuple(
        replace(run, typeform=run.typeform & ~BOLD) if isinstance(run, Run) else run for run in runs
    )


def _with(line: Line, changed: dict[int, TableEntry]) -> Line:
    """The line with its changed entries, those that reach down from above among them."""
    spots = (replace(spot, entry=changed.get(id(spot.entry), spot.entry)) for spot in line.spots)
    return replace(line, spots=tuple(spots))

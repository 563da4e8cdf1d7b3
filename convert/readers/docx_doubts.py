"""What print seems to mean and the file does not say: proposed in findings, never changed."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import islice

from ..document.nodes import BOLD, Block, Inlines, LineBreak, ListBlock, Paragraph, Run, Table
from ..findings import Findings

_LONGEST_HEADING = 80
_FEWEST_ROWS = 3
_MOST_LINES = 2
_CLOSING = (".", "!", "?", ":", ";", ",", "…")


def file_doubts(
    children: Sequence[Block], text: str, findings: Findings, stands: Collection[int]
) -> None:
    """File findings on likely headings without a style and on columns made with tabs.
    ``stands``: where paragraphs begin that are centred or in large letters."""
    _headings(children, text, findings, stands)
    if "\t" in text:
        _columns(children, text, findings)


def _headings(
    children: Sequence[Block], text: str, findings: Findings, stands: Collection[int]
) -> None:
    """A short line without a final stop, bold, centred or large, before ordinary text, a list or a
    table.  The last of many such lines is no heading, but of verses, an invitation and the like."""
    row = 0
    for at, block in enumerate(children[:-1]):
        if not (isinstance(block, Paragraph) and block.role == "body"):
            row = 0 if not _is_empty(block) else row
            continue
        if not block.runs:
            continue
        row = row + 1 if _stands_out(block.runs, stands) else 0
        if not 0 < row <= _MOST_LINES:
            continue
        after = next(
            (below for below in islice(children, at + 1, None) if not _is_empty(below)), None
        )
        if isinstance(after, Paragraph):
            if _stands_out(after.runs, stands):
                continue
        elif not isinstance(after, ListBlock | Table):
            continue
        start, end = _span(block.runs)
        words = text[start:end].strip()
        is_short = len(words) <= _LONGEST_HEADING and "\t" not in words
        if is_short and not words.endswith(_CLOSING) and any(ch.isalpha() for ch in words):
            findings.add("docx.maybe-heading", (start, end))


def _is_empty(block: Block) -> bool:
    return isinstance(block, Paragraph) and not block.runs


def _stands_out(runs: Inlines, stands: Collection[int]) -> bool:
    """Whether all of a paragraph is bold text, or it is one of those that stand out."""
    first = runs[0] if runs else None
    if not isinstance(first, Run):
        return False
    if first.typeform & BOLD and all(isinstance(run, Run) and run.typeform & BOLD for run in runs):
        return True
    return first.start in stands


def _span(runs: Inlines) -> tuple[int, int]:
    words = [run for run in runs if isinstance(run, Run)]
    return words[0].start, words[-1].end


def _columns(children: Sequence[Block], text: str, findings: Findings) -> None:
    """Three or more paragraphs in a row, each with the same number of tabs inside."""
    first: tuple[int, int] = (0, 0)
    rows = tabs = 0
    for block in (*children, None):
        here = _tabs(block, text)
        if here != tabs or not here:
            if tabs and rows >= _FEWEST_ROWS:
                findings.add("docx.tab-columns", first, rows=rows)
            rows, tabs = 0, here
        if here and isinstance(block, Paragraph):
            span = _span(block.runs)
            first = span if rows == 0 else (first[0], span[1])
            rows += 1


def _tabs(block: Block | None, text: str) -> int:
    if not isinstance(block, Paragraph) or not any(isinstance(r, Run) for r in block.runs):
        return 0
    if any(isinstance(run, LineBreak) for run in block.runs):
        return 0
    start, end = _span(block.runs)
    return text.count("\t", start, end)

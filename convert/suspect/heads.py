"""Headings used for looks, capitals without need, emphasis everywhere, drop capitals, strikes."""

from __future__ import annotations

from itertools import pairwise

from ..document.nodes import (
    BOLD,
    ITALIC,
    STRIKE,
    UNDERLINE,
    Block,
    Footnote,
    Heading,
    ListBlock,
    ListItem,
    Paragraph,
    Run,
    Table,
    TableEntry,
    TableRow,
    children_of,
    inlines_of,
)
from ..findings import Findings, Span
from .leaves import Leaf, Reading, data, file

_FEWEST_WORDS, _FEWEST_LETTERS = 3, 12
_MUCH, _ENOUGH = 0.4, 1000


def look(reading: Reading, findings: Findings) -> None:
    """File the doubts about headings and typeforms."""
    heads = [leaf for leaf in reading.leaves if isinstance(leaf.node, Heading)]
    file(findings, "suspect.heading", (leaf.span for leaf in heads if _is_text(leaf)))
    _levels(heads, findings)
    _bold_lines(reading, findings)
    _bold_rows(reading, findings)
    file(findings, "suspect.capitals", (leaf.span for leaf in reading.leaves if _is_capitals(leaf)))
    file(findings, "suspect.drop-capital", (_first_two(leaf) for leaf in reading.leaves
                                            if _is_dropped(reading, leaf)))  # fmt: skip
    _typeforms(reading, findings)


def _is_text(leaf: Leaf) -> bool:
    """Whether a heading reads like a sentence of the text."""
    rules = data()["heading"]
    words = leaf.words.rstrip(rules["closing"])
    count = len(words.split())
    if count > rules["longest"] or words.count("\n") >= rules["lines"]:
        return True
    return count > rules["sentence"] and words.endswith(tuple(rules["ends"]))


def _bold_lines(reading: Reading, findings: Findings) -> None:
    """Short bold lines without a final stop, before ordinary text, a list or a table, that the
    reader has not told of; in lists and tables bold lines are terms and heads."""
    told = {
        span for one in findings.all() if one.kind == "docx.maybe-heading" for span in one.spans
    }
    spans = []
    for owner, row in zip(reading.owners, reading.rows, strict=True):
        if isinstance(owner, ListItem | TableEntry | Footnote):
            continue
        for before, after in pairwise(row):
            leaf = _only_item(reading, before)
            if not isinstance(leaf, Leaf) or leaf.span in told or not _is_bold_line(leaf):
                continue
            below = _only_item(reading, after)
            if (
                _is_plain(below)
                if isinstance(below, Leaf)
                else isinstance(below, ListBlock | Table)
            ):
                spans.append(leaf.span)
    file(findings, "suspect.bold-line", spans)


def _bold_rows(reading: Reading, findings: Findings) -> None:
    """Tables without headings whose first row is all bold, and the second is not."""
    tables = [owner for owner in reading.owners if type(owner) is Table]
    spans = [span for table in tables if (span := _bold_row(table)) is not None]
    file(findings, "suspect.table-heads", spans)


def _bold_row(table: Table) -> Span | None:
    rows = [row for row in table.children if isinstance(row, TableRow)]
    if len(rows) < 2 or len(rows[0].entries) < 2:
        return None
    if any(row.head or all(entry.head for entry in row.entries) for row in rows):
        return None
    first, second = _words(rows[0]), _words(rows[1])
    if not (first and second and all(bold for _, bold in first)):
        return None
    if all(bold for _, bold in second):
        return None
    return first[0][0].start, first[-1][0].end


def _words(row: TableRow) -> list[tuple[Run, bool]]:
    """The runs of a row that say something, and whether each is bold."""
    blocks = [block for entry in row.entries for block in entry.children]
    runs = [run for block in blocks for run in inlines_of(block) if type(run) is Run]
    return [(run, bool(run.typeform & BOLD)) for run in runs]


def _only_item(reading: Reading, block: Leaf | Block) -> Leaf | Block:
    """The paragraph of a list of one item, as numbered headings often are; else the block."""
    if isinstance(block, ListBlock) and len(block.children) == 1:
        inside = children_of(block.children[0])
        runs = inlines_of(inside[0]) if len(inside) == 1 else ()
        if runs and all(type(run) is Run for run in runs):
            start, end = runs[0].start, runs[-1].end  # type: ignore[union-attr]
            return Leaf(inside[0], start, end, reading.text[start:end])  # type: ignore[arg-type]
    return block


def _is_bold_line(leaf: Leaf) -> bool:
    node, rules = leaf.node, data()["heading"]
    if type(node) is not Paragraph or node.role != "body":
        return False
    if not all(type(run) is Run and run.typeform & BOLD for run in node.runs):
        return False
    words = leaf.words.strip()
    if len(words) > rules["bold_line"] or "\n" in words or words.endswith(tuple(rules["stops"])):
        return False
    return any(map(str.isalpha, words))


def _is_plain(leaf: Leaf) -> bool:
    runs = leaf.runs
    is_body = type(leaf.node) is Paragraph and leaf.node.role == "body"
    return is_body and not all(type(run) is Run and run.typeform & BOLD for run in runs)


def _levels(heads: list[Leaf], findings: Findings) -> None:
    """Headings that skip a level going down."""
    last = 0
    spans = []
    for leaf in heads:
        level = leaf.node.level if isinstance(leaf.node, Heading) else 0
        if last and level > last + 1:
            spans.append(leaf.span)
        last = level
    file(findings, "suspect.heading-level", spans)


def _is_capitals(leaf: Leaf) -> bool:
    """Whether a whole block is typed in capitals."""
    words = leaf.words
    if not words.isupper() or len(words.split()) < _FEWEST_WORDS:
        return False
    capitals = sum(ch.isupper() for ch in words)
    return capitals >= _FEWEST_LETTERS and 10 * capitals >= 9 * sum(ch.isalpha() for ch in words)


def _is_dropped(reading: Reading, leaf: Leaf) -> bool:
    """Whether a block begins with a capital cut off from its word: ``T he``."""
    words = leaf.words
    if not isinstance(leaf.node, Paragraph) or words[1:2] not in (" ", "\n") or words[:1] in "AIO":
        return False
    rest = words[2:].split(maxsplit=1)
    if not rest or not words[0].isupper() or not rest[0][:1].islower():
        return False
    whole = (words[0] + rest[0]).strip(".,;:!?").lower()
    return whole in data()["words"]["common"].split() or whole in reading.counts


def _first_two(leaf: Leaf) -> tuple[int, int]:
    return leaf.start, leaf.start + 2


def _typeforms(reading: Reading, findings: Findings) -> None:
    """Text struck out, and emphasis on most of the text."""
    struck, strong, letters = [], 0, 0
    for leaf in reading.leaves:
        body = isinstance(leaf.node, Paragraph)
        for run in leaf.runs:
            if not isinstance(run, Run):
                continue
            if run.typeform & STRIKE and not reading.text[run.start : run.end].isspace():
                struck.append((run.start, run.end))
            if body:
                letters += run.end - run.start
                if run.typeform & (BOLD | ITALIC | UNDERLINE):
                    strong += run.end - run.start
    file(findings, "suspect.struck", struck)
    if letters > _ENOUGH and strong > _MUCH * letters:
        findings.add("suspect.emphasis", percent=100 * strong // letters)

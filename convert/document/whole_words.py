"""Runs that say the same are one, and words stay whole where a print page begins inside one."""

from __future__ import annotations

from dataclasses import replace

from ..findings import Findings
from .change import map_inlines
from .ledger import Ledger
from .nodes import Document, Inline, Inlines, PrintPageTurn, Run


def join_runs(document: Document, findings: Findings) -> Document:
    """Make one run of neighbours that say the same: a word cut by the editor is one word."""

    def change(inlines: Inlines) -> Inlines:
        if _is_joined(inlines):
            return inlines
        out: list[Inline] = []
        for inline in inlines:
            last = out[-1] if out else None
            if isinstance(inline, Run) and isinstance(last, Run) and _joins(last, inline):
                out[-1] = replace(last, end=inline.end)
            elif not isinstance(inline, Run) or inline.start < inline.end:
                out.append(inline)
        return tuple(out) if len(out) != len(inlines) else inlines

    joined: Document = map_inlines(document, change)
    return joined


def _is_joined(inlines: Inlines) -> bool:
    """Whether no two neighbours say the same, and no run is empty."""
    last: Run | None = None
    for inline in inlines:
        if type(inline) is not Run:
            last = None
            continue
        if inline.start >= inline.end:
            return False
        if last is not None and last.end == inline.start and _joins(last, inline):
            return False
        last = inline
    return True


def _joins(last: Run, new: Run) -> bool:
    same = (last.typeform, last.lang, last.voice) == (new.typeform, new.lang, new.voice)
    return same and last.end == new.start and type(last) is type(new)


def keep_words_whole(document: Document, findings: Findings, where: str = "before") -> Document:
    """Move a print page turn out of the middle of a word: to the word's end, so that it stays on
    the page ``before``, or to its beginning (BF 1.11; not confirmed, so a row of the convention).

    Needs joined runs.
    """
    ledger = document.ledger
    move = _before_word if where == "after" else _after_word

    def change(inlines: Inlines) -> Inlines:
        if PrintPageTurn not in map(type, inlines):
            return inlines
        out = inlines
        for at, inline in enumerate(inlines):
            if isinstance(inline, PrintPageTurn):
                moved = move(out, at, ledger)
                if moved is not out:
                    before = out[at - 1]
                    if isinstance(before, Run):
                        findings.add(
                            "read.turn-inside-word",
                            (before.end - 1, before.end),
                            page=inline.label or "unnumbered",
                            where=where,
                        )
                    out = moved
        return out

    moved: Document = map_inlines(document, change)
    return document if moved is document else join_runs(moved, findings)


def _halves(inlines: Inlines, at: int, text: str) -> tuple[Run, Run] | None:
    """The runs before and after a turn that stands inside a word."""
    if not 0 < at < len(inlines) - 1:
        return None
    before, after = inlines[at - 1], inlines[at + 1]
    if not (isinstance(before, Run) and isinstance(after, Run)):
        return None
    inside = text[before.end - 1 : before.end].isalnum() and text[after.start].isalnum()
    return (before, after) if inside else None


def _before_word(inlines: Inlines, at: int, ledger: Ledger) -> Inlines:
    halves = _halves(inlines, at, ledger.text)
    if halves is None:
        return inlines
    before, _ = halves
    cut = before.end
    while cut > before.start and not ledger.text[cut - 1].isspace():
        cut -= 1
    rest = (replace(before, end=cut),) if cut > before.start else ()
    head = replace(before, start=cut)
    return (*inlines[: at - 1], *rest, inlines[at], head, *inlines[at + 1 :])


def _after_word(inlines: Inlines, at: int, ledger: Ledger) -> Inlines:
    text = ledger.text
    halves = _halves(inlines, at, text)
    if halves is None:
        return inlines
    _, after = halves
    cut = after.start
    while cut < after.end and not text[cut].isspace():
        cut += 1
    rest = (replace(after, start=cut),) if cut < after.end else ()
    head = replace(after, end=cut)
    return (*inlines[:at], head, inlines[at], *rest, *inlines[at + 2 :])

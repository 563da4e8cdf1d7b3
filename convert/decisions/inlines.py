"""Changes to a stretch of a block's inlines; print page turns always stay."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from ..document.nodes import (
    TRANSCRIBER_NOTE,
    Added,
    AnswerSpace,
    Inline,
    Inlines,
    PrintPageTurn,
    Run,
)
from ..findings import Span

Change = Callable[[Inlines], Inlines]


def cut(inlines: Inlines, span: Span) -> Iterator[tuple[Inline, bool]]:
    """The inlines, runs cut at the ends of a stretch; and whether each is wholly inside it."""
    low, high = span
    for inline in inlines:
        start, end = getattr(inline, "start", None), getattr(inline, "end", None)
        if start is None or end is None:
            yield inline, False
        elif not isinstance(inline, Run):
            yield inline, low <= start and end <= high and start < high
        else:
            for a, b in ((start, min(end, low)), (max(start, low), min(end, high))):
                if a < b:
                    yield replace(inline, start=a, end=b), a >= low
            if max(start, high) < end:
                yield replace(inline, start=max(start, high)), False


def change_runs(span: Span, change: Callable[[Run], Run]) -> Change:
    """The runs of a stretch changed, for example their language."""

    def apply(inlines: Inlines) -> Inlines:
        return tuple(
            change(inline) if inside and isinstance(inline, Run) else inline
            for inline, inside in cut(inlines, span)
        )

    return apply


def leave_out(span: Span, gone: list[Span], instead: Inlines = ()) -> Change:
    """A stretch left out; ``gone`` takes what was, ``instead`` stands in its place."""

    def apply(inlines: Inlines) -> Inlines:
        out: list[Inline] = []
        put = False
        for inline, inside in cut(inlines, span):
            if not inside:
                out.append(inline)
                continue
            gone.append((inline.start, inline.end))  # type: ignore[union-attr]
            if not put:
                out.extend(_like(new, inline) for new in instead)
                put = True
        return tuple(out)

    return apply


def _like(new: Inline, old: Inline) -> Inline:
    """Added words in the typeform of the print they stand for."""
    bits = getattr(old, "typeform", 0)
    return replace(new, typeform=new.typeform | bits) if isinstance(new, Added) else new


def answer_space(span: Span, kind: str, number: int = 1) -> Change:
    """A stretch of print as room for an answer, which covers it; ``number`` of them, with a space
    between each two."""
    start, end = span
    more = (Added(" "), AnswerSpace(end, end, kind)) * (number - 1)
    return leave_out(span, [], (AnswerSpace(start, end, kind), *more))


def put_in(offset: int, new: Inlines) -> Change:
    """Inlines put in where a character of the ledger stands, once."""

    def apply(inlines: Inlines) -> Inlines:
        out: list[Inline] = []
        put = False
        for inline, _ in cut(inlines, (offset, offset + 1)):
            if not put and getattr(inline, "start", -1) >= offset:
                out.extend(new)
                put = True
            out.append(inline)
        return tuple(out) if put else (*out, *new)

    return apply


def restored(text: str, run: Run) -> Change:
    """A run put back where it was left out, in the place of words that were read instead."""

    def apply(inlines: Inlines) -> Inlines:
        out: list[Inline] = []
        for at, inline in enumerate(inlines):
            if not isinstance(inline, Added) or not _replaces(inlines, at, run):
                out.append(inline)
        instead = len(out) < len(inlines)
        return put_in(run.start, (run,) if instead else apart(text, run))(tuple(out))

    return apply


def _replaces(inlines: Inlines, at: int, run: Run) -> bool:
    """Whether added words stand just between what print has before and after a run."""
    left = getattr(inlines[at - 1], "end", -1) if at else run.start
    right = getattr(inlines[at + 1], "start", -1) if at + 1 < len(inlines) else run.end
    return left == run.start and right == run.end


def apart(text: str, run: Run) -> Inlines:
    """A run that is put between others, with a space where words would join."""
    before = text[max(0, run.start - 2) : run.start].rstrip("\n")[-1:]
    after = text[run.end : run.end + 2].lstrip("\n")[:1]
    left = before.isalnum() and text[run.start].isalnum()
    right = after.isalnum() and text[run.end - 1].isalnum()
    space: Inlines = (Added(" "),)
    return (*space * left, run, *space * right)


def note_in_line(offset: int, text: str, before: bool) -> Change:
    """A transcriber's note in a line, with a space between it and the print beside it."""
    note, space = Added(text, TRANSCRIBER_NOTE), Added(" ")
    return put_in(offset, (note, space) if before else (space, note))


def page_turn(old: PrintPageTurn, label: str | None, keep: bool) -> Change:
    """A print page turn with another label, or none at all."""

    def apply(inlines: Inlines) -> Inlines:
        new = (PrintPageTurn(label),) if keep else ()
        return tuple(x for inline in inlines for x in (new if inline is old else (inline,)))

    return apply

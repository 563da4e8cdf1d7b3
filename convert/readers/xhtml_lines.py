"""Verse lines to levels, stanzas and line numbers; speeches of plays."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, NamedTuple

from ..document.nodes import (
    Inlines,
    LineNumber,
    Paragraph,
    PrintPage,
    Run,
    Speech,
    TableEntry,
    TableRow,
    Verse,
    VerseLine,
)
from .open_text import SPACE, texts
from .plans import local_name
from .walked import OpenLine
from .xhtml import Handler, Here, Walker


class OpenNumber(NamedTuple):
    """A line number printed beside a line of verse that is still being read."""

    runs: Inlines
    stanza: tuple[int, int]
    address: str


LONGEST = 8  # Characters of a line number, "[1205]" or "12a"; common practice, no source.


def line_number(walker: Walker, here: Here) -> None:
    """The number print has beside a line (BF 15): it is kept for the margin.

    A ``linenum`` that is no number is kept in the ledger and left out, which is told; what is a
    line number only by its class or term then stays where it stands."""
    words = "".join(raw for _, raw, _ in texts(here.element, here.path)).strip(SPACE)
    around = walker.around
    in_line = around.verse and around.make[0] == "line"
    waits = bool(walker.out) and isinstance(walker.out[-1], OpenNumber)
    number = 0 < len(words) <= LONGEST and len(words.split()) == 1
    if in_line and not waits and number:
        _keep_number(walker, here)
    elif number and not around.verse and around.textual and around.make[0] == "paragraph":
        walker.text.put(LineNumber(*_number_runs(walker, here)), here.path)
        walker.text.bare = True
    elif here.plan.tag == "linenum":
        walker.omit(here, "read.line-number")
    else:
        walker.inside(here)


def numbered_prose(walker: Walker, here: Here) -> bool:
    """Read a ``line`` of a paragraph of which some line has a ``linenum`` of DTBook: it is a line
    of that paragraph; tells whether it was one."""
    above = here.element.getparent()
    if above is None or walker.around.verse or not walker.around.textual:
        return False
    beside = (child for line in above.iterchildren(tag="*") for child in line.iterchildren(tag="*"))
    if not any(local_name(str(child.tag)) == "linenum" for child in beside):
        return False
    walker.text.soft_break()
    walker.inside(here)
    walker.text.soft_break()
    return True


def _number_runs(walker: Walker, here: Here) -> tuple[int, int]:
    """The words of a line number in the ledger, apart from those beside it."""
    walker.ledger.end_block()
    start = walker.ledger.length
    for _, raw, where in texts(here.element, here.path):
        if words := raw.strip(SPACE):
            lead = len(raw) - len(raw.lstrip(SPACE))
            walker.ledger.add(words, walker.part, where, lead)
    end = walker.ledger.length
    walker.ledger.end_block()
    return start, end


def _keep_number(walker: Walker, here: Here) -> None:
    walker.ledger.end_block()
    runs: list[Run] = []
    for _, raw, where in texts(here.element, here.path):
        if words := raw.strip(SPACE):
            lead = len(raw) - len(raw.lstrip(SPACE))
            runs.append(Run(*walker.ledger.add(words, walker.part, where, lead)))
    walker.ledger.end_block()
    around = walker.around
    stanza = (around.stanza, around.stanza_paragraph)
    walker.out.append(OpenNumber(tuple(runs), stanza, f"{walker.part}!{here.path}"))


def _numbered(out: list[Any]) -> list[tuple[Any, Inlines]]:
    """Blocks, each with the line number read while it was open; a number whose line has no words
    is a line."""
    done: list[tuple[Any, Inlines]] = []
    number: OpenNumber | None = None
    for block in out:
        if number and isinstance(block, OpenNumber):
            done.append((OpenLine(number.runs, 0.0, number.stanza, number.address), ()))
        if isinstance(block, OpenNumber):
            number = block
        elif number and isinstance(block, OpenLine):
            done.append((block, number.runs))
            number = None
        else:
            done.append((block, ()))
    if number:
        done.append((OpenLine(number.runs, 0.0, number.stanza, number.address), ()))
    return done


def group_lines(out: list[Any], address: str) -> list[Any]:
    """Runs of verse lines as Verse, other blocks left as they are.

    Levels rank the indents that occur in the poem [BF 13: each indent of print is a level].
    A paragraph is a stanza where some paragraph has several lines; else only what the source
    groups is one.
    """
    blocks = _numbered(out)
    lines = [block for block, _ in blocks if isinstance(block, OpenLine)]
    if not lines:
        return out
    ranks = {indent: at for at, indent in enumerate(sorted({line.indent for line in lines}), 1)}
    pairs = [line.stanza for line in lines]
    by_paragraph = len(set(pairs)) < len(pairs)
    done: list[Any] = []
    group: list[Any] = []
    stanzas: dict[Any, int] = {}
    for block, beside in [*blocks, (None, ())]:
        if isinstance(block, OpenLine):
            key = block.stanza if by_paragraph else block.stanza[0]
            number = stanzas.setdefault(key, len(stanzas) + 1)
            group.append(
                VerseLine(
                    runs=block.runs,
                    level=ranks[block.indent],
                    stanza=number,
                    address=block.address,
                    number=beside,
                )
            )
        elif isinstance(block, PrintPage) and group:
            group.append(block)
        else:
            if group:
                where = address if not done else f"{address}:{len(done)}"
                done.append(Verse(children=tuple(group), address=where))
                group = []
            if block is not None:
                done.append(block)
    return done


def speaker(walker: Walker, here: Here) -> None:
    """The name of a speaker: at the start of a paragraph, set off by a stop, it makes a speech."""
    text, around = walker.text, walker.around
    plain = around.textual and around.make[0] == "paragraph"
    if text.runs or not plain or walker.speaker or not _opens_speech(here):
        walker.inside(here)
        return
    walker.inside(here)
    runs, first = text.take()
    if not runs:
        return
    walker.ledger.end_block()
    walker.speaker = (runs, walker.address or f"{walker.part}!{first}")
    walker.address = ""


_STOPS = (".", ":", "—", "–", "(", "[")


def _opens_speech(here: Here) -> bool:
    """Whether the name is the first thing of its paragraph and a stop sets it off."""
    element = here.element
    above = element.getparent()
    if above is None or element.getprevious() is not None or (above.text or "").strip():
        return False
    tail = (element.tail or "").strip()
    name = "".join(str(t) for t in element.itertext()).strip()
    if local_name(str(above.tag)) != "p" or not name or not (tail or element.getnext() is not None):
        return False
    return name.endswith(_STOPS) or tail.startswith(_STOPS)


def speeches(rows: list[Any], personas: set[str]) -> list[Any]:
    """The rows of a table that sets a play: speaker in one entry, words in the next."""
    done: list[Any] = []
    for row in rows:
        if not isinstance(row, TableRow):
            done.append(row)
            continue
        who = next((e for e in row.entries if e.address in personas and _is_name(e)), None)
        rest = [b for e in row.entries if e is not who for b in e.children]
        if who is not None:
            done.append(
                Speech(
                    speaker=_inlines(who),
                    children=tuple(rest),
                    address=row.address,
                )
            )
        else:
            done.extend(
                replace(b, role="stage-direction") if isinstance(b, Paragraph) else b for b in rest
            )
    return done


def _is_name(entry: TableEntry) -> bool:
    """Whether an entry holds words only, as the name of a speaker is."""
    return bool(entry.children) and all(isinstance(b, Paragraph) for b in entry.children)


def _inlines(entry: TableEntry) -> tuple[Any, ...]:
    return tuple(run for b in entry.children if isinstance(b, Paragraph) for run in b.runs)


HANDLERS: dict[str, Handler] = {"speaker": speaker, "line-number": line_number}

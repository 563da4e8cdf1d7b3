"""Decisions and what became of them: plain values, for the pipeline, the report and the command."""

from __future__ import annotations

from dataclasses import dataclass

from ..findings import Span

Argument = str | int | bool | tuple[str, ...]

# What a block is, in the words of a decision: the name of its class in the tree.
WHAT = {
    "box": "Box",
    "heading": "Heading",
    "item": "ListItem",
    "line": "VerseLine",
    "list": "ListBlock",
    "note": "Footnote",
    "paragraph": "Paragraph",
    "picture": "Graphic",
    "quotation": "Displayed",
    "section": "Section",
    "speech": "Speech",
    "table": "Table",
    "verse": "Verse",
}

# What can become of a decision.
STATES = {
    "applied": "applied where it was written for",
    "followed": "applied where its print stands now",
    "accepted": "a finding is accepted",
    "stale": "not applied: its print was not found",
    "unused": "not applied: it changes nothing",
    "overridden": "not applied: a later layer decides otherwise",
}


@dataclass(frozen=True, slots=True)
class Decision:
    """One ``[[decision]]`` table of a job file.

    ``at`` is an address: of a block (``part!/steps``) or, with a character offset
    (``part!/steps:char``), of a stretch of print that reads ``expect``.  ``near`` is some print
    before and after it, ``what`` the kind of block meant where several begin with the same
    print (``WHAT``).  Without ``follow`` it applies at its address alone, as other places read
    just so.  ``answers`` is the id of a finding without a place that it settles.  ``layer`` is the
    name of the file, ``line`` its line there, ``rank``
    the place of that file among the layers (a later one wins).
    """

    verb: str
    at: str = ""
    expect: str = ""
    near: tuple[str, str] = ("", "")
    what: str = ""
    answers: str = ""
    follow: bool = True
    everywhere: bool = False
    arguments: tuple[tuple[str, Argument], ...] = ()
    why: str = ""
    by: str = ""
    layer: str = ""
    line: int = 0
    rank: int = 0
    locked: bool = False

    def get(self, name: str, default: Argument = "") -> Argument:
        """The value of an argument."""
        return dict(self.arguments).get(name, default)

    def word(self, name: str, default: str = "") -> str:
        """The value of an argument that is words."""
        return str(self.get(name, default))

    @property
    def place(self) -> str:
        """Where a person finds it: the file and the line."""
        return f"{self.layer}, line {self.line}" if self.line else self.layer


@dataclass(frozen=True, slots=True)
class Record:
    """A decision as the report shows it.

    ``state`` is a word of ``STATES``; ``note`` says in a sentence what happened where it needs
    saying; ``spans`` are the stretches of the ledger it concerned; ``settled`` the ids of the
    findings it settled.
    """

    verb: str
    at: str
    expect: str
    why: str
    by: str
    layer: str
    line: int
    state: str
    everywhere: bool = False
    arguments: tuple[tuple[str, Argument], ...] = ()
    note: str = ""
    spans: tuple[Span, ...] = ()
    settled: tuple[str, ...] = ()


def is_whole(decision: Decision) -> bool:
    """Whether a decision is for the whole document: everywhere, and no print is named."""
    return decision.everywhere and not decision.expect and decision.verb != "accept"


def record_of(
    decision: Decision, state: str, note: str = "", spans: tuple[Span, ...] = ()
) -> Record:
    """The record of a decision."""
    d = decision
    return Record(
        d.verb, d.at, d.expect, d.why, d.by, d.layer, d.line, state, d.everywhere, d.arguments,
        note, spans,
    )  # fmt: skip

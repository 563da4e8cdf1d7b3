"""Cleaning passes: words in are words out and what is listed; each is switched by its name."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import convert
from convert.cleaning import clean, names
from convert.document.ledger import LedgerBuilder
from convert.document.nodes import (
    Block,
    Document,
    Inline,
    LineBreak,
    ListBlock,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Run,
    text_of,
    walk,
)
from convert.errors import JobError
from convert.findings import Findings
from convert.job import settings_options
from convert.testing import uncovered
from tests.readers.make import epub

ALL = tuple(f"+{name}" for name in names())


def made(*blocks: str | tuple[object, ...] | PrintPage) -> Document:
    """Paragraphs from strings (or strings with breaks and turns between), and page turns."""
    builder = LedgerBuilder()
    children: list[Block] = []
    for at, block in enumerate(blocks):
        if isinstance(block, PrintPage):
            children.append(block)
            continue
        runs: list[Inline] = []
        for part in (block,) if isinstance(block, str) else block:
            if isinstance(part, str):
                runs.append(Run(*builder.add(part, "c.xhtml", f"/{at}")))
            else:
                runs.append(part)  # type: ignore[arg-type]
                if isinstance(part, LineBreak):
                    builder.end_block()
        builder.end_block()
        children.append(Paragraph(runs=tuple(runs), address=f"c.xhtml!/{at}"))
    return Document(ledger=builder.build(), children=tuple(children))


def cleaned(document: Document, *said: str) -> tuple[list[str], list[str]]:
    """The words of each paragraph after cleaning, and the kinds of the findings."""
    findings = Findings()
    after = clean(document, said, findings)
    assert uncovered(after) == []
    shown = [
        "".join(
            "|" if isinstance(run, PrintPageTurn) else text_of((run,), after.ledger)
            for run in node.runs
        )
        for node in walk(after)
        if isinstance(node, Paragraph)
    ]
    return shown, sorted({finding.kind for finding in findings.all()})


CASES: dict[str, tuple[tuple[object, ...], tuple[str, ...], list[str], list[str]]] = {
    "characters without ink": (
        ("se\u200ba \ufefftide\u2060s \u202elow\u202c",), (), ["sea tides low"], ["clean.invisible"]
    ),
    "joiners that some scripts need stay": (("क्\u200dष",), (), ["क्\u200dष"], []),
    "soft hyphens": (("exam\u00adple",), (), ["example"], ["clean.soft-hyphens"]),
    "a pass switched off": (("exam\u00adple",), ("-soft-hyphens",), ["exam\u00adple"], []),
    "a word cut at a line end that stands whole elsewhere": (
        ("An exam- ple, an example.",), (), ["An example, an example."], ["clean.line-end-hyphens"]
    ),
    "a word cut at a line end of verse": (
        (("The har-", LineBreak(), "bour wall."), "One harbour"),
        (), ["The harbour wall.", "One harbour"], ["clean.line-end-hyphens"],
    ),
    "a word that stands whole nowhere is only told": (
        ("An exam- ple.",), (), ["An exam- ple."], ["clean.maybe-divided"]
    ),
    "a compound that is written both ways is only told": (
        ("A tide- way, the tide-way, the tideway.",), (),
        ["A tide- way, the tide-way, the tideway."], ["clean.maybe-divided"],
    ),
    "a hyphen that hangs on purpose": (
        ("pre- and post-war, preand",), (), ["pre- and post-war, preand"], []
    ),
    "a part of a word that is spoken of": (
        ("Macro- means large, pariet- refers to a wall.",), (),
        ["Macro- means large, pariet- refers to a wall."], [],
    ),
    "words that end as the verbs after a part of a word": (
        ("It de- means him.",), (), ["It de- means him."], ["clean.maybe-divided"]
    ),
    "a word cut by the turn of a page": (
        (("An exam-", PrintPageTurn("7"), "ple, an example."),), (),
        ["An exam|ple, an example."], ["clean.split-words"],
    ),
    "double quotation marks typed as two single ones": (
        ("He said ``no'' and ‘‘yes’’.",), (), ["He said “no” and “yes”."], ["clean.quotation-marks"]
    ),
    "an apostrophe after a closing mark is none": (("the boys'' x",), (), ["the boys'' x"], []),
    "dashes are told unless asked for": (("So -- no",), (), ["So -- no"], ["clean.maybe-dash"]),
    "dashes asked for": (("So -- no",), ("+dashes",), ["So — no"], ["clean.dashes"]),
    "dashes settled": (("So -- no",), ("-dashes",), ["So -- no"], []),
    "rules and arrows are no dashes": (("---- --> <--",), ("+dashes",), ["---- --> <--"], []),
    "feet and inches are told": (("5' 6\" high",), (), ["5' 6\" high"], ["clean.maybe-prime"]),
    "feet and inches asked for": (
        ("5' 6\" high",), ("+primes",), ["5′ 6″ high"], ["clean.primes"]
    ),
    "running heads beside three turns": (
        ("TIDES 1", PrintPage(label="2"), "a", "Tides 2", PrintPage(label="3"), "b",
         PrintPage(label="4"), "Tides 4", "Tides rise"),
        ("+running-heads",), ["a", "b", "Tides rise"], ["clean.running-heads"],
    ),
    "a line that repeats in the text as well is no running head": (
        ("Oh", PrintPage(label="2"), "a", "Oh", PrintPage(label="3"), "Oh", "Oh", "x", "Oh", "y",
         "Oh", "Oh"),
        ("+running-heads",), ["Oh", "a", "Oh", "Oh", "Oh", "x", "Oh", "y", "Oh", "Oh"], [],
    ),
    "page numbers left in the text": (
        (PrintPage(label="2"), "2", "a", PrintPage(label="3"), "- 3 -", "b", PrintPage(label="iv"),
         "iv", "7"),
        ("+page-numbers",), ["a", "b", "7"], ["clean.page-numbers"],
    ),
    "two page numbers are too few": (
        (PrintPage(label="2"), "2", "a", PrintPage(label="3"), "3"),
        ("+page-numbers",), ["2", "a", "3"], [],
    ),
}  # fmt: skip


@pytest.mark.parametrize("title", CASES)
def test_what_is_cleaned_and_told(title: str) -> None:
    blocks, said, shown, told = CASES[title]
    assert cleaned(made(*blocks), *said) == (shown, told)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("marks", "kind"),
    [
        (("1. ", "2. ", "3. "), "numbered"),
        (("(a) ", "(b) ", "(c) "), "numbered"),
        (("• ", "• ", "• "), "bulleted"),
    ],
)
def test_lists_typed_by_hand(marks: tuple[str, ...], kind: str) -> None:
    document = made("Bring:", *(f"{mark}rope" for mark in marks), "Go.")
    findings = Findings()
    after = clean(document, ("+typed-lists",), findings)
    (found,) = [block for block in after.children if isinstance(block, ListBlock)]
    assert (found.kind, len(found.children), len(after.children)) == (kind, 3, 3)
    assert [f.kind for f in findings.all()] == ["clean.typed-lists"]
    assert uncovered(after) == []
    assert clean(document, (), Findings()).children == document.children


@pytest.mark.parametrize("marks", [("1. ", "3. ", "4. "), ("2. ", "3. ", "4. "), ("1. ", "2. ")])
def test_what_is_no_list(marks: tuple[str, ...]) -> None:
    document = made(*(f"{mark}rope" for mark in marks))
    assert clean(document, ALL, Findings()).children == document.children


PARTS = st.sampled_from(
    ["sea ", "exam-", "ple ", "example ", "\u00ad", "\u200b", "``a''", " -- ", "5' 6\"", "1. ", "2"]
)
BLOCKS = st.lists(
    st.one_of(
        st.lists(
            st.one_of(PARTS, st.just(LineBreak()), st.just(PrintPageTurn("3"))), min_size=1
        ).map(tuple),
        st.just(PrintPage(label="2")),
    ),
    min_size=1,
    max_size=8,
)


@settings(max_examples=150, deadline=None)
@given(BLOCKS)
def test_every_character_is_in_the_tree_or_listed(blocks: list[object]) -> None:
    document = made(*blocks)  # type: ignore[arg-type]
    before = Counter(document.ledger.text)
    after = clean(document, ALL, Findings())
    assert uncovered(after) == []
    assert Counter(after.ledger.text) == before


def test_a_wrong_name_is_said_with_the_nearest() -> None:
    with pytest.raises(JobError, match="soft-hyphens"):
        settings_options({"clean": ["-soft-hyphen"]})
    with pytest.raises(JobError, match="switches no cleaning"):
        settings_options({"clean": "soft-hyphens"})
    assert settings_options({"clean": "-soft-hyphens, +dashes"}) == {
        "clean": ("-soft-hyphens", "+dashes")
    }


def test_the_whole_way_nothing_is_lost(tmp_path: Path) -> None:
    body = "<p>An exam- ple \u00ad of se\u200ba ``so''; an example -- 5' 6\"</p><h1>\u00ad</h1>"
    edition = convert.convert(epub(tmp_path, body), code="ueb-uncontracted", clean=ALL)
    assert (edition.totals.lost, edition.totals.doubled) == (0, 0)

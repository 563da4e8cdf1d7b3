"""Whatever is decided, every print character stands in the tree once or is left out by name."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.decisions.apply import decide
from convert.decisions.index import Index, stretches
from convert.decisions.record import STATES, Decision
from convert.document.nodes import Document, walk
from convert.document.tidy import tidy
from convert.findings import Findings
from convert.layout.flow import flow
from convert.settings import Settings
from tests.decisions.case import converted
from tests.layout.test_flow_whole import Maker
from tests.layout.trees import bf2016

_ROLES = (
    "paragraph", "direction", "quotation", "box", "list", "exercise", "verse", "plain",
    "table-to-read", "text-by-rows", "text-by-columns",
)  # fmt: skip


class Decider:
    """Makes random decisions for a document; the seed decides."""

    def __init__(self, document: Document, random: Random) -> None:
        self.index = Index(document)
        self.random = random
        self.nodes = [node for node in self.index.order if getattr(node, "address", "")]

    def decisions(self, number: int) -> list[Decision]:
        return [self.one(line) for line in range(1, number + 1)]

    def one(self, line: int) -> Decision:
        verb, arguments, more = self.random.choice(self.verbs())
        node = self.random.choice(self.nodes) if self.nodes else None
        place: dict[str, Any] = {"at": "nowhere", "expect": "x"}
        if more:
            place = {"expect": self.random.choice(("sea", "salt", "Air", "NAME"))}
        elif node is not None:
            place = {"at": node.address, "expect": self.index.words(node, 20)}
        return Decision(
            verb, arguments=arguments, why="x", layer="a", line=line, rank=line, **place, **more
        )

    def verbs(self) -> list[tuple[str, tuple[tuple[str, Any], ...], dict[str, Any]]]:
        goal = self.random.choice(self.nodes) if self.nodes else None
        to = goal.address if goal is not None else "nowhere"
        beside = self.index.words(goal, 20) if goal is not None else "x"
        where = self.random.choice(("before", "after"))
        everywhere = {"everywhere": True}
        role = self.random.choice(_ROLES)
        return [
            ("omit", (), {}),
            ("omit", (), {}),
            ("heading", (("level", 2),), {}),
            ("treat-as", (("role", role),), {}),
            ("treat-as", (("role", role),), {}),
            ("insert-note", (("text", "note"), ("where", where)), {}),
            ("move", (("to", to), ("beside", beside), ("where", where)), {}),
            ("move", (("to", to), ("beside", beside), ("where", where)), {}),
            ("describe", (("text", "words"),), {}),
            ("decorative", (), {}),
            ("print-page", (("label", "9"),), {}),
            ("language", (("lang", "fr"),), everywhere),
            ("typeform", (("how", "drop"), ("form", ("bold",))), everywhere),
            ("print", (("text", "X"),), everywhere),
            ("read", (("as", "letters"),), everywhere),
        ]


def standing(document: Document) -> Counter[int]:
    """How often each visible print character stands in the tree."""
    text = document.ledger.text
    return Counter(
        at
        for node in walk(document)
        for start, end in stretches(node)
        for at in range(start, end)
        if not text[at].isspace()
    )


@settings(max_examples=400, deadline=None)
@given(st.integers(0, 2**32))
def test_every_character_stands_once_or_is_left_out_by_name(seed: int) -> None:
    maker = Maker(seed)
    blocks = tuple(maker.block(3) for _ in range(maker.number(1, 5)))
    findings = Findings()
    document = tidy(maker.trees.document(*blocks), findings)
    made = Decider(document, Random(seed)).decisions(maker.number(1, 6))
    decided = decide(document, made, findings)
    omitted = {at for o in decided.document.omissions for at in range(o.start, o.end)}
    before, after = standing(document), standing(decided.document)
    assert not {at for at, times in after.items() if times > before[at]}, "doubled"
    assert not set(before) - set(after) - omitted, "lost"
    assert {row.state for row in decided.rows} <= set(STATES)
    assert list(decided.document.choices) == sorted(decided.document.choices)
    flow(decided.document, bf2016(), Settings(), findings)


BODY = (
    "<h1>Sea</h1><p>One <b>bold</b> word.</p><aside><h2>Aside</h2><p>Matter.</p></aside>"
    "<ol><li>first</li><li>second <i>item</i></li></ol>"
    '<figure><img src="map.png" alt="A map"/><figcaption>Map 1</figcaption></figure>'
    "<table><tr><th>a</th><th>b</th></tr><tr><td>c</td><td>d</td></tr></table>"
    '<p>Name: ____ and <span epub:type="pagebreak" title="7"/>more.</p>'
    '<p>A note.<a epub:type="noteref" href="#n">1</a></p>'
    '<aside epub:type="footnote" id="n"><p>1 The note.</p></aside>'
)


@pytest.mark.parametrize("seed", range(12))
def test_whole_editions_lose_nothing(tmp_path: Path, seed: int) -> None:
    from convert.job import Job
    from convert.pipeline import convert_source, settings_from
    from tests.decisions.case import OPTIONS
    from tests.readers.make import epub

    plain = converted(tmp_path, BODY)
    made = Decider(plain.document, Random(seed)).decisions(5)
    source = epub(tmp_path, BODY)
    edition = convert_source(source, settings_from(**OPTIONS), job=Job(decisions=tuple(made)))
    assert edition.totals.lost == 0
    assert edition.totals.doubled == 0

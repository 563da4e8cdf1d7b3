"""A decision an offer made never lands on another paragraph, whatever edit the source had.

Paragraphs are made of few words, so that many read alike; each keeps its number through the edit.
One that reads the same word for word, among the same neighbours, nobody could tell apart.
"""

from __future__ import annotations

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from convert.decisions.anchor import find
from convert.decisions.index import Index
from convert.decisions.offers import Offers
from convert.decisions.record import Decision
from convert.document.ledger import LedgerBuilder
from convert.document.nodes import Document, Paragraph, Run

Numbered = list[tuple[int, str]]


def document(paragraphs: Numbered) -> Document:
    """The paragraphs as a reader gives them: addresses count elements."""
    ledger = LedgerBuilder()
    blocks = []
    for at, (_, text) in enumerate(paragraphs, 1):
        span = ledger.add(text, "a.xhtml", f"/4/{2 * at}/1")
        ledger.end_block()
        blocks.append(Paragraph(runs=(Run(*span),), address=f"a.xhtml!/4/{2 * at}"))
    return Document(ledger=ledger.build(), children=tuple(blocks))


def made(random: Random, number: int) -> str:
    words = [random.choice(("sea", "salt", "tide", "lead", "wind")) for _ in range(number)]
    return f"{' '.join(words)}."


def edited(random: Random, before: Numbered) -> Numbered:
    """One to three edits: a paragraph put in, taken out, doubled, reworded, or moved."""
    after = list(before)
    for _ in range(random.randint(1, 3)):
        at = random.randrange(len(after) + 1)
        kind = random.choice(("in", "out", "double", "word", "move"))
        if kind == "in":
            after.insert(at, (-1, made(random, random.randint(1, 9))))
        elif after and at < len(after):
            number, text = after[at]
            if kind == "out":
                del after[at]
            elif kind == "double":
                after.insert(at, (-1, text))
            elif kind == "word":
                after[at] = (number, text.replace(random.choice(text.split()), "new", 1))
            else:
                after.insert(random.randrange(len(after)), after.pop(at))
    return after or [(-1, "nothing.")]


@settings(max_examples=1500, deadline=None)
@given(st.integers(0, 2**32))
def test_a_decision_stays_with_its_paragraph(seed: int) -> None:
    random = Random(seed)
    before = [(n, made(random, random.randint(1, 9))) for n in range(random.randint(2, 9))]
    old = document(before)
    index = Index(old)
    paragraph = random.choice(old.children)
    start, end = index.extent[id(paragraph)]
    word = random.choice(old.ledger.text[start : end - 1].split())
    at = old.ledger.text.index(word, start)
    row = Offers(old)._print((at, at + len(word)), "", False)
    assert row is not None
    near = row["near"]
    assert isinstance(near, tuple)
    decision = Decision(
        "print", str(row["at"]), word, (near[0], near[1]), follow=bool(row.get("follow", True))
    )
    assert find(decision, index).state == "applied"
    after = edited(random, before)
    new = document(after)
    found = find(decision, Index(new))
    if not found.targets:
        return
    (target,) = found.targets
    number, text = after[new.children.index(target.node)]
    mine = old.children.index(paragraph)
    assert number == mine or text == before[mine][1], (before, after, decision)

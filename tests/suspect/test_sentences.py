"""Labelled sentences: what sends the reader to a colour, a picture or a typeform, and what not."""

from __future__ import annotations

import pytest

from convert.document.ledger import LedgerBuilder
from convert.document.nodes import Document, Paragraph, Run
from convert.findings import Findings
from convert.suspect import suspect

COLOUR = (
    "Write your answers in red.",
    "The words in blue are new.",
    "Pull the red wire first.",
    "Follow the blue line to the harbour.",
    "Key terms are printed in green.",
    "Read what stands in the yellow box.",
    "Colour the boat red.",
    "Names shown in orange are of rivers.",
    "The red arrow shows the wind.",
    "The verbs are in red type.",
)
PICTURE = (
    "Look at the picture on the right.",
    "The boat shown above is old.",
    "Use the map to answer.",
    "Study the diagram.",
    "The figure below has four sides.",
    "As pictured at the left, it leans.",
    "Label the diagram with these words.",
    "The chart opposite gives the tides.",
    "What do you see in the picture?",
    "The photo on the next page is from 1910.",
)
TYPEFORM = (
    "The words in bold are explained.",
    "Find the meaning of each underlined word.",
    "Say the highlighted words aloud.",
    "Titles are set in italics.",
    "Copy the underlined sentences.",
)
PLAIN = (
    "She wore a red coat in the rain.",
    "The sea was blue and the sails were white.",
    "A yellow dog ran in the street.",
    "They found the green hills again.",
    "He was a bold man.",
    "He drew a map and lost it.",
    "They went in the direction of the harbour.",
    "The picture was sold in May.",
    "She was shown the house.",
    "Turn left at the mill, then go below deck.",
    "The brown bread was on the table.",
    "I can figure it out.",
    "Mr McDonald has an iPhone and a PhD.",
    "The 1950s saw 15 ships, the 2nd of them at 5 p.m. on the 11th.",
    "Read chapter 12, verses 3 to 5.",
    "A co-op, a re-entry and a well-known man.",
    "We paid $5,000.50 for 3.5 m of rope.",
    "A modern stern and a warm arm on the farm corner.",
)


def kinds(*sentences: str) -> list[set[str]]:
    """The kinds of doubts about each sentence, as a document of its own."""
    out = []
    for sentence in sentences:
        ledger = LedgerBuilder()
        start, end = ledger.add(sentence, "c1.xhtml", "/4/2")
        document = Document(ledger=ledger.build(), children=(Paragraph(runs=(Run(start, end),)),),
                            print_pages=("1",))  # fmt: skip
        findings = Findings()
        suspect(document, findings)
        out.append({finding.kind for finding in findings.all()})
    return out


@pytest.mark.parametrize(
    ("kind", "sentences"),
    [("suspect.colour-words", COLOUR), ("suspect.picture-words", PICTURE),
     ("suspect.emphasis-words", TYPEFORM)],
)  # fmt: skip
def test_nine_of_ten_instructions_are_found(kind: str, sentences: tuple[str, ...]) -> None:
    found = [kind in raised for raised in kinds(*sentences)]
    missed = [s for s, hit in zip(sentences, found, strict=True) if not hit]
    assert sum(found) >= 0.9 * len(found), missed


@pytest.mark.parametrize("sentence", PLAIN)
def test_plain_sentences_raise_nothing(sentence: str) -> None:
    assert kinds(sentence) == [set()]

"""Bibliographies (BF 22): entries 1-3, no blank lines between, annotations below their entry."""

from __future__ import annotations

from convert.document.nodes import Block
from convert.layout.flow import flow
from convert.layout.settle import settle
from convert.pipeline import make_translator, measuring, settings_from, translate_items
from tests.draw import text_of
from tests.layout.trees import Trees, bf2016


def drawn(t: Trees, *blocks: Block) -> list[str]:
    """The first page in contracted braille, without the line that ends the volume."""
    document, chosen = t.document(*blocks), settings_from(front_pages=False)
    translator = make_translator(chosen)
    items = flow(
        document, bf2016(), chosen, t.findings, measuring(document, translator, chosen.code)
    )
    translate_items(items, document, translator, t.findings)
    book = settle(items, document, bf2016(), chosen, translator, t.findings)
    lines = [line for line in text_of(book.volumes[0].pages[0]) if line]
    return lines[:-1]


def test_e30_repeated_author() -> None:
    """BF 22.2: the long dash of print stands for the name, dots 5, 6, 3-6."""
    t = Trees()
    entries = t.list(
        "Moss, Ella. The Long Road. Boston: Hill Press.",
        "⸺. The Short Road. Boston: Hill Press.",
        role="bibliography",
    )
    assert drawn(t, entries) == [
        ",moss1 ,ella4 ,! ,l;g ,road4 ,bo/on3",
        "  ,hill ,press4",
        '",-4 ,! ,%ort ,road4 ,bo/on3 ,hill',
        "  ,press4",
    ]


def test_annotations_are_further_paragraphs_of_their_entry() -> None:
    """BF 22.3 (margins by 8.3, not confirmed): first line from cell 5, runovers in cell 3."""
    t = Trees()
    entry = t.item("", "Moss, Ella. The Long Road.", t.p("A walk through the north, and back."))
    lines = drawn(t, t.list(entry, "Pine, Tom. Hills.", role="bibliography"))
    starts = [len(line) - len(line.lstrip()) for line in lines]
    assert starts == [0, 4, 0]

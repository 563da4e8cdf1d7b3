"""Bibliographies and indexes (BF 21, 22): entries 1-3, no blank lines between, annotations below
their entry, letters that divide."""

from __future__ import annotations

from convert.document.nodes import Block, Section
from convert.layout.flow import flow
from convert.layout.settle import settle
from convert.pipeline import make_translator, measuring, settings_from, translate_items
from tests.draw import text_of
from tests.layout.trees import Trees, bf2016


def drawn(t: Trees, *blocks: Block) -> list[str]:
    """The lines of the first page without blank ones and the line that ends the volume."""
    return [line for line in page_of(t, 0, *blocks) if line][:-1]


def page_of(t: Trees, page: int, *blocks: Block) -> list[str]:
    """A page in contracted braille."""
    document, chosen = t.document(*blocks), settings_from(front_pages=False)
    translator = make_translator(chosen)
    items = flow(
        document, bf2016(), chosen, t.findings, measuring(document, translator, chosen.code)
    )
    translate_items(items, document, translator, t.findings)
    book = settle(items, document, bf2016(), chosen, translator, t.findings)
    return text_of(book.volumes[0].pages[page])


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


def test_letters_that_divide_an_index_have_their_sign() -> None:
    """BF 21.2.3, example E29: also A, I and O; a blank line before the first, below a heading of
    any kind."""
    t = Trees()
    index = Section(
        role="index",
        children=(
            t.h(2, "Index"), t.h(3, "A"), t.list("ants, 4", role="index"),
            t.h(3, "B"), t.list("bees, 7", role="index"),
        ),
    )  # fmt: skip
    first = t.h(1, "Book")
    lines = page_of(t, 1, first, t.h(2, "One"), t.p("text"), index)
    assert [line.strip() for line in lines[:6]] == [
        ",9dex", "", ";,a", "ants1 #d", ";,b", "bees1 #g"
    ]  # fmt: skip
    assert lines[0] == "    ,9dex"

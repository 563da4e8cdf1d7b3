"""Entries that the source has as paragraphs are items of a list (BF 21.2, 22.2)."""

from __future__ import annotations

from convert.document.entries import list_entries
from convert.document.nodes import (
    Displayed,
    Document,
    ListBlock,
    ListItem,
    Paragraph,
    PrintPage,
    Section,
    inlines_of,
    text_of,
    walk,
)
from tests.layout.trees import Trees


def shape(document: Document) -> list[str]:
    """Each block with its role; what a list holds stands between its name and ``end``."""

    def lines(node: object) -> list[str]:
        if isinstance(node, ListBlock):
            return [node.role, *(line for kid in node.children for line in lines(kid)), "end"]
        if isinstance(node, ListItem | Section | Document):
            return [line for kid in node.children for line in lines(kid)]
        if isinstance(node, PrintPage):
            return [f"page {node.label}"]
        return [text_of(inlines_of(node), document.ledger)]

    return lines(document)


def test_paragraphs_named_as_entries() -> None:
    """BF 22.2; a print page between two entries parts no list."""
    t = Trees()
    document = t.document(
        t.p("Intro"), t.p("Moss", role="bibliography"), PrintPage(label="9"),
        t.p("Pine", role="bibliography"), t.p("bees, 7", role="index"), t.p("After"),
    )  # fmt: skip
    made = list_entries(document, t.findings)
    assert shape(made) == [
        "Intro", "bibliography", "Moss", "page 9", "Pine", "end", "index", "bees, 7", "end", "After"
    ]  # fmt: skip
    assert all(node.role == "body" for node in walk(made) if isinstance(node, Paragraph))


def test_paragraphs_of_a_bibliography() -> None:
    """BF 22.2: two or more; where entries are named the others are paragraphs."""
    t = Trees()
    bare = Section(role="bibliography", children=(t.p("Moss"), t.p("Pine")))
    alone = Section(role="bibliography", children=(t.p("None."),))
    mixed = Section(
        role="bibliography", children=(t.p("Read these."), t.p("Rose", role="bibliography"))
    )
    assert shape(list_entries(t.document(bare, alone, mixed), t.findings)) == [
        "bibliography", "Moss", "Pine", "end", "None.", "Read these.", "bibliography", "Rose", "end"
    ]  # fmt: skip


def test_a_bibliography_with_a_list_keeps_its_paragraphs() -> None:
    t = Trees()
    entries = t.list("Moss", "Pine", role="bibliography")
    whole = Section(role="bibliography", children=(t.p("One"), t.p("Two"), entries))
    document = t.document(whole)
    assert list_entries(document, t.findings) is document


def test_paragraphs_of_an_index_under_its_letters() -> None:
    """BF 21.4; a letter may have one entry, what is inside a quotation stays as it is."""
    t = Trees()
    parts = [Section(children=(t.h(2, word[0]), t.p(word))) for word in ("ants", "bees")]
    whole = Section(role="index", children=(*parts, Displayed(children=(t.p("x"), t.p("y")))))
    made = shape(list_entries(t.document(whole), t.findings))
    assert made[:8] == ["a", "index", "ants", "end", "b", "index", "bees", "end"]
    assert made[8:] == [""]

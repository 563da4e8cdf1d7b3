"""Checks of pages against the tree of the source: a right page and a wrong one for each."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.check.inspect import inspect_book
from convert.check.pages import load
from convert.document.ledger import LedgerBuilder
from convert.document.nodes import (
    ITALIC,
    Block,
    Box,
    Document,
    Footnote,
    Graphic,
    ListBlock,
    ListItem,
    NoteCall,
    Paragraph,
    Run,
    Table,
    TableEntry,
    TableRow,
    Verse,
    VerseLine,
)

from .drawn import Drawing, failed

END = "\nev|~,! ,5d\n"
PATH = "c.xhtml!/4/2/2/"


class Tree:
    """A small document; its words go into a ledger as they are written."""

    def __init__(self) -> None:
        self.ledger = LedgerBuilder()

    def run(self, words: str, typeform: int = 0) -> Run:
        return Run(*self.ledger.add(words, "c.xhtml", "/4"), typeform=typeform)

    def para(self, at: str, *words: str, lead: int = 0) -> Paragraph:
        runs = tuple(self.run(text, 0 if n else lead) for n, text in enumerate(words))
        self.ledger.end_block()
        return Paragraph(runs=runs, address=PATH + at)

    def item(self, at: str, words: str) -> ListItem:
        return ListItem(children=(self.para("", words),), address=PATH + at)

    def document(self, *children: Block) -> Document:
        return Document(ledger=self.ledger.build(), children=children)


def state(check: str, page: str, document: Document, folder: Path) -> str:
    """What comes of one check on a drawn page and its source."""
    book, _ = load([Drawing(f"= body 1 - -\n{page}{END}").write(folder)])
    book.print_pages, book.document = (), document
    text = document.ledger.text
    if check == "K09":  # The drawn lines stand for all words but those of the last row.
        cut = text.index("rain") if "gone" in page else len(text)
        book.reached = lambda: [(0, cut)]
    return inspect_book(book).state[check]


def paragraphs() -> Document:
    tree = Tree()
    return tree.document(tree.para("1", "One."), tree.para("2", "Two."))


def headed() -> Document:
    tree = Tree()
    return tree.document(tree.para("1", "Trees.", " Oaks grow here.", lead=ITALIC))


def pictured() -> Document:
    tree = Tree()
    return tree.document(Graphic(alt=(), resource="leaf.png", decorative=True), tree.para("1", "A"))


def exercises() -> Document:
    tree = Tree()
    items = (tree.item("e/2", "oak"), tree.item("e/4", "elm"))
    return tree.document(ListBlock(children=items, role="exercise"))


def tables() -> Document:
    tree = Tree()

    def row(*words: str) -> TableRow:
        entries = tuple(
            TableEntry(children=(tree.para("", text),) if text else ()) for text in words
        )
        return TableRow(entries=entries)

    rows = (row("day", "rain"), row("Monday", ""))
    return tree.document(Table(children=rows, address=PATH + "t"))


def linear() -> Document:
    tree = Tree()
    entries = tuple(TableEntry(children=(tree.para("", w),)) for w in ("Monday", "rain", "wind"))
    row = TableRow(entries=entries, address=PATH + "r")
    return tree.document(Table(children=(row,), address=PATH + "t"))


def sidebar() -> Document:
    tree = Tree()
    return tree.document(
        Box(children=(tree.para("1", "An aside"),), role="sidebar", address=PATH + "b")
    )


def poem() -> Document:
    tree = Tree()
    lines = [
        VerseLine(runs=(tree.run(words),), stanza=stanza, address=f"{PATH}v/{at}")
        for words, stanza, at in (("a", 1, 2), ("b", 1, 4), ("c", 2, 6))
    ]
    return tree.document(Verse(children=tuple(lines)))


def numbered_poem() -> Document:
    tree = Tree()
    lines = [
        VerseLine(runs=(tree.run(words),), number=(tree.run("10"),) if at == 2 else (),
                  address=f"{PATH}v/{at}")
        for words, at in (("a and so on", 2), ("b", 4))
    ]  # fmt: skip
    return tree.document(Verse(children=tuple(lines)))


def captioned() -> Document:
    tree = Tree()
    caption = tree.para("c", "The old bridge.")
    return tree.document(Graphic(alt=(), resource="b.png", children=(caption,), address=PATH + "g"))


def noted() -> Document:
    tree = Tree()
    words = tree.run("Oaks")
    call = NoteCall(*tree.ledger.add("1", "c.xhtml", "/4"), target="n1")
    text = Paragraph(runs=(words, call), address=PATH + "1")
    tree.ledger.end_block()
    note = Footnote(
        id="n1", mark=(tree.run("1"),), children=(tree.para("", "Old ones."),), address=PATH + "n"
    )
    return tree.document(text, note)


def index() -> Document:
    tree = Tree()
    return tree.document(ListBlock(children=(tree.item("i/2", "oaks, 12, 40"),), role="index"))


RULES = {
    # 1.9: no blank line between indented paragraphs unless print has a break there.
    "A03": (paragraphs, "p@1|  ,\"o4\np@2|  ,two4\n", "p@1|  ,\"o4\n\np@2|  ,two4\n"),
    # 4.7: a paragraph heading keeps its typeform.
    "H17": (headed, "p@1|  .1,trees4 ,oaks grow \"h4\n", "p@1|  ,trees4 ,oaks grow \"h4\n"),
    # 10.4: choices in print order, one a line.
    "Q03": (
        exercises,
        "ex:2/2@e/2|  a4 oak\nex:2/2@e/4|  ;b4 elm\n",
        "ex:2/2@e/4|  ;b4 elm\nex:2/2@e/2|  a4 oak\n",
    ),
    # 13.4: one blank line between stanzas.
    "Y03": (
        poem,
        "vs:1/1@v/2|a\nvs:1/1@v/4|;b\n\nvs:1/1@v/6|;c\n",
        "vs:1/1@v/2|a\nvs:1/1@v/4|;b\nvs:1/1@v/6|;c\n",
    ),
    # 15.3: a line number on the first braille line of its print line only.
    "Y09": (
        numbered_poem,
        f"vs:1/1@v/2|{'a &':37}#aj\nvs+@v/2|  s on\nvs:1/1@v/4|;b\n",
        f"vs:1/1@v/2|{'a &':37}\nvs+@v/2|{'  s on':37}#aj\nvs:1/1@v/4|;b\n",
    ),
    # 6.2: a caption without an identifier of print has one in a note.
    "I02": (
        captioned,
        "cap@c|      @.<,capn@.> ,! old bridge4\n",
        "cap@c|      ,! old bridge4\n",
    ),
    # 16: every note of print has its place.
    "F03": (noted, "p@1|  ,oaks9#a\nno@n|#a ,old \"os4\n", "p@1|  ,oaks9#a\n"),
    # 21.4: page numbers of an index are those of the source.
    "J07": (index, "ix:1/1@i/2|oaks1 #ab1 #dj\n", "ix:1/1@i/2|oaks1 #ab1 #dh\n"),
    # 12: a blank line above and below a sidebar.
    "X11": (
        sidebar,
        f"p|  ,a\n\nbt@b|{'7' * 40}\np@1|  ,an aside\nbb@b|{'g' * 40}\n",
        f"p|  ,a\nbt@b|{'7' * 40}\np@1|  ,an aside\nbb@b|{'g' * 40}\n",
    ),
    # 6.4: pictures left out are told of on the transcriber's notes page.
    "I06": (pictured, "tpn|  ,pictures >e left \\t4\n", "p|  ,a\n"),
    # 11.2: an empty entry has guide dots, and a note says so.
    "K06": (
        tables,
        "tnn|      @.<,dots4@.>\n\ntac@t|day     ra9\ntac@t|,monday \"\"\"\"\n",
        "tnn|      @.<,dots4@.>\n\ntac@t|day     ra9\ntac@t|,monday\n",
    ),
    # 11.17: one colon after the heading of a linear row, a full stop last.
    "K10": (linear, "ta@r|,monday3 ra92 w9d4\n", "ta@r|,monday3 ra92 w9d\n"),
    # 11: all entries of a table are there.
    "K09": (tables, "tac@t|day     ra9\ntac@t|,monday\n", "tac@t|day     gone\ntac@t|,monday\n"),
}  # fmt: skip


@pytest.mark.parametrize(
    "row", [',monday  """\n', ',monday   """"\n', 'a """"  rose\n'], ids=["short", "late", "led"]
)
def test_guide_dots_fill_the_column_of_an_empty_entry(row: str, tmp_path: Path) -> None:
    """11.2: dots that lead to an entry, or fill a part of the column, show no empty entry."""
    head = 'tnn|      @.<,dots4@.>\n\nth@t|day      ra9\ntr@t|"333333  "333\ntac@t|'
    assert state("K06", f'{head},monday  """"\n', tables(), tmp_path) == "passed"
    assert state("K06", f"{head}{row}", tables(), tmp_path) == "failed"


def test_semicolons_between_the_entries_of_a_linear_row(tmp_path: Path) -> None:
    """11.17."""
    assert state("K10", "ta@r|,monday3 ra91 w9d4\n", linear(), tmp_path) == "failed"


@pytest.mark.parametrize("check", sorted(RULES))
def test_right_and_wrong(check: str, tmp_path: Path) -> None:
    source, right, wrong = RULES[check]
    assert state(check, right, source(), tmp_path) == "passed"
    assert state(check, wrong, source(), tmp_path) == "failed"


def test_words_inside_a_drawing_are_no_caption(tmp_path: Path) -> None:
    tree = Tree()
    label = Paragraph(runs=(tree.run("foo"),), role="label", address=PATH + "c")
    source = tree.document(Graphic(alt=(), resource="", children=(label,), address=PATH + "g"))
    assert state("I02", "cap@c|      foo\n", source, tmp_path) == "not applicable"


def test_without_the_source_nothing_is_claimed(tmp_path: Path) -> None:
    _, right, _ = RULES["A03"]
    result = Drawing(f"= body 1 - -\n{right}{END}").inspect(tmp_path)
    assert {result.state[check] for check in RULES} == {"needs source"}


RULE = 'tr|"33333333  "33333333\n'
# Drawn pages are 12 lines deep; the last line of a page of entries has its guide words.
COLUMNS = f"= body 1 - -\nth|,day       ,sky\n{RULE}tac|monday     cle>\n"
INDEX = "= body 1 - -\nix:1/1|ants1 #c\nix:1/1|bees1 #d\nix:1/1|wasps1 #e\n"
PAGES = {
    # 15.5: no line-numbered verse beside a page number.
    "P16": (
        f"= body 1 - 1\n\nvs:1/1|{'a':38}#e\n{END}",
        f"= body 1 - 1\nvs:1/1|b\nvs:1/1|{'a':38}#e\n{END}",
    ),
    # 15.2: line numbers have the numeric indicator and end in the last cell.
    "Y07": (
        f"= body 1 - -\nvs:1/1|{'a':38}#e\nvs:1/1|{';b':37}#aj\n{END}",
        f"= body 1 - -\nvs:1/1|{'a':38}#e\nvs:1/1|{';b':38}aj\n{END}",
    ),
    # 15.4: words stop two cells before the longest number of the poem.
    "Y08": (
        f"= body 1 - -\nvs:1/1|{'a':37}#aj\nvs:1/1|{'b' * 35}\n{END}",
        f"= body 1 - -\nvs:1/1|{'a':37}#aj\nvs:1/1|{'b' * 36}\n{END}",
    ),
    # 10.4: choices that serve several questions have blank lines around them.
    "Q09": (
        "= body 1 - -\nex:1/1|#a4 ,day\n\nli:1/1|,oak\nli:1/1|,elm\n\nex:1/1|#b4 ,sky\n" + END,
        "= body 1 - -\nex:1/1|#a4 ,day\n\nli:1/1|,oak\nli:1/1|,elm\nex:1/1|#b4 ,sky\n" + END,
    ),
    # 11.2: runovers of entries begin two cells right of their column.
    "K04": (
        f"{COLUMNS}tac+|  noon       blue\n{END}",
        f"{COLUMNS}tac+|  noon     blue\n{END}",
    ),
    # 11.18: column j of a stairstep table begins in cell 2j-1.
    "K11": (
        f"= body 1 - -\nts:1/2|monday\nts:2/2|  cle>\nts:2/2+|    sky\n{END}",
        f"= body 1 - -\nts:1/2|monday\nts:2/2|    cle>\nts:2/2+|    sky\n{END}",
    ),
    # 21.3: guide words are the first and last entry of the page.
    "J05": (INDEX + "\n" * 8 + "gw|ants-wasps\n", INDEX + "\n" * 8 + "gw|ants-bees\n"),
    # 5.6: a typeform over several paragraphs is opened at each and closed once (UEB 9.9).
    "T01": (
        "= body 1 - -\np|  .7,oaks grow4\np|  .7,elms fall4.'\n" + END,
        "= body 1 - -\np|  .7,oaks grow4.'\np|  .7,elms fall4.'\n" + END,
    ),
    # 1.9: lines at a page foot are left unused only where a rule asks for it.
    "Z05": (
        f"= body 1 - -\n{'p|  ,day4' * 1}\n"
        + "p|  ,all day4\n" * 10
        + f"= body 2 - -\np|  ,x\n{END}",
        f"= body 1 - -\n{'p|  ,day4' * 1}\n"
        + "p|  ,all day4\n" * 3
        + f"= body 2 - -\np|  ,x\n{END}",
    ),
}


@pytest.mark.parametrize("check", sorted(PAGES))
def test_pages_right_and_wrong(check: str, tmp_path: Path) -> None:
    right, wrong = PAGES[check]
    assert Drawing(right).inspect(tmp_path).state[check] == "passed"
    assert check in failed(Drawing(wrong).inspect(tmp_path))


def test_a_sidebar_with_its_source_has_no_blank_line_between(tmp_path: Path) -> None:
    """BF 7.2, 9.5."""
    page = f'p|  ,a\n\nbt@b|{"7" * 40}\np@1|  ,an aside\nbb@b|{"g" * 40}\nsrc|      ,"?\n'
    assert state("X11", page, sidebar(), tmp_path) == "passed"

"""Checks of lists in columns and of matter that print sets apart from its text: a right page and
a wrong one for each (Braille Formats 2016, 3.3, 6, 8.4, 15.2)."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from convert.check.inspect import inspect_book
from convert.check.pages import load
from convert.document.nodes import Box, Document, Graphic, PrintPage

from .drawn import Drawing, failed
from .test_document import END, PATH, Tree

BOX = f"bt@b|{'7' * 40}\np@b/2|  ,bees\nbb@b|{'g' * 40}\n\n"
LEFT = "tn|      @.<,text goes on page #ad4@.>\n\n"
BACK = "tn|      @.<,text f page #ab@.>\n"
FIGURE = "cap@g/2|      ,figure #c ,! old mill\n"


def interrupted() -> Document:
    """Print page 13 is a box; the sentence before it goes on after it."""
    tree = Tree()
    box = Box(children=(tree.para("b/2", "Bees"),), address=PATH + "b")
    return tree.document(
        PrintPage(label="12"),
        tree.para("v", "We walked to the"),
        PrintPage(label="13"),
        box,
        PrintPage(label="14"),
        tree.para("w", "old mill by night."),
    )


def illustrated(words: str = "The mill is old.") -> Document:
    """A numbered illustration at the top of its print page, and paragraphs below it."""
    tree = Tree()
    caption = tree.para("g/2", "Figure 3. The old mill")
    graphic = Graphic(alt=(), resource="m.png", children=(caption,), address=PATH + "g")
    rest = (tree.para("1", words), tree.para("2", "It fell down."))
    first = tree.para("0", "Before it.")
    return tree.document(PrintPage(label="11"), first, PrintPage(label="12"), graphic, *rest)


def numbered() -> Document:
    """Print numbers every second paragraph."""
    tree = Tree()
    words = ("2 Oaks.", "Elms.", "4 Ashes.", "Limes.", "6 Firs.")
    return tree.document(*(tree.para(str(at), text) for at, text in enumerate(words, 1)))


TURN = f"pt|{'-' * 37}#a"
SOURCE: dict[str, tuple[Callable[[], Document], str, str]] = {
    # 3.3: a note before and after the page that interrupts.
    "N07": (
        interrupted,
        f"p@v|  ,we walk$ to !\n{LEFT}{BOX}{BACK}p@w|  old mill4\n",
        f"p@v|  ,we walk$ to !\n\n{BOX}{BACK}p@w|  old mill4\n",
    ),
    # 6: after the last whole paragraph of its print page, before the page change line.
    "I05": (
        illustrated,
        f"p@1|  ,! mill4\np@2|  ,x fell4\n{FIGURE}{TURN}d\np|  ,z\n",
        f"{FIGURE}p@1|  ,! mill4\np@2|  ,x fell4\n{TURN}d\np|  ,z\n",
    ),
    # 15.2: every paragraph has its number, also where print numbers only some.
    "Y10": (
        numbered,
        "p@1|  ;9#b ,oaks4\np@2|  #c ,elms4\np@3|  #d ,a%es4\np@4|  #e ,limes4\np@5|  #f ,f\n",
        "p@1|  ;9#b ,oaks4\np@2|  ,elms4\np@3|  #d ,a%es4\np@4|  #e ,limes4\np@5|  #f ,f\n",
    ),
}


def inspected(check: str, page: str, document: Document, folder: Path) -> str:
    book, _ = load([Drawing(f"= body 1 12 #ab\n\n{page}{END}", lines=20).write(folder)])
    book.print_pages, book.document = ("12", "13", "14"), document
    return inspect_book(book).state[check]


@pytest.mark.parametrize("check", sorted(SOURCE))
def test_right_and_wrong(check: str, tmp_path: Path) -> None:
    source, right, wrong = SOURCE[check]
    assert inspected(check, right, source(), tmp_path) == "passed"
    assert inspected(check, wrong, source(), tmp_path) == "failed"


def test_a_note_is_due_on_both_sides_of_an_interruption(tmp_path: Path) -> None:
    page = f"p@v|  ,we walk$ to !\n{LEFT}{BOX}p@w|  old mill4\n"
    assert inspected("N07", page, interrupted(), tmp_path) == "failed"


def test_an_illustration_that_a_paragraph_names_stands_where_print_has_it(tmp_path: Path) -> None:
    page = SOURCE["I05"][2]
    named = illustrated("The mill (see fig. 3) is old.")
    assert inspected("I05", page, named, tmp_path) == "not applicable"


@pytest.mark.parametrize(
    "words",
    [
        ("1 Oaks.", "Elms.", "9 Ashes.", "4 Limes."),
        ("1 Oaks.", "2 Elms.", "A note.", "4 Limes.", "5 Firs."),
    ],
)
def test_numbers_that_do_not_grow_with_their_places_are_no_series(
    words: tuple[str, ...], tmp_path: Path
) -> None:
    tree = Tree()
    source = tree.document(*(tree.para(str(at), text) for at, text in enumerate(words, 1)))
    assert inspected("Y10", SOURCE["Y10"][2], source, tmp_path) == "not applicable"


ROWS = "li|oak      elm\nli|a%       l9d5\nli|*erry    wil{}\n"
HEAD = "= body 1 - -\np|  ,trees3\n\n"
LISTS = {
    # 8.4: two blank cells between columns.
    "L07": (HEAD + ROWS + END, HEAD + ROWS.replace("*erry   ", "*erries*") + END),
    # 8.4: on one page where it fits.
    "L08": (HEAD + ROWS + END, HEAD + "p|  ,a\n" * 6 + "\n" + ROWS.replace(
        "li|*erry", "= body 2 - -\nli|*erry") + END),
}  # fmt: skip


@pytest.mark.parametrize("check", sorted(LISTS))
def test_lists_in_columns(check: str, tmp_path: Path) -> None:
    right, wrong = LISTS[check]
    assert Drawing(right).inspect(tmp_path).state[check] == "passed"
    assert check in failed(Drawing(wrong).inspect(tmp_path))


def test_a_list_without_columns_is_not_judged(tmp_path: Path) -> None:
    drawn = Drawing(f"{HEAD}li|_4 oak\nli|_4 an old elm\n{END}")
    assert {drawn.inspect(tmp_path).state[name] for name in LISTS} == {"not applicable"}


def test_a_list_traced_as_columned_needs_columns(tmp_path: Path) -> None:
    """Where one blank cell is all that parts them, no column is to be seen."""
    drawn = Drawing(f"{HEAD}wl|oak elm\nwl|a% l9d5\n{END}")
    assert "L07" in failed(drawn.inspect(tmp_path))

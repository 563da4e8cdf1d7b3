"""Tables in columns: which fit, how their lines are drawn, and why others are set as lists.

Most tables here are written with a translator of one cell a letter, so that widths can be
counted by eye; the worked examples have the cells of the standard.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.check.edition import book_of
from convert.check.inspect import inspect_book
from convert.conserve import conserve
from convert.document.choices import Choice
from convert.document.nodes import BOLD, Block, LineBreak, PrintPageTurn
from convert.edition import Edition, Totals
from convert.findings import Findings
from convert.layout.book import Book, Page
from convert.layout.convention import Convention
from convert.layout.flow import flow
from convert.layout.settle import settle
from convert.pipeline import measuring, translate_items
from convert.settings import Settings
from convert.translation.cells import Cells
from convert.translation.passage import Passage
from tests.draw import cells_from, draw, text_of
from tests.fake import LetterTranslator
from tests.layout.trees import Trees, bf2016

EXAMPLE = {
    "In the north.": ",9 ! nor?4", "Three Lakes": ",?ree ,lakes", "Lake": ",lake", "Area": ",>ea",
    "Depth": ",dep?", "Blue Lake": ",blue ,lake", "Long Pond": ",l;g ,pond",
    "Silver Lake": ",silv] ,lake", "120": "#abj", "35": "#ce", "9": "#i", "4": "#d", "48": "#dh",
    "112": "#aab", "Each lake has fish.": ",ea* lake has fi%4",
}  # fmt: skip


class Examples(LetterTranslator):
    """Print of the worked examples in their own cells."""

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        text = EXAMPLE.get(passage.text)
        if text is None:
            return super().translate(passage, findings)
        cells = cells_from(text)
        ends = [len(passage.text)] if len(cells.pieces) == 1 else []
        words = [len(word) for word in passage.text.split(" ")]
        lengths = ends or [*words[: len(cells.pieces) - 1], 0]
        at = 0
        for number, length in enumerate(lengths):
            length = length or len(passage.text) - at
            piece = cells.pieces[number]
            origin = tuple(min(cell, length - 1) for cell in range(len(piece.cells)))
            cells.pieces[number] = piece._replace(origin=origin, length=length)
            cells.prints[number] = at
            at += length + 1
        return cells


@dataclass
class Laid:
    """Pages made of some blocks, and the account of their print."""

    book: Book
    account: Totals
    findings: Findings

    @property
    def pages(self) -> list[Page]:
        return [page for _, _, page in self.book.pages()]

    @property
    def lines(self) -> list[str]:
        """The lines of the first page that hold text, without the line that ends the volume."""
        return _filled(text_of(self.pages[0]))

    def reasons(self) -> list[str]:
        return [
            f"{f.kind.partition('table-')[2]}: {dict(f.facts).get('reason', '')}"
            for f in self.findings.all()
            if f.kind.startswith("layout.table-")
        ]


def _filled(lines: list[str]) -> list[str]:
    while lines and (not lines[-1] or lines[-1].strip() == ",,the ,,end"):
        lines.pop()
    return lines


def lay(
    t: Trees,
    *blocks: Block,
    translator: LetterTranslator | None = None,
    convention: Convention | None = None,
    choices: tuple[Choice, ...] = (),
    **options: Any,
) -> Laid:
    """Blocks through flow, translation and pages; nothing may be lost or doubled."""
    chosen = replace(Settings(), front_pages=False, **options)
    document, translator = t.document(*blocks), translator or LetterTranslator()
    document = replace(document, choices=tuple(sorted(choices)))
    rows = convention or bf2016()
    items = flow(document, rows, chosen, t.findings, measuring(document, translator, chosen.code))
    translate_items(items, document, translator, t.findings)
    book = settle(items, document, rows, chosen, translator, t.findings)
    account = conserve(document, book, t.findings)
    assert (account.lost, account.doubled) == (0, 0)
    assert all(len(line) <= book.cells for _, _, p in book.pages() for line in text_of(p))
    edition = Edition("a", document, book, [], Totals(), chosen)
    failures = inspect_book(book_of(edition)).failures
    assert not [f for f in failures if f.id.startswith("K") or f.id in ("G04", "G10", "N04")]
    return Laid(book, account, t.findings)


@pytest.fixture
def t() -> Trees:
    return Trees()


def lakes(t: Trees, *rows: Any) -> Block:
    return t.table(
        t.row("Lake", "Area", "Depth", head=True), *rows,
        caption=(t.p("Three Lakes", role="caption"),),
    )  # fmt: skip


# ---------------------------------------------------------------- the worked examples


def test_e21_columned_table(t: Trees) -> None:
    """BF 11.2: title, headings, separation lines, rows with guide dots; as drawn."""
    made = lay(
        t,
        t.p("In the north."),
        lakes(
            t,
            t.row("Blue Lake", "120", "35"),
            t.row("Long Pond", "9", "4"),
            t.row("Silver Lake", "48", "112"),
        ),
        t.p("Each lake has fish."),
        translator=Examples(),
    )
    assert made.lines == [
        "  ,9 ! nor?4",
        "",
        "              ,?ree ,lakes",
        "",
        ",lake         ,>ea  ,dep?",
        '"33333333333  "333  "3333',
        ",blue ,lake   #abj  #ce",
        ',l;g ,pond "" #i "" #d',
        ",silv] ,lake  #dh   #aab",
        "",
        "  ,ea* lake has fi%4",
    ]
    kinds = [row.kind if row else "" for row in made.pages[0].rows[4:9]]
    assert kinds == ["table-head", "table-rule", "table", "table", "table"]
    assert made.reasons() == ["columned: its columns fit the page"]
    assert "layout.table-columned" in t.kinds()


def test_e22_blank_entry(t: Trees) -> None:
    """BF 11.2: guide dots over the whole width of the column, and a note before the table."""
    rows = (t.row("Blue Lake", "120", ""), t.row("Silver Lake", "48", "112"))
    made = lay(t, lakes(t, *rows), translator=Examples())
    at = made.lines.index(",lake         ,>ea  ,dep?")
    assert made.lines[at : at + 3] == [
        ",lake         ,>ea  ,dep?",
        '"33333333333  "333  "3333',
        ',blue ,lake   #abj  """""',
    ]
    assert [row.kind for row in made.pages[0].rows if row and row.kind == "tn"]


def test_a_long_title_is_centred_on_every_line(t: Trees) -> None:
    """BF 11.2.2, 4.4: its lines need not begin in one cell."""
    title = "what is the solution and how is it implemented by those who are responsible for it"
    table = t.table(
        t.row("x", "y", head=True), t.row("a", "b"), caption=(t.p(title, role="caption"),)
    )
    lines = lay(t, t.p("word"), table).lines
    starts = [len(line) - len(line.lstrip()) for line in lines[2:5]]
    assert len(set(starts)) > 1
    assert lines[5:7] == ["", "x   y"]


def test_e41_blank_line_between_cell_5_heading_and_columns(t: Trees) -> None:
    """BF 4.4.2; columns without headings are two cells apart."""
    made = lay(
        t, t.h(1, "Pets"), t.p("Go."), t.h(2, "Two lists"),
        t.table(t.row("cat", "goat"), t.row("dog", "hen")),
    )  # fmt: skip
    assert made.lines[3:] == ["", "    ,two lists", "", "cat  goat", "dog  hen"]


# ---------------------------------------------------------------- shapes that fit


def test_narrow_columns_are_two_cells_wide_at_least(t: Trees) -> None:
    """A separation line and guide dots need two cells."""
    made = lay(t, t.table(t.row("a", "b", head=True), t.row("c", "d")))
    assert made.lines == ["a   b", '"3  "3', "c   d"]


def test_numbers(t: Trees) -> None:
    """BF 11.2.8: at the left of their columns."""
    made = lay(t, t.table(t.row("", "1990", "2000", head=True), t.row("Oak", "7", "12345")))
    assert made.lines == ["      #aiij  #bjjj", '"333  "3333  "33333', ',oak  #g """ #abcde']


def test_first_column_of_row_headings(t: Trees) -> None:
    table = t.table(
        t.row("", "Am", head=True), t.row(t.entry("Ox", head=True), "x"),
        t.row(t.entry("Marten", head=True), "y"),
    )  # fmt: skip
    assert lay(t, table).lines == ["         ,am", '"333333  "33', ',ox """" x', ",marten  y"]


def test_headings_of_several_lines_end_together(t: Trees) -> None:
    """BF 11.2.4; the typeform of a whole heading is dropped."""
    table = t.table(
        t.row("name", t.p(("how many there were then", BOLD)), "or so many more", head=True),
        t.row("abcdefghij", "a", "b"), t.row("k", "c", "d"),
    )  # fmt: skip
    made = lay(t, table)
    assert made.lines[:3] == [
        "            how many there  or so",
        "name        were then       many more",
        '"333333333  "3333333333333  "33333333',
    ]


def test_runovers_begin_two_cells_in(t: Trees) -> None:
    """BF 11.2.7, 11.2.8: other entries begin on the last line of the row heading."""
    rows = [t.row("abc", "d", "e"), t.row("fgh", "i", "j"), t.row("klm", "n", "o")]
    long = t.row("a row heading so long it has a runover here", "once", "two")
    made = lay(t, t.table(*rows, long))
    assert made.lines[3:] == [
        "a row heading so long it has",
        '  a runover here """"""""""""" once  two',
    ]
    assert made.reasons() == ["columned: its columns fit the page with few runovers"]


def test_a_long_last_entry(t: Trees) -> None:
    rows = [t.row("ab", "c"), t.row("de", "f"), t.row("gh", "i")]
    made = lay(t, t.table(*rows, t.row("jk", "these words go on for more than one line do")))
    assert made.lines[3:] == ["jk  these words go on for more than one", "      line do"]


def test_line_ends_of_print_inside_an_entry_stay(t: Trees) -> None:
    rows = [t.row("ab", "c"), t.row("de", "f"), t.row("gh", "i")]
    made = lay(t, t.table(*rows, t.row("jk", t.p("one", LineBreak(), "two"))))
    assert made.lines[3:] == ["jk  one", "      two"]


def test_a_row_that_is_one_entry_stands_alone(t: Trees) -> None:
    table = t.table(
        t.row("Lake", "Area", head=True),
        t.row(t.entry("North of the river", columns=2, head=True)),
        t.row("Blue", "1"),
    )
    assert lay(t, table).lines[2:] == [",north of the river", ",blue  #a"]


def test_empty_entries_side_by_side_and_empty_rows(t: Trees) -> None:
    """BF 11.2.9: two runs of guide dots never adjoin."""
    table = t.table(
        t.row("abcdefgh", "klmn", "opq", head=True), t.row("a", "", ""), t.row("", "", ""),
        t.row("", "b", "c"),
    )  # fmt: skip
    lines = lay(t, table).lines
    assert lines[-3:] == ['a         """"  """', '""""""""  """"  """', '""""""""  b """ c']


# ---------------------------------------------------------------- pages


def test_a_table_that_fits_a_page_is_not_divided(t: Trees) -> None:
    """BF 11.2.11."""
    paras = [t.p("word") for _ in range(18)]
    rows = [t.row(c, c) for c in "abcdefgh"]
    made = lay(t, *paras, t.table(t.row("x", "y", head=True), *rows))
    assert not any("table" in row.kind for row in made.pages[0].rows if row)
    assert text_of(made.pages[1])[:3] == ["x   y", '"3  "3', "a   a"]


def test_a_longer_table_is_divided_between_rows_with_its_headings_again(t: Trees) -> None:
    """BF 11.2.11; a row with runovers stays together."""
    long = "these words go on for more than one line do"
    rows = [t.row(f"r{at}", long if at % 5 == 0 else "b") for at in range(60)]
    made = lay(t, t.table(t.row("x", "y", head=True), *rows))
    assert len(made.pages) > 2
    for page in made.pages[:3]:
        kinds = [row.kind for row in page.rows if row]
        assert kinds[:2] == ["table-head", "table-rule"]
        texts = [line for line in text_of(page) if line]
        assert not texts[2].startswith("   ")
    assert made.pages[1].rows[0].item == -1


def test_a_print_page_begins_between_rows(t: Trees) -> None:
    """BF 11.2.12; the columns keep their width on both sides."""
    made = lay(
        t, t.page("6"), t.p("word"),
        t.table(t.row("x", "y", head=True), t.row("abcdef", "b"), t.page("7"), t.row("c", "d")),
    )  # fmt: skip
    assert text_of(made.pages[0])[2:7] == [
        "x       y", '"33333  "3', "abcdef  b", "-" * 38 + "#g", 'c """"" d',
    ]  # fmt: skip


def test_a_print_page_that_begins_inside_a_row_begins_after_it(t: Trees) -> None:
    """BF 11.2.12; before the first word of a row it begins before the row."""
    inside = t.row("ab", t.p("c", PrintPageTurn("7"), " d"))
    before = t.row(t.p(PrintPageTurn("8"), "e"), "f")
    made = lay(
        t, t.page("6"), t.p("word"), t.table(t.row("x", "y"), inside, t.row("g", "h"), before)
    )
    lines = [line for line in text_of(made.pages[0]) if line]
    assert lines[1:7] == ["x   y", "ab  c d", "-" * 38 + "#g", "g   h", "-" * 38 + "#h", "e   f"]


def test_a_braille_page_that_begins_with_a_print_page_of_the_table(t: Trees) -> None:
    """BF 1.11: the number is on line 1, and the headings come again below it."""
    rows = [t.row(f"r{at}", "b") for at in range(40)]
    made = lay(
        t, t.page("6"), t.table(t.row("x", "y", head=True), *rows[:23], t.page("7"), *rows[23:])
    )
    first, second = made.pages[:2]
    assert not any(row and row.kind == "page-turn" for row in [*first.rows, *second.rows])
    assert draw(second).splitlines()[0].endswith("#g")
    assert [row.kind for row in second.rows[:3] if row] == ["table-head", "table-rule", "table"]


def test_a_table_cut_by_the_end_of_a_volume_has_its_headings_again(t: Trees) -> None:
    """BF 11.2.11."""
    rows = [t.row(f"r{at}", "b") for at in range(200)]
    made = lay(t, t.table(t.row("x", "y", head=True), *rows), volume_pages=3)
    assert len(made.book.volumes) > 1
    for volume in made.book.volumes:
        first = [row.kind for row in volume.pages[0].rows if row]
        assert first[:2] == ["table-head", "table-rule"]


# ---------------------------------------------------------------- other forms, and why


@pytest.mark.parametrize(
    "rows, reason",
    [
        (("a" * 25, "b" * 25), "its columns are wider than the page"),
        (("so many words " * 3, "as many again " * 3), "too many of its rows would need runovers"),
    ],
)
def test_wide_tables_are_listed(t: Trees, rows: tuple[str, str], reason: str) -> None:
    made = lay(t, t.table(t.row("x", "y", head=True), t.row(*rows), t.row(*rows)))
    assert made.reasons()[0].startswith(f"listed: {reason}")


def test_entries_of_several_paragraphs_are_listed(t: Trees) -> None:
    table = t.table(t.row("x", "y", head=True), t.row("a", (t.p("b"), t.p("c"))))
    assert lay(t, table).reasons() == ["listed: an entry holds more than one paragraph"]


def test_room_for_answers_is_listed(t: Trees) -> None:
    table = t.table(t.row("x", "y", head=True), t.row("a", t.p(t.answer())))
    assert lay(t, table).reasons() == ["listed: it has room for answers"]


def test_notes_due_at_a_print_page_inside_the_table_are_listed(t: Trees) -> None:
    """BF 16.4: the note stands at the end of its print page, which columns cannot give way to."""
    table = t.table(
        t.row("x", "y", head=True), t.row("a", t.p("b", t.call("1", "f"))), t.page("2"),
        t.row("c", "d"),
    )  # fmt: skip
    made = lay(t, t.page("1"), t.p("word"), table, t.foot("f", "1", t.p("So.")))
    assert made.reasons() == ["listed: notes and the end of a print page fall inside it"]


def test_a_note_called_in_columns_comes_after_the_table(t: Trees) -> None:
    """BF 11.2.13."""
    table = t.table(t.row("x", "y", head=True), t.row("a", t.p("b", t.call("*", "f"))))
    made = lay(t, table, t.p("word"), t.foot("f", "*", t.p("So.")))
    assert made.reasons() == ["columned: its columns fit the page"]
    kinds = [row.kind for row in made.pages[0].rows if row]
    assert kinds.index("note") > kinds.index("table")


def test_a_table_without_entries_is_listed(t: Trees) -> None:
    made = lay(t, t.table(t.row("x", "y", head=True), t.row("", "")))
    assert made.reasons() == ["listed: it has no entries"]


def test_one_column_is_text(t: Trees) -> None:
    made = lay(t, t.table(t.row("a"), t.row("b")))
    assert made.reasons() == ["as-text: "]


def test_a_convention_may_list_all_tables(t: Trees) -> None:
    rules = replace(bf2016(), rules={**bf2016().rules, "table_forms": ("listed",)})
    table = t.table(t.row("x", "y", head=True), t.row("a", "b"))
    assert lay(t, table, convention=rules).reasons() == ["listed: columns were not asked for"]


def test_a_convention_may_allow_more_runovers(t: Trees) -> None:
    """BF 11.1.4 names no figure."""
    words = "so many words that they run over in this column"
    rules = replace(bf2016(), rules={**bf2016().rules, "table_runovers": 100})
    table = t.table(t.row("x", "y", head=True), t.row("a", words), t.row("b", words))
    assert lay(t, table, convention=rules).reasons() == [
        "columned: its columns fit the page with few runovers"
    ]


class Wider(LetterTranslator):
    """Cells that grow after the table was measured."""

    grown = False

    def prepare(self, passages: Any) -> None:
        self.grown = len(list(passages)) > 1

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        return cells_from(passage.text.replace("w", "wwww")) if self.grown else (
            super().translate(passage, findings)
        )  # fmt: skip


def test_words_wider_than_was_measured_are_still_set() -> None:
    """No line is too long and no cell is missing, even then."""
    t = Trees()
    table = t.table(t.row("w" * 12, "w" * 12), t.row("a", "b"))
    document = t.document(table)
    translator = Wider()
    items = flow(document, bf2016(), Settings(), t.findings, measuring(document, translator, "ueb"))
    translate_items(items, document, translator, t.findings)
    book = settle(items, document, bf2016(), Settings(front_pages=False), translator, t.findings)
    lines = [line for _, _, page in book.pages() for line in text_of(page)]
    assert max(map(len, lines)) <= 40
    assert sum(line.count("w") for line in lines) == 96


# ---------------------------------------------------------------- any table


WORDS = st.lists(st.text("abcdefg", min_size=1, max_size=9), max_size=5).map(" ".join)


@st.composite
def tables(draw: st.DrawFn) -> tuple[list[list[str]], bool, int, list[int]]:
    columns = draw(st.integers(2, 6))
    entry = st.one_of(st.text("abc", max_size=4), WORDS)
    row = st.lists(entry, min_size=columns, max_size=columns)
    rows = draw(st.lists(row, min_size=1, max_size=40))
    turns = draw(st.lists(st.integers(0, len(rows)), max_size=3, unique=True))
    return rows, draw(st.booleans()), draw(st.integers(20, 45)), turns


@settings(max_examples=150, deadline=None)
@given(tables(), st.integers(5, 12), st.integers(0, 9))
def test_any_table_loses_nothing_and_keeps_to_the_page(
    shape: tuple[list[list[str]], bool, int, list[int]], height: int, above: int
) -> None:
    """Nothing lost or doubled, no line too long (`lay` looks), the entries in order."""
    rows, headed, width, turns = shape
    t = Trees()
    kids: list[Any] = [t.row(*"uvwxyz"[: len(rows[0])], head=True)] if headed else []
    for at, row in enumerate(rows):
        if at in turns:
            kids.append(t.page(str(at + 2)))
        kids.append(t.row(*row))
    paras = [t.p("word") for _ in range(above)]
    made = lay(t, t.page("1"), *paras, t.table(*kids), t.p("last"), cells=width, lines=height)
    if not made.reasons()[0].startswith("columned"):
        return  # Columns arranged anew: see test_table_forms.
    offsets = [
        part.source.passage.ledger_at(0)
        for page in made.pages
        for row in page.rows
        if row and row.style == "table-columns" and row.item >= 0
        for part in row.parts
        if part.source is not None and part.source.passage is not None and part.at == 0
    ]
    assert offsets == sorted(offsets)

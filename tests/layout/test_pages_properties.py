"""What must hold for any items and any page: nothing lost, doubled or moved; no line past its
room; keep rules kept or recorded; always progress."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from convert.layout.items import Item, Part, SetLine
from convert.layout.lines import Block, prepare
from convert.layout.pages import Made, make_pages
from convert.layout.shape import Shape
from convert.translation.cells import BLANK, Cells, Piece, ascii_of, cells_of
from tests.draw import RELAX, cells_from

WORD = st.integers(1, 14).map(lambda n: "abcdefghijklmn"[:n])
TEXT = st.lists(WORD, min_size=1, max_size=25).map(" ".join)
LABEL = st.one_of(st.none(), st.integers(1, 400).map(str), st.sampled_from(["iv", "x", "A-3"]))
KEEP = st.lists(
    st.sampled_from(
        [("whole", 1), ("with_next", 1), ("with_next", 2), ("next_whole", 1), ("head_min", 2),
         ("tail_min", 2), ("start_not_on_last", 1), ("with_previous", 1), ("with_previous", 2)]
    ),
    max_size=2, unique_by=lambda rule: rule[0],
)  # fmt: skip


@st.composite
def words(draw: st.DrawFn) -> Item:
    """An item of words, with any margins, marks, breaks and keep rules."""
    text = draw(TEXT)
    size = len(text)
    marks = draw(
        st.lists(
            st.one_of(
                st.tuples(st.integers(0, size), st.just("line"), st.none()),
                st.tuples(st.integers(0, size), st.just("turn"), LABEL),
            ),
            max_size=3,
        )
    )
    cells = cells_from(text, tuple(sorted(marks, key=lambda mark: mark[0])))
    if draw(st.integers(0, 3)) == 0:
        cells = divided(cells, draw(st.integers(1, 5)))
    first, runover = draw(st.tuples(st.integers(1, 9), st.integers(1, 9)))
    return Item(
        draw(st.sampled_from(["para", "list", "h-center", "h-5", "end-of-volume"])),
        "row",
        cells=cells,
        first=first,
        runover=runover,
        centred=draw(st.integers(0, 4)) == 0,
        before=draw(st.integers(0, 1)),
        needs_before=draw(st.booleans()),
        keep=tuple(draw(KEEP)),
        new_page=draw(st.integers(0, 9)) == 0,
        indent_from_previous=5 * draw(st.booleans()),
    )


def divided(cells: Cells, at: int) -> Cells:
    """The same cells, every word of which may end a line after ``at`` cells."""
    for number, piece in enumerate(cells.pieces):
        if piece.length > at:
            joins = ((at, cells_of('"'), cells_of("#")),)
            cells.pieces[number] = Piece(
                piece.cells, piece.origin, piece.sign, piece.length, (at,), joins
            )
    return cells


@st.composite
def rows(draw: st.DrawFn) -> Item:
    """An item of lines cut before."""
    kind = draw(st.sampled_from(["table", "toc", "box-top", "box-bottom"]))
    source = cells_from(draw(st.lists(WORD, min_size=1, max_size=4).map("".join))[:14])
    count = 1 if kind.startswith("box") else draw(st.integers(1, 5))
    keep = draw(st.booleans())
    made = tuple(
        SetLine((Part(0, source.text, source, 0),), kind, "first", keep) for _ in range(count)
    )
    return Item(kind, "row", set_lines=made, keep=tuple(draw(KEEP)), before=draw(st.integers(0, 1)))


TURN = LABEL.map(lambda label: Item("page-turn", "page-turn", page=(label,)))
ITEMS = st.lists(st.one_of(words(), words(), rows(), TURN), min_size=1, max_size=14)
SHAPE = st.builds(
    Shape,
    st.integers(16, 42),
    st.integers(5, 14),
    head=st.sampled_from(["", cells_of("head")]),
    restore_blanks=st.booleans(),
    relax=st.just(RELAX),
)


def placed(made: list[Made], blocks: list[Block]) -> list[tuple[int, str]]:
    """(item, cells without spaces) of every row that stands for an item, in order."""
    out: list[tuple[int, str]] = []
    for page in made:
        for row in page.page.rows:
            if row is not None and row.item >= 0:
                text = "".join(p.text for p in row.parts if p.source is not None)
                out.append((row.item, text.replace(BLANK, "")))
    return out


@settings(max_examples=150)
@given(ITEMS, SHAPE)
def test_nothing_is_lost_doubled_or_moved(items: list[Item], shape: Shape) -> None:
    blocks = prepare(items, [])
    made = make_pages(blocks, shape, "body")
    got: dict[int, str] = {}
    order: list[int] = []
    for item, text in placed(made, blocks):
        got[item] = got.get(item, "") + text
        order.append(item)
    assert order == sorted(order)
    for at, item in enumerate(items):
        if item.cells is not None:
            assert got.get(at, "") == item.cells.text.replace(BLANK, "")
        elif item.set_lines and not item.kind.startswith("box"):
            assert got[at] == "".join(p.text for line in item.set_lines for p in line.parts)
        elif item.set_lines:
            assert item.set_lines[0].parts[0].text.startswith(got[at])


@settings(max_examples=120)
@given(ITEMS, SHAPE)
def test_no_line_is_past_its_room(items: list[Item], shape: Shape) -> None:
    for each in make_pages(prepare(items, []), shape, "body"):
        page = each.page
        assert len(page.rows) == shape.lines
        for number in range(1, shape.lines + 1):
            assert len(page.line(number)) <= shape.cells
        for row, furniture in ((page.rows[0], page.head), (page.rows[-1], page.foot)):
            if row is not None and row.parts and furniture:
                free = len(furniture) - len(furniture.lstrip(BLANK))
                assert len(row.text) + 3 <= free


@settings(max_examples=120)
@given(ITEMS, SHAPE)
def test_keep_rules_hold_or_are_recorded(items: list[Item], shape: Shape) -> None:
    """Checked on the finished pages, not by the code that chose the turns."""
    blocks = prepare(items, [])
    made = make_pages(blocks, shape, "body")
    for page, following in pairwise(made):
        if page.breaches or page.cursor.fresh:
            continue
        above = [r for r in page.page.rows if r is not None and r.item >= 0]
        below = [r for r in following.page.rows if r is not None and r.item >= 0]
        last, first = items[above[-1].item], items[below[0].item]
        rules = dict(last.keep)
        if above[-1].item == below[0].item:
            assert "whole" not in rules
            before = [r for r in above if r.item != above[-1].item]
            assert not before or "next_whole" not in dict(items[before[-1].item].keep)
        else:
            long = _series(items, made, above[-1].item, below[0].item) >= shape.lines
            assert long or not {"with_next", "next_whole"} & rules.keys()
            assert "with_previous" not in dict(first.keep)


def _series(items: list[Item], made: Sequence[Made], above: int, below: int) -> int:
    """The lines of the series of headings that two items are both of, with blank lines (BF 4.10);
    0 where one is no heading."""
    within = [below] if items[below].kind.startswith("h-") else []
    at = above
    while within and at >= 0 and (items[at].kind.startswith("h-") or items[at].kind == "page-turn"):
        within.append(at)
        at -= 1
    at = below + 1
    while (
        within
        and at < len(items)
        and (items[at].kind.startswith("h-") or items[at].kind == "page-turn")
    ):
        within.append(at)
        at += 1
    if len(within) < 2 or not items[above].kind.startswith("h-"):
        return 0
    heads = {at for at in within if items[at].kind.startswith("h-")}
    lines = sum(row is not None and row.item in heads for each in made for row in each.page.rows)
    return lines + sum(items[at].before for at in heads)


@settings(max_examples=120)
@given(ITEMS, SHAPE)
def test_print_page_changes_stand_where_they_may(items: list[Item], shape: Shape) -> None:
    """BF 1.11: never on the last line, never two together, text after each on its page."""
    for each in make_pages(prepare(items, []), shape, "body"):
        kinds = [row.kind if row else "" for row in each.page.rows]
        assert kinds[-1] != "page-turn"
        for at, kind in enumerate(kinds):
            if kind == "page-turn":
                after = [k for k in kinds[at + 1 :] if k]
                assert after
                assert after[0] != "page-turn"


@settings(max_examples=120)
@given(ITEMS, SHAPE)
def test_never_two_blank_lines_between_texts(items: list[Item], shape: Shape) -> None:
    """BF 1.9; a line too narrow for any word beside a number counts as the blank line."""
    for each in make_pages(prepare(items, []), shape, "body"):
        rows_ = each.page.rows
        last = max(at for at, row in enumerate(rows_) if row is not None)
        blanks = [row is None for row in rows_[: last + 1]]
        assert not any(a and b for a, b in pairwise(blanks))


@given(ITEMS, SHAPE)
@settings(max_examples=40)
def test_the_same_items_give_the_same_pages(items: list[Item], shape: Shape) -> None:
    def drawn() -> list[list[str]]:
        made = make_pages(prepare(items, []), shape, "body")
        return [[ascii_of(m.page.line(n)) for n in range(1, shape.lines + 1)] for m in made]

    assert drawn() == drawn()

"""What a person decided about the layout of a block: pages, volumes, blank lines, keeping."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.choices import Choice
from convert.document.nodes import Block, Box, Section, inlines_of, walk
from convert.layout.flow_runs import span_of
from tests.draw import text_of
from tests.layout.test_tables import Laid, lay
from tests.layout.trees import Trees, bf2016


@pytest.fixture
def t() -> Trees:
    return Trees()


def wish(block: Block, kind: str, value: str = "") -> Choice:
    """A choice for a whole block."""
    spans = [span for node in walk(block) if (span := span_of(inlines_of(node)))]
    return Choice(min(s for s, _ in spans), max(e for _, e in spans), kind, value)


def texts(made: Laid) -> list[list[str]]:
    """The lines of each page, blank ones at the end left out."""
    pages = []
    for page in made.pages:
        found = text_of(page)
        while found and not found[-1]:
            found.pop()
        pages.append(found)
    return pages


def refused(t: Trees) -> list[str]:
    return [dict(f.facts)["reason"] for f in t.findings.all()
            if f.kind == "layout.choice-not-followed"]  # fmt: skip


def test_a_page_begins_where_it_was_asked_for(t: Trees) -> None:
    first, second = t.p("one"), t.p("two")
    made = lay(t, first, second, choices=(wish(second, "page-before"),))
    assert [page[0] for page in texts(made)] == ["  one", "  two"]


def test_a_box_begins_a_page_with_its_line(t: Trees) -> None:
    """BF 7.7: the top line is not left behind."""
    boxed = Box(children=(t.p("two"),), address="b")
    made = lay(t, t.p("one"), boxed, choices=(wish(boxed, "page-before"),))
    assert texts(made)[1][:2] == ["7" * 40, "  two"]


def test_a_table_begins_a_page_with_its_note(t: Trees) -> None:
    """BF 3.7: the note stays with what it explains."""
    table = t.table(t.row("x", "y", head=True), t.row("a", ""))
    made = lay(t, t.p("one"), table, choices=(wish(table, "page-before"),))
    assert texts(made)[1][2:] == ["", "x   y", '"3  "3', 'a   ""', "", "              ,,the ,,end"]


def test_a_print_page_change_goes_with_the_page_that_was_asked_for(t: Trees) -> None:
    """BF 1.11: the number on line 1 is the sign of it."""
    last = t.p("two")
    made = lay(t, t.page("1"), t.p("one"), t.page("2"), last, choices=(wish(last, "page-before"),))
    assert texts(made)[0] == ["  one"]
    assert made.pages[1].line(1).strip("\u2800").endswith("\u283c\u2803")


@pytest.mark.parametrize("pages", [False, True])
def test_a_volume_begins_where_it_was_asked_for(t: Trees, pages: bool) -> None:
    """BF 1.6: the line that ends a volume stands before, numbers run on."""
    second, third = t.p("two"), t.p("three")
    turns = [t.page("1"), t.page("2")] if pages else [t.p("x"), t.p("y")]
    made = lay(t, turns[0], t.p("one"), turns[1], second, third,
               choices=(wish(second, "volume-before"), wish(third, "volume-before")))  # fmt: skip
    volumes = made.book.volumes
    assert [volume.number for volume in volumes] == [1, 2, 3]
    firsts = [text_of(volume.pages[0]) for volume in volumes]
    assert [lines[0] for lines in firsts][1:] == ["  two", "  three"]
    assert [sum("end" in line for line in lines) for lines in firsts] == [1, 1, 1]
    assert [volume.pages[0].braille_page for volume in volumes] == ["1", "2", "3"]


def test_volumes_asked_for_and_volumes_of_the_wanted_size(t: Trees) -> None:
    """BF 1.6: what lies between two asked-for volumes is divided evenly."""
    paras = [t.p("abcd efg " * 60) for _ in range(60)]
    made = lay(t, *paras, volume_pages=10, choices=(wish(paras[6], "volume-before"),))
    sizes = [len(volume.pages) for volume in made.book.volumes]
    assert sizes[0] <= 5
    assert max(sizes) <= 12
    assert max(sizes[1:]) - min(sizes[1:]) <= 4


def test_blank_lines_by_decision(t: Trees) -> None:
    """BF 1.9: one or none."""
    one, two, listed, four = t.p("one"), t.p("two"), t.list("a", "b"), t.p("four")
    choices = (wish(two, "blank-before", "1"), wish(listed, "blank-before", "0"),
               wish(four, "blank-before", "0"))  # fmt: skip
    made = lay(t, one, two, listed, four, choices=choices)
    assert made.lines == ["  one", "", "  two", "a", "b", "  four"]


def test_a_block_is_kept_together(t: Trees) -> None:
    """BF 1.9, 8.3: a list may be divided; this one is not."""
    listed = t.list(*"abcdefgh")
    paras = [t.p("word") for _ in range(20)]
    free = lay(t, *paras, listed)
    assert "a" in text_of(free.pages[0])
    made = lay(t, *paras, listed, choices=(wish(listed, "keep-together"),))
    assert "a" not in text_of(made.pages[0])
    assert text_of(made.pages[1])[:8] == list("abcdefgh")


def test_a_block_too_long_for_a_page_gives_way_and_says_so(t: Trees) -> None:
    """BF 4.3 and the order in which rules give way."""
    listed = t.list(*(f"item {at}" for at in range(40)))
    lay(t, listed, choices=(wish(listed, "keep-together"),))
    assert "layout.rule-relaxed" in t.kinds()


def test_a_block_is_kept_with_what_follows(t: Trees) -> None:
    paras = [t.p("word") for _ in range(26)]
    made = lay(t, *paras, choices=(wish(paras[24], "keep-with-next"),))
    assert len([line for line in text_of(made.pages[0]) if line]) == 24


def test_what_cannot_be_followed_is_reported(t: Trees) -> None:
    """Nothing a person decided is passed over in silence."""
    inside, front = t.p("two"), t.p("three")
    boxed = Box(children=(t.p("one"), inside), address="b")
    preface = Section(children=(front,), role="preface", address="s")
    choices = (
        wish(inside, "volume-before"), wish(front, "volume-before"),
        wish(inside, "blank-before", "2"), Choice(500, 501, "page-before"),
    )  # fmt: skip
    lay(t, preface, boxed, choices=choices)
    assert sorted(refused(t)) == sorted([
        "a volume does not end inside a box", "it stands in the front matter",
        "the number of blank lines is 0 or 1", "nothing of it stands in the edition",
    ])  # fmt: skip


def test_nothing_asked_changes_nothing(t: Trees) -> None:
    items = t.items(t.p("one"), t.p("two"))
    assert all(not item.new_page and not item.new_volume and not item.keep for item in items)


KINDS = ("page-before", "volume-before", "blank-before", "keep-together", "keep-with-next")


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 60), st.sampled_from(("para", "list", "box", "table"))),
             min_size=2, max_size=14),
    st.lists(st.tuples(st.integers(0, 13), st.sampled_from(KINDS)), max_size=8),
    st.integers(12, 45), st.integers(5, 14), st.sampled_from(("one", "two")),
)  # fmt: skip
def test_any_decisions_lose_nothing_and_come_to_an_end(
    shapes: list[tuple[int, str]], wishes: list[tuple[int, str]], cells: int, height: int,
    sides: str,
) -> None:  # fmt: skip
    """Nothing lost or doubled, no line too long (`lay` looks); pages and volumes as asked."""
    t = Trees()
    blocks: list[Block] = []
    for count, kind in shapes:
        match kind:
            case "para":
                blocks.append(t.p("ab cde " * count))
            case "list":
                blocks.append(t.list(*(["item of it"] * (1 + count // 8))))
            case "box":
                blocks.append(Box(children=(t.p("ab " * count),), address=t.at()))
            case _:
                rows = [t.row("a", "b c") for _ in range(1 + count // 6)]
                blocks.append(t.table(t.row("x", "y", head=True), *rows))
    asked = {(at, kind) for at, kind in wishes if at < len(blocks)}
    choices = tuple(wish(blocks[at], kind, "1") for at, kind in asked)
    page = replace(bf2016().page, sides=sides)
    made = lay(t, t.page("1"), *blocks, choices=choices, cells=cells, lines=height,
               convention=replace(bf2016(), page=page), volume_pages=20)  # fmt: skip
    volumes = sum(kind == "volume-before" and at > 0 for at, kind in asked)
    assert len(made.book.volumes) >= 1 + volumes
    assert not refused(t)

"""Lines of one element that stand apart, or in other cells than their neighbours."""

from __future__ import annotations

from pathlib import Path

import pytest

from .drawn import Drawing, failed

END = "\nev|~,! ,5d\n"


@pytest.mark.parametrize(
    "lines",
    [
        "p|  ,all day4\np+|all ni<t4",
        "li:1/1|_4 oak\nli:1/1+|  & elm",
        "ex:1/1|#a4 ,:o8\nex:1/1+|  ,:y8",
        "vs:1/1|,! sea\nvs:1/1+|  is h1",
        "tn|      @.<,a boat\ntn+|    ) two ma/s@.>",
        "cap|      ,figure #a\ncap+|    ,boats",
        "no|;9#a ,a note\nno+|  ( two l9es",
        "bi:1/1|,fi%]4\nbi:1/1+|  ,boats4",
        "dir|    ,*oose4\ndir+|    ,write4",
    ],
)
def test_no_blank_line_stands_inside_an_element(lines: str, tmp_path: Path) -> None:
    """1.9: blank lines stand between elements, where a rule asks for one."""
    drawn = f"= body 1 - -\np|  ,he4\n\n{lines}\n\np|  ,%e4\n{END}"
    assert "G10" not in failed(Drawing(drawn).inspect(tmp_path))
    first, second = lines.split("\n")
    result = Drawing(drawn.replace(lines, f"{first}\n\n{second}")).inspect(tmp_path)
    (row,) = [row for row in result.failures if row.id == "G10"]
    assert (row.line, row.expected) == (5, "no blank line inside an element")


def test_a_page_change_inside_an_element_is_no_blank_line(tmp_path: Path) -> None:
    """1.11: nor is the blank line beside a page change line this check's."""
    turn = "pt|" + "-" * 38 + "#b\n"
    drawn = f"= body 1 1 #a\np|  ,all day4\n{turn}p+|all ni<t4\n{END}"
    assert "G10" not in failed(Drawing(drawn).inspect(tmp_path))


@pytest.mark.parametrize(
    "first, runover, fails", [(4, 2, False), (2, 2, False), (2, 4, False), (2, 3, True)]
)
def test_every_line_of_displayed_matter(
    first: int, runover: int, fails: bool, tmp_path: Path
) -> None:
    """9.2, 9.7: paragraphs 5-3 and 3-3, lines of an address 3-5."""
    lines = f"dis|{' ' * first},all day\ndis+|{' ' * runover}all ni<t\n"
    drawn = f"= body 1 - -\np|  ,he4\n\n{lines}dis|  ,ann\n\np|  ,%e4\n{END}"
    assert ("D01" in failed(Drawing(drawn).inspect(tmp_path))) is fails


def test_a_note_stands_straight_below_the_caption(tmp_path: Path) -> None:
    """3.6: no blank line between the words about one picture."""
    drawn = "= body 1 - -\np|  ,he4\ncap@9/4|      ,boats\ndes@9|      @.<,two ma/s@.>\np|  ,x\n"
    assert "N05" not in failed(Drawing(drawn).inspect(tmp_path))
    assert "N05" in failed(Drawing(drawn.replace("boats\n", "boats\n\n")).inspect(tmp_path))


def test_letters_that_divide_a_list_have_no_blank_lines_beside_them(tmp_path: Path) -> None:
    """21.2: but for the one above the first."""
    drawn = (
        "= body 1 - -\nhc:1/1|~,plants\n\nld|~;,a\nli:1/1|ash\nli:1/1|aspen\nld|~;,b\n"
        f"li:1/1|bir*\n{END}"
    )
    assert "L03" not in failed(Drawing(drawn).inspect(tmp_path))
    assert "L03" in failed(Drawing(drawn.replace("ld|~;,a", "p|  ,a")).inspect(tmp_path))


def contents(*entries: str) -> str:
    """A book of two ranks of headings, the second with two headings, and its contents."""
    dots = '"' * 33
    lines = "".join(f"toc:1/2|,{entry} {dots} #a\n" for entry in entries)
    body = "".join(
        f"{tag}|{'~' if tag[1] == 'c' else '    '},{word}\n\np|  ,w\n\n"
        for tag, word in (("hc:1/2", "oak"), ("h5:2/2", "bark"), ("h5:2/2", "leaf"))
    )
    return f"= p p1 - -\nhc|~,3t5ts\n\n{lines}= body 1 - -\n{body}{END}"


@pytest.mark.parametrize(
    "entries, fails",
    [
        (("oak", "bark", "leaf"), False),
        (("oak",), False),  # Contents of one rank.
        (("bark", "leaf"), False),  # The rank above may be that of the title.
        (("oak", "bark"), True),  # One of two is half a rank.
        (("bark", "leaf", "fir"), False),
    ],
)
def test_contents_list_whole_ranks(entries: tuple[str, ...], fails: bool, tmp_path: Path) -> None:
    """2.10."""
    drawn = Drawing(contents(*entries), lines=16)
    assert ("V13" in failed(drawn.inspect(tmp_path))) is fails


def test_a_heading_over_the_end_of_a_volume(tmp_path: Path) -> None:
    """4.3: its lines stand on one page."""
    first = "= body 1 - -\np|  ,he4\n\nhc:1/1@a/2|~,*apt]\n\nev|~,,,5d ( volume,' #a\n"
    second = f"= body 2 - -\nhc:1/1+@a/2|~#b\n\np|  ,%e4\n{END}"
    result = Drawing(first, second).inspect(tmp_path)
    assert [row.found for row in result.failures if row.id == "H13"] == ["the rest of one"]


def test_a_heading_with_a_note_in_it_is_found_in_the_contents(tmp_path: Path) -> None:
    """2.10: contents have its words without the indicators of the note."""
    drawn = contents("oak tree", "bark", "leaf").replace("~,oak", "~,oak @.<tree@.>")
    assert "V13" not in failed(Drawing(drawn, lines=16).inspect(tmp_path))
    assert "V13" in failed(
        Drawing(drawn.replace("toc:1/2|,bark", "toc:1/2|,birk"), lines=16).inspect(tmp_path)
    )

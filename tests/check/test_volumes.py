"""Volumes, title pages, special symbols, notes pages, contents, running heads, page tops:
a right edition, and the same broken in one way for each check (Braille Formats 2016, 1, 2)."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.check import inspect

from .drawn import Drawing, assert_all_pass, broken, failed

ONE = r'''= t t1 - -
ti|~,,riv] ,,tales



ti|~,ann ,hill



ti|~,9 #b ,volumes
ti|~,volume #a
ti|~,brl pages t#a-t#c1
ti|~p#a & #a-#b
= t t2 - - head=,riv]
\

hc|~,,symbols

sy|.=.= "<#df1 #abcdef"> ,dot locator =
sy+|  m5;n
sy|.=.1 "<#df1 #b"> ,italic ~w 9dicator
= t t3 - - head=,riv]
\

hc|~,,notes

tp|  ,? $i;n is 9 ,unifi$ ,5gli%
tp+|,brl4
= p p1 - - head=,riv]
\

hc|~,3t5ts

cv|~,volume #a
toc:1/2|,f/ ,"ds """"""""""""""""""""""""""" #aa
toc:2/2|  ,! ,h\se by ! ,riv] & ! ,l;g
toc:2/2+|    ,road """""""""""""""""""""""""" #bd
cv|~,volume #b
toc:1/2|,la/ ,"ds """"""""""""""""""""""""" #aje
= body 1 11 #aa head=,riv]
\

hc:1/1|~,f/ ,"ds

p|  ,! riv] 0 hi<4
p+|,! boat c4
p|  ,! boat 0 .1z r$ z ! b>n4

li:1/1|wet
li:1/1|pap]
li:1/1|glue
= body 2 11 a#aa head=,riv]


p|  ,! ra9 _h /opp$4

ev|~,5d ( ,volume #a
'''.replace("\\\n", "\n").replace("~w", "^w")
TWO = r"""= t t1 - -
ti|~,,riv] ,,tales



ti|~,ann ,hill



ti|~,9 #b ,volumes
ti|~,volume #b
ti|~,brl pages t#a &
ti|~#c
= body 3 105 #aje head=,riv]


hc:1/1|~,la/ ,"ds

p|  ,! 5d 0 ne>4

ev|~,! ,5d
"""
EDITION = (ONE, TWO)
IDS = {
    "R01", "R02", "R03", "R04", "R06", "Z01", "Z04", "V01", "V02", "V03", "V04", "V05", "V06",
    "V07", "V08", "V09", "V10", "V11", "V12", "V14", "V15", "V16", "V17", "V18", "V19", "V21",
    "V23", "T02", "H01", "H02",
}  # fmt: skip
BREAKS = [
    ("R02", "= t t1 - -", "= t t1 - - head=,riv]"),
    ("R06", "\n\nhc:1/1|~,f/", "\nhc:1/1|~,f/"),
    ("Z01", "head=,riv]\n\n\np|  ,! ra9", "head=,riv]\n\np|  ,! ra9"),
    ("Z04", "\n\nhc|~,,notes", "\n\n\nhc|~,,notes"),
    ("V01", ONE[: ONE.index("= t t2")], ""),
    ("V02", "= body 1 11 #aa", "= t t4 - -"),
    ("V03", "ti|~,brl pages t#a-t#c1\nti|~p#a & #a-#b", "ti|~,brl pages t#a-t#c1 p#a & #a-#b"),
    ("V04", "ti|~,ann ,hill", "ti|  ,ann ,hill"),
    ("V05", "ti|~,9 #b ,volumes", "ti|~,9 #c ,volumes"),
    ("V05", "ti|~,volume #a", "ti|~,volume #b"),
    ("V06", "#a-#b", "#a-#c"),
    ("V06", "t#a-t#c1", "t#a-t#b1"),
    ("V07", "ev|~,5d ( ,volume #a\n", ""),
    ("V08", "ev|~,5d ( ,volume #a", "ev|~,! ,5d"),
    ("V10", "sy|.=.= ", "sy|.=.2 "),
    ("V11", "sy+|  m5;n", "sy+|m5;n"),
    ("V12", "tp+|,brl4", "tp+|  ,brl4"),
    ("V12", "tp|  ,? $i;n is", "tp|  @.<,? $i;n"),
    ("V14", "toc:2/2+|    ,road \"", "toc:2/2+|  ,road \"\"\""),
    ("V14", "toc:2/2|  ,!", "toc:2/2|,!"),
    ("V15", '""" #aje', '"" #aje'),
    ("V16", '" #aje', '""#aje'),
    ("V17", "by ! ,riv] & ! ,l;g", 'by ! ,riv] & """""'),
    ("V18", "by ! ,riv] & ! ,l;g", "by ! ,riv] & ! ,l;g ,riv"),
    ("V19", '" #aa\n', '" #ab\n'),
    ("V09", "! boat 0 .1z r$", "! boat 0 .1z ^1r$"),
    ("V09", "! boat 0 .1z r$", "! boat 0 z r$"),
    ("V21", "cv|~,volume #b\n", "cv|~,volume #b\ncv|~,volume #c\n"),
    ("T02", "toc:1/2|,f/ ,\"ds \"\"", "toc:1/2|.1,f/ ,\"ds"),
    ("H01", "hc|~,3t5ts", "hc|,3t5ts"),
    ("H02", "hc|~,3t5ts", "hc|      ,3t5ts"),
]  # fmt: skip


def test_right_edition_passes(tmp_path: Path) -> None:
    assert_all_pass(Drawing(*EDITION).inspect(tmp_path), IDS)


@pytest.mark.parametrize("name, old, new", BREAKS)
def test_broken_edition_fails(name: str, old: str, new: str, tmp_path: Path) -> None:
    assert name in failed(Drawing(*broken(EDITION, old, new)).inspect(tmp_path))


def body(*pages: str, cells: int = 40) -> Drawing:
    """Body pages without print page numbers; each string is one page."""
    volume = "".join(f"= body {at} - -{page}" for at, page in enumerate(pages, 1))
    return Drawing(volume, cells=cells)


LONG = "p|  ,all day4\n" * 8
END = "\nev|~,! ,5d\n"
# What ends a page, what begins the next, and the check that judges the blank line (1, updates
# of March 2024): right, then wrong.
TOPS = [
    ("Z02", f"\n{LONG}" + "p|  ,! la/ l9es\np+|( ! page\np+|>e full4\n",
     f"\n\nhc:1/1|~,f]ry\n\np|  ,x 0 late4\n{END}", f"\nhc:1/1|~,f]ry\n\np|  ,x 0 late4\n{END}"),
    ("Z03", f"\n{LONG}", f"\nhc:1/1|~,f]ry\n\np|  ,x 0 late4\n{END}",
     f"\n\nhc:1/1|~,f]ry\n\np|  ,x 0 late4\n{END}"),
    ("R05", f" head=,riv]\n\n{LONG}p|  ,he\n", f" head=,riv]\n\np+|woke4\n{END}",
     f" head=,riv]\n\n\np+|woke4\n{END}"),
]  # fmt: skip


@pytest.mark.parametrize("name, first, right, wrong", TOPS, ids=[row[0] for row in TOPS])
def test_page_tops(name: str, first: str, right: str, wrong: str, tmp_path: Path) -> None:
    assert_all_pass(body(first, right).inspect(tmp_path), {name})
    assert name in failed(body(first, wrong).inspect(tmp_path))


@pytest.mark.parametrize("length, fails", [(39, False), (20, True)])
def test_a_long_word_leaves_the_first_line_to_the_page_number(
    length: int, fails: bool, tmp_path: Path
) -> None:
    """1.9, 1.11: a word that does not fit beside the print page number begins on line 2."""
    word = "https3_/" + "a" * (length - 8)
    drawn = f"= body 1 1 #a\n{LONG}p|  ,he\n= body 2 1 a#a\n\np+|{word}\n{END}"
    assert ("Z03" in failed(Drawing(drawn).inspect(tmp_path))) is fails


@pytest.mark.parametrize(
    "line, fails",
    [
        ('maf|    x "7 aaaaaaaaaaaaaaaaaaaaaaaaaaaaaa', False),  # A line of a formula is whole.
        ('maf|    x "7 aaaaaaaa', True),
        ('p+|"7 aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa', False),  # So is a sign with what follows.
        ("p+|;$#d aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", False),  # A box with its words.
        ("p+|x aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", True),
    ],
)
def test_a_formula_leaves_the_first_line_to_the_page_number(
    line: str, fails: bool, tmp_path: Path
) -> None:
    """1.11; Guidelines for Technical Material 1: a line of a formula breaks before a sign of
    comparison, not behind it."""
    tag = "maf" if line[:3] == "maf" else "p"
    drawn = f"= body 1 1 #a\n{LONG}{tag}|  ,he\n= body 2 1 a#a\n\n{line.replace('maf', 'maf+')}\n"
    assert ("Z03" in failed(Drawing(drawn + END).inspect(tmp_path))) is fails


def test_an_entry_of_contents_leaves_the_first_line_to_the_page_number(tmp_path: Path) -> None:
    """1.9, 2.10: also where contents stand among the text, as print has them."""
    entry = 'toc:1/1|,"o """""""""""""""""""""""""""""" #a\n'
    drawn = f"= body 1 1 #a\n{LONG}\n{entry}= body 2 1 a#a\n\n{entry}{END}"
    assert "Z03" not in failed(Drawing(drawn).inspect(tmp_path))
    assert "Z03" in failed(Drawing(drawn.replace(" a#a", " -")).inspect(tmp_path))


def test_nothing_is_due_at_the_top_of_a_page_that_is_asked_for(tmp_path: Path) -> None:
    """1.9: a new page that a section asks for begins on its first line."""
    _, first, _, wrong = TOPS[0]
    drawing = body(first, wrong)
    row = next(row for row in drawing.trace if (row["page"], row["line"]) == (2, 1))
    row["asked"] = True
    assert "Z02" not in failed(drawing.inspect(tmp_path))


def test_end_of_volume_beside_the_page_number(tmp_path: Path) -> None:
    """1.6: on the last line of a page the line stands clear of the braille page number."""
    line = "ev|{},,,5d ( volume,' #a\n"
    lines = "\n" + "p|  ,all day4\n" * 11
    right, wrong = (body(lines + line.format(" " * free), cells=28) for free in (3, 2))
    assert "V07" not in failed(right.inspect(tmp_path))
    assert "V07" in failed(wrong.inspect(tmp_path))


def test_contents_clear_of_page_numbers(tmp_path: Path) -> None:
    """2.10: no contents entry beside a page number."""
    entry = 'toc:1/1|,"o """""""""""""""""""""""""""""" #a\n'
    wide = 'toc:1/1|,two """"""""""""""""""""""""""""" #aa\n'
    right = Drawing(f"= p p1 - -\nhc|~,3t5ts\n\n{wide * 4}", f"= body 1 - -\np|  ,a\n{END}")
    found = right.inspect(tmp_path)
    assert found.state["P15"] == "passed"
    wrong = Drawing(f"= p p1 - -\nhc|~,3t5ts\n\n{wide * 9}{entry}")
    assert "P15" in failed(wrong.inspect(tmp_path))


def test_centred_lines_of_contents(tmp_path: Path) -> None:
    """2.10: no blank line between successive centred lines."""
    entry = "toc:1/1|,a " + '"' * 35 + " #a\n"
    right = f"= p p1 - -\nhc|~,3t5ts\n\ncv|~,volume #a\n{entry}"
    assert Drawing(right).inspect(tmp_path).state["V20"] == "passed"
    wrong = right.replace("#a\ntoc", "#a\n\ntoc")
    assert "V20" in failed(Drawing(wrong).inspect(tmp_path))


@pytest.mark.parametrize(
    "old, new",
    [(',b """', ',c """'), ("= body 2 - -\nhc:1/1|~,b", "= body 2 - -\nhc:1/1|~,d")],
    ids=["not in volume 1", "not in this volume"],
)
def test_contents_of_each_volume(old: str, new: str, tmp_path: Path) -> None:
    """2.10: volume 1 lists the entries of all volumes, a later volume its own."""
    dots = '"' * 34
    one = f"= p p1 - -\nhc|~,3t5ts\n\ncv|~,volume #a\ntoc:1/1|,a {dots}  #a\n"
    one += f"cv|~,volume #b\ntoc:1/1|,b {dots}  #b\n= body 1 - -\nhc:1/1|~,a\n\np|  ,w\n"
    two = f"= p p1 - -\nhc|~,3t5ts\n\ntoc:1/1|,b {dots}  #b\n"
    two += f"= body 2 - -\nhc:1/1|~,b\n\np|  ,w\n{END}"
    volumes = (one.replace("  #", '" #'), two.replace("  #", '" #'))
    assert "V13" not in failed(Drawing(*volumes).inspect(tmp_path))
    wrong = (volumes[0], broken((volumes[1],), old, new)[0])
    if "d" in new[-1:]:
        wrong = (f"{volumes[0]}= body 9 - -\nhc:1/1|~,b\n\np|  ,w\n", wrong[1])
    assert "V13" in failed(Drawing(*wrong).inspect(tmp_path))


def test_contents_leave_no_heading_out(tmp_path: Path) -> None:
    """2.10: volume 1 lists every heading of a rank, whatever marks of notes they have."""
    dots = '"' * 34
    entries = "".join(
        f"toc:1/1|,{word} {dots} #a\n" for word in ("oak", "elm", "ash", "bay", "fir #ah")
    )
    body = "".join(
        f"hc:1/1|~,{word}\n\np|  ,w\n\n"
        for word in ("oak", "elm", "ash;9#a", "bay9#b", "fir #ah9#ab")
    )
    right = f"= p p1 - -\nhc|~,3t5ts\n\n{entries}= body 1 - -\n{body}{END}"
    assert Drawing(right).inspect(tmp_path).state["V13"] == "passed"
    loose = right.replace("hc:1/1|~,ash;9#a", "hc:1/1|~,ash\nhc:1/1+|~;9#a")  # Broken at its mark.
    assert Drawing(loose).inspect(tmp_path).state["V13"] == "passed"
    wrong = broken((right,), f"toc:1/1|,elm {dots} #a\n", "")
    assert "V13" in failed(Drawing(*wrong).inspect(tmp_path))


def test_a_volume_without_entries_needs_no_line_in_the_contents(tmp_path: Path) -> None:
    """2.10: the contents of volume 1 name the volumes that have entries."""
    dots = '"' * 35
    one = f"= p p1 - -\nhc|~,3t5ts\n\ncv|~,volume #a\ntoc:1/1|,a {dots} #a\n"
    one += "= body 1 - -\nhc:1/1|~,a\n\np|  ,w\n"
    own = f"= p p1 - -\nhc|~,3t5ts\n\ntoc:1/1|,b {dots} #b\n"
    two = f"= body 2 - -\np|  ,w\n{END}"
    assert "V21" not in failed(Drawing(one, two).inspect(tmp_path))
    three = f"= body 3 - -\np|  ,w\n{END}"
    assert "V21" in failed(
        Drawing(one, own + two, own.replace("#b", "#c") + three).inspect(tmp_path)
    )


@pytest.mark.parametrize("counts, fails", [((4, 3, 1), False), ((5, 2, 1), True)])
def test_volumes_of_like_length(counts: tuple[int, ...], fails: bool, tmp_path: Path) -> None:
    """1.6: volumes of similar size."""
    label, volumes = 0, []
    for count in counts:
        pages = range(label + 1, label + count + 1)
        volumes.append("".join(f"= body {n} - -\np|  ,all day4\n" for n in pages))
        label += count
    result = Drawing(*volumes).inspect(tmp_path)
    assert ("V24" in failed(result), result.state["V24"] != "not applicable") == (fails, True)


def test_a_volume_of_contents_alone_may_be_long(tmp_path: Path) -> None:
    """2.10: contents are all in one volume, so its length is left aside."""
    front = "".join(f"= p p{n} - -\np|  ,all day4\n" for n in range(1, 10))
    volumes = [front, *(f"= body {n} - -\np|  ,all day4\n" for n in (1, 2, 3))]
    assert "V24" not in failed(Drawing(*volumes).inspect(tmp_path))
    volumes[0] += volumes.pop(1)
    assert "V24" in failed(Drawing(*volumes).inspect(tmp_path))


def test_no_blank_line_above_a_separation_line(tmp_path: Path) -> None:
    """16.4: a list ends a page, the notes of its print page begin the next."""
    items = "\n" + "li:1/1|oak\n" * 11
    rest = f'\nnr|"333333\nno|#a ,old4\n{END}'
    assert "Z01" not in failed(body(items, rest).inspect(tmp_path))
    assert "Z01" in failed(body(items, f"\np|  ,old4\n{END}").inspect(tmp_path))


BOX_END = "bb|" + "g" * 40 + "\n"


@pytest.mark.parametrize(
    "lines, ends, fails",
    [(9, END, False), (8, END, True), (8, BOX_END + END, False), (7, BOX_END + END, True)],
)
def test_the_last_line_goes_with_the_end_of_the_volume(
    lines: int, ends: str, fails: bool, tmp_path: Path
) -> None:
    """1.6, 1.9, 7.1: it goes over where the line that tells the end does not fit below it."""
    text = "\n" + "p|  ,all day4\n" * (lines - 1) + "p|  ,he\n"
    found = failed(body(text, f"\np+|woke4\n{ends}").inspect(tmp_path))
    assert ("Z05" in found) is fails


@pytest.mark.parametrize("end, fails", [("-", False), ("4", True)])
def test_a_line_that_ends_in_a_hyphen_ends_no_page(end: str, fails: bool, tmp_path: Path) -> None:
    """1.10: a compound is not divided between pages, so the lines up to its end go over."""
    text = "\n" + "p|  ,all day4\n" * 8
    rest = f"\np|  ,a well{end}\np+|known{end}\np+|boat4\n"
    assert ("Z05" in failed(body(text, rest).inspect(tmp_path))) is fails


@pytest.mark.parametrize("below, fails", [("fo|$#d ,fi%", False), ("p|  $#d ,fi%", True)])
def test_a_question_goes_over_to_its_boxes(below: str, fails: bool, tmp_path: Path) -> None:
    """1.9; that they stay together is common practice, no source."""
    text = "\n" + "p|  ,all day4\n" * 6
    rest = f"\np|  ,what w y\np+|sell8\n{below}\n"
    assert ("Z05" in failed(body(text, rest).inspect(tmp_path))) is fails


@pytest.mark.parametrize("pages, fails", [((1, 2), False), ((2, 1), True)])
def test_right_hand_pages(pages: tuple[int, int], fails: bool, tmp_path: Path) -> None:
    """Appendix E: with both sides used, title page and first body page at the right."""
    title = "= t t1 - -\nti|~,tales\n"
    blank = "= t t2 - -\ntp|  ,a\n"
    text = "= body 1 - -\np|  ,a\n"
    drawn = title + blank + text if not fails else blank.replace("t2", "t9") + title
    drawn += "" if not fails else blank + text
    folder = Drawing(drawn).write(tmp_path)
    result = inspect(folder, interpoint=True)
    assert ({"B08", "B09"} <= failed(result)) is fails
    assert inspect(folder).state["B08"] == "not applicable"

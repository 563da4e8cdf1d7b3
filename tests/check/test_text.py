"""Headings, paragraphs, lists, boxes, displayed matter, exercises, tables, verse and notes: a
right page set, and the same broken in one way for each check (Braille Formats 2016, 3 to 22)."""

from __future__ import annotations

from pathlib import Path

import pytest

from .drawn import Drawing, assert_all_pass, broken, failed

HEADINGS = """= body 1 - -
hc:1/3|~,*apt]
hc:1/3+|~#d

h5:2/3|    ,w9t]
h7:3/3|      ,sn[ & ,ice
p|  ,sn[ falls :5 ! air is cold &
p+|/ill4

h5:2/3|    ,^w ,li/
li:1/1|cat
li:1/1|dog

p|  ,! goat wait$4
= body 2 - -
p|  ,! goat 0 l$4

brk|~"9 "9 "9

p|  ,! 5d4

h7:3/3|      ,map #ig
cap|      ,! h>bor

ev|~,! ,5d
"""
HEADING_BREAKS = [
    ("H01", "hc:1/3|~,*apt]", "hc:1/3|  ,*apt]"),
    ("H02", "hc:1/3|~,*apt]", "hc:1/3|     ,*apt]"),
    ("H03", "#d\n\nh5", "#d\nh5"),
    ("H04", "hc:1/3+|~#d\n\n", "\nhc:1/3+|~#d\n\n"),
    ("H05", "h5:2/3|    ,w9t]", "h5:2/3|  ,w9t]"),
    ("H06", "li/\nli", "li/\n\nli"),
    ("H06", "/ill4\n\nh5", "/ill4\nh5"),
    ("H09", "h7:3/3|      ,sn[", "h7:3/3|    ,sn["),
    ("H09", "h7:3/3|      ,sn[", "\nh7:3/3|      ,sn["),
    ("H10", "wait$4\n= body 2 - -", "wait$4\nh7:3/3|      ,b\n= body 2 - -"),
    ("H11", "h5:2/3|    ,^w ,li/\nli:1/1|cat\nli:1/1|dog\n\np|  ,! goat wait$4\n= body 2 - -\n",
     "h5:2/3|    ,^w ,li/\n= body 2 - -\n"),
    ("H12", "li:1/1|cat\nli:1/1|dog\n\np|  ,! goat wait$4\n= body 2 - -\n",
     "li:1/1|cat\n= body 2 - -\nli:1/1+|  dog\n\n"),
    ("H13", "h5:2/3|    ,^w ,li/\nli:1/1|cat\nli:1/1|dog\n\np|  ,! goat wait$4\n= body 2 - -\n",
     "h5:2/3|    ,^w\n= body 2 - -\nh5:2/3+|    ,li/\n"),
    ("H14", "h5:2/3|    ,^w ,li/", "h7:2/3|      ,^w ,li/"),
    ("H15", "hc:1/3|~,*apt]\nhc:1/3+|~#d\n\nh5:2/3|    ,w9t]\n", ""),
    ("H16", "h5:2/3|    ,^w ,li/", "h5:2/3|    .7,^w ,li/.'"),
    ("A01", "p+|/ill4", "p+|  /ill4"),
    ("H18", "#ig\n", "#ig\n\n"),
    ("A04", 'brk|~"9 "9 "9\n\n', 'brk|~"9 "9 "9\n'),
    ("A04", 'brk|~"9', 'brk|    "9'),
]  # fmt: skip

TEXT = """= body 1 - -
blk|,a block$ ?+
blk+|g is on4

blk|,ano!r4

xref|      ,see page #ab4

p|  ,! lr held .7a l;g l9e (
p+|^ws.' only4

dib|  ,come at once4
att|       ,ann ,hill
att+|       ,aunt
= body 2 - -

p|  ,x 0 late4
tn|      @.<,! table 2l is giv5 z a
tn+|    li/ 2c x is wide4@.>
p|  ,he sd @.<at noon@.> no4
cap@9/4|      ,figure #b ,! h>bor
cap+@9/4|    at ni<t
des@9|      @.<,?ree boats lie "!4@.>
p|  ,x is cold4

ev|~,! ,5d
"""
TEXT_BREAKS = [
    ("A01", "p|  ,x 0 late4", "p|    ,x 0 late4"),
    ("A02", "blk|,ano!r4", "blk|  ,ano!r4"),
    ("A02", "on4\n\nblk", "on4\nblk"),
    ("D07", "#ab4\n\np", "#ab4\np"),
    ("D01", "dib|  ,come", "dib|,come"),
    ("D02", "only4\n\ndib", "only4\ndib"),
    ("D03", "att|       ,ann", "att|     ,ann"),
    ("D03", "att+|       ,aunt", "att+|     ,aunt"),
    ("D03", "att+|       ,aunt", "att|            ,aunt"),
    ("D04", "once4\natt", "once4\n\natt"),
    ("D05", "att|       ,ann ,hill\natt+|       ,aunt\n= body 2 - -\n\n",
     "= body 2 - -\natt|       ,ann ,hill\n\n"),
    ("T03", "^ws.' only4", "^ws only4"),
    ("N01", "@.<at noon@.> no4", "@.<at noon no4"),
    ("N02", "@.<at noon@.>", "@.< at noon@.>"),
    ("N02", "@.<at noon@.>", "@.<at noon @.>"),
    ("N03", "@.<at noon@.>", "@.<a b c d e f g h@.>"),
    ("N04", "tn|      @", "tn|  @"),
    ("N04", "tn+|    li/", "tn+|  li/"),
    ("N05", "wide4@.>\np", "wide4@.>\n\np"),
    ("N06", "wide4@.>\np", "wide4@.>\n= body 3 - -\np"),
    ("I01", "cap@9/4|      ,fig", "cap@9/4|    ,fig"),
    ("I03", TEXT[TEXT.index("cap@9/4") : TEXT.index("p|  ,x is")],
     "des@9|      @.<,?ree boats lie \"!4@.>\ncap@9/4|      ,figure #b ,! h>bor\n"),
    ("I04", TEXT[TEXT.index("p|  ,he sd") :], """p@5|  ,he sd @.<at noon@.> no &
cap@9/4|      ,figure #b ,! h>bor
p+@5|w5t
"""),
]  # fmt: skip

LISTS = """= body 1 - -
p|  ,y w ne$ ^!4

li:1/3@a/2|_4 ,animals ) backb"os1
li:1/3+@a/2|      k9ds
li:2/3@a/2/2|  _4 ,mammals
li:3/3@a/2/2/2|    _4 bats
li:1/3@a/4|_4 ,birds
li:1/3@a/5|        ,m ab b+s
li:1/3+@a/5|      & wet

p|  ,! li/ 5ds4
= body 2 - -
dir|    ,*oose ! be/ answ]4 ,write
dir+|    xs lr4
dir|      ,? is m4
dir+|    ,g on4
ex:1/2@e/2|#d4 ,: ( ^! animals lives 9
ex:1/2+@e/2|    ! sea8
ex:2/2@e/2/2|  a4 ! frog
ex:2/2@e/2/4|  ;b4 ! :ale
ex:1/2@e/4|#e4 ,a dog is .-4

die|        ,! sn[ is deep4

ex:1/2|    ,:at "t ( ye> is x8
= body 3 - -

p|  ,r/4

ev|~,! ,5d
"""
LIST_BREAKS = [
    ("L01", "li:2/3@a/2/2|  _4", "li:2/3@a/2/2|    _4"),
    ("L02", "      k9ds", "    k9ds"),
    ("L03", "^!4\n\nli", "^!4\nli"),
    ("L03", "& wet\n\np", "& wet\np"),
    ("L04", "bats\nli", "bats\n\nli"),
    ("L05", "p|  ,! li/ 5ds4\n= body 2 - -\n",
     "p|  ,! li/ 5ds4\np|  ,a4\n\nli:1/1@b/2|a\n= body 2 - -\nli:1/1@b/4|b\n\n"),
    ("L06", "_4 ,birds", "_4  ,birds"),
    ("L09", "li:1/3+@a/5|      & wet", "li:1/3+@a/5|        & wet"),
    ("Q01", "dir|    ,*oose", "dir|  ,*oose"),
    ("Q01", "dir+|    ,g on4", "dir+|      ,g on4"),
    ("Q02", "ex:2/2@e/2/2|  a4", "ex:2/2@e/2/2|a4"),
    ("Q02", "    ! sea8", "  ! sea8"),
    ("Q04", "ex:2/2@e/2/2|  a4 ! frog\nex:2/2@e/2/4|  ;b4 ! :ale\n",
     "ex:2/2@e/2/2|  a4 ! frog\n= body 7 - -\nex:2/2@e/2/4|  ;b4 ! :ale\n"),
    ("Q06", ":ale\nex", ":ale\n\nex"),
    ("Q08", "dog is .-4", "dog is .-.-.-4"),
    ("Q07", "deep4\n\nex", "deep4\nex"),
]  # fmt: skip

VERSE = """= body 1 - -
p|  ,%e sang3

vs:1/2|,! sun goes d[n1
vs:1/2+|    al;g
vs:2/2|  ,& "o by "o

vs:1/2|,! moon comes up4
att|     ,wr5 ,abb

p|  ,we he>d4
= body 2 - -
hc:1/2|~,play

h5:2/2|    ,"*s
cast:1/1|,mrs4 ,p9e1 an old
cast:1/1+|  t1*]

sp|,mrs4 ,p9e3 ,:o left ! gate
sp+|  op54
sp|    ,g[ on
sd|      "<,%e goes4">
sd+|    ,& 5d4

ev|~,! ,5d
"""
VERSE_BREAKS = [
    ("Y01", "vs:2/2|  ,&", "vs:2/2|    ,&"),
    ("Y01", "vs:1/2+|    al;g", "vs:1/2+|  al;g"),
    ("Y02", "sang3\n\nvs", "sang3\nvs"),
    ("Y05", "cast:1/1+|  t1*]", "cast:1/1+|    t1*]"),
    ("Y04", "sp|,mrs4", "sp|,,mrs4"),
    ("Y06", "sp+|  op54", "sp+|op54"),
    ("Y06", "sd|      \"<", "sd|    \"<"),
]  # fmt: skip


LISTED_PLAY = """= body 1 - -
li:1/1|,9*1 n4 ,a m1sure4
li:1/1|,9sur.e1 n4 ,a

sp|    ,ag5t   ,my h\\se may
sp+|      burn4
sp|    ,[n]   ,sp>e me4

li:1/1|,9v5t1 v4
"""


def test_speeches_inside_an_item_hang_right_of_its_runovers(tmp_path: Path) -> None:
    """BF 8.3, 9.2, 14.5: as in a dictionary that quotes a play."""
    assert "Y06" not in failed(Drawing(LISTED_PLAY).inspect(tmp_path))
    broken_play = LISTED_PLAY.replace("sp+|      burn", "sp+|    burn")
    assert "Y06" in failed(Drawing(broken_play).inspect(tmp_path))


def test_the_rest_of_a_definition_begins_no_list(tmp_path: Path) -> None:
    """8.2: the second paragraph of a definition, after verse, on the last line of a page."""
    first = "= body 1 - -\nli:1/1@d/10:item|,yore\n\nvs:1/1@d/12/4/2|,sun\n"
    first += "\n".join(f"vs:1/1@d/12/4/{at}|,sun" for at in range(4, 18, 2)) + "\n\n"
    last = "li:1/1@d/{}|,it is sd\n= body 2 - -\nli:1/1@d/14:item|,ye>\n"
    rest = Drawing(first + last.format("12/6")).inspect(tmp_path)
    assert "L05" not in failed(rest)
    other = Drawing((first + last.format("12/6")).replace("@d/12/6|", "@e/12:item|"))
    assert "L05" in failed(other.inspect(tmp_path))


def test_verse_inside_an_item_of_a_narrow_page(tmp_path: Path) -> None:
    """13.3: verse further right inside an item, no margin so far that no words fit."""
    drawn = """= body 1 - -
li:1/1@a/2|,beg4

vs:6/8@a/2/4|{first},sun
vs:6/8@a/2/4+|{runover}sun
vs:1/8@a/2/6|    ,sun
"""
    right, wrong = (
        Drawing(drawn.format(first=" " * 14, runover=" " * at), cells=30) for at in (18, 20)
    )
    assert "Y01" not in failed(right.inspect(tmp_path))
    assert "Y01" in failed(wrong.inspect(tmp_path))


def test_the_cell_of_verse_inside_an_item_is_not_told_by_its_deepest_lines(
    tmp_path: Path,
) -> None:
    """13.3: a line at the last cell where any may start does not say how far right verse is."""
    drawn = """= body 1 - -
li:1/1@a/2|,beg4

vs:1/3@a/2/4|      ,sun
vs:1/3@a/2/4+|         sun
vs:3/3@a/2/6|         ,sun
"""
    assert "Y01" not in failed(Drawing(drawn, cells=20).inspect(tmp_path))
    wrong = drawn.replace("+|         sun", "+|       sun")
    assert "Y01" in failed(Drawing(wrong, cells=20).inspect(tmp_path))


@pytest.mark.parametrize("end, fails", [("-", False), ("_/", False), ('"', False), ("", True)])
def test_a_word_divided_at_a_line_end_is_one_word(end: str, fails: bool, tmp_path: Path) -> None:
    """3.1: an embedded note has seven words at most; an address over two lines is one of them."""
    drawn = f"= body 1 - -\np|  ,x@.<a b c d e f gg{end}\np+|hh@.> 0\n"
    result = Drawing(drawn).inspect(tmp_path)
    assert ("N03" in failed(result)) is fails
    if fails:
        (row,) = [row for row in result.failures if row.id == "N03"]
        assert row.found == "a note of 8 words"


TOP, BOTTOM, FULL = "7" * 40, "g" * 40, "=" * 40
BOXES = f"""= body 1 - -
hc:1/2|~,! box4

bt|{FULL}
bt|{TOP}
h5:2/2|    ,did ,y ,"k8
p|  ,bees c see colors4
bb|{BOTTOM}
bb|{FULL}
src|      ,f ! lib]y (
src+|    ! valley
= body 2 - -
bt|{TOP}
p|  ,"o4
bb|{BOTTOM}

bt|{TOP}
p|  ,two4
bb|{BOTTOM}

ev|~,! ,5d
"""
BOX_BREAKS = [
    ("X01", f"bb|{BOTTOM}", f"bb|{'g' * 39}7"),
    ("X01", f"bt|{TOP}", f"bt|  {'7' * 38}"),
    ("X02", f"bt|{TOP}", f"bt|{'7' * 30}"),
    ("X03", f"bb|{BOTTOM}\n", ""),
    ("X03", f"bb|{BOTTOM}\nbb|{FULL}", f"bb|{FULL}\nbb|{BOTTOM}"),
    ("X04", f"bt|{TOP}\nh5", f"bt|{TOP}\n\nh5"),
    ("X04", "colors4\nbb", "colors4\n\nbb"),
    ("X05", "box4\n\nbt", "box4\nbt"),
    ("X05", f"two4\nbb|{BOTTOM}\n\n", f"two4\nbb|{BOTTOM}\n"),
    ("X06", f"{BOTTOM}\n\nbt", f"{BOTTOM}\nbt"),
    ("X07", 'h5:2/2|    ,did ,y ,"k8\n', 'h5:2/2|    ,did ,y ,"k8\n= body 3 - -\n'),
    ("X08", "colors4\nbb", "colors4\n= body 3 - -\nbb"),
    ("X09", f"bb|{BOTTOM}\nbb", f"bb|{BOTTOM}\n\nbb"),
    ("X10", "= body 2 - -\nbt", "= body 2 - -\n\n\nbt"),
    ("X12", f"{FULL}\nsrc", f"{FULL}\n\nsrc"),
    ("D06", "src+|    ! valley", "src+|  ! valley"),
    ("H08", f"bt|{TOP}\nh5", f"bt|{TOP}\n\nh5"),
]  # fmt: skip

TABLES = """= body 1 - -
hc:1/2|~,lakes

p|  ,9 ! nor?4

th|,lake         ,>ea  ,dep?
tr|"33333333333  "333  "3333
ta|,blue ,lake   #abj  #ce
ta|,l;g ,pond "" #i "" #d

p|  ,ea* lake has fi%4
= body 2 - -
h5:2/2|    ,m ,lakes

th|,lake  ,>ea
tr|"3333  "333
ta|,l;g   #abj

ev|~,! ,5d
"""
TABLE_BREAKS = [
    ("K01", 'tr|"33333333333  "333  "3333', 'tr|"333333333333  "33  "3333'),
    ("K02", 'tr|"33333333333  "333  "3333', 'tr|"3333333333   "333  "3333'),
    ("K03", '"3333\nta', '"3333\n\nta'),
    ("K05", 'ta|,l;g ,pond "" #i', 'ta|,l;g ,pond""" #i'),
    ("K07", "#ce\nta", "#ce\n= body 7 - -\nta"),
    ("K12", "nor?4\n\nth", "nor?4\nth"),
    ("K12", "#d\n\np", "#d\np"),
    ("H07", "m ,lakes\n\nth", "m ,lakes\nth"),
]  # fmt: skip

NOTES = """= body 1 12 #ab
p|  ,! old mill;9#a 0 by ! road4
nr|"333333
no|;9#a ,! mill 0 burn$ 9 ! grt
no+|  fire4
no|    ,& "n x 0 built ag4
pt|-------------------------------------#ac
p|  ,! new mill;9#b /&s yet4
nr|"333333
no|;9#b ,x has no d4
= body 2 88 #hh
hc:1/1|~,9dex

ld|~;,a
ix:1/1|acorns1 #ab
ld|~;,b
ix:1/1|bees1 #g
= body 3 90 #ij
hc:1/1|~,books

bi:1/1@b/2|,moss1 ,ella4 ,! ,l;g
bi:1/1+@b/2|  ,road4
bi:1/1@b/4|",-4 ,! ,%ort ,road4

ev|~,! ,5d
"""
NOTE_BREAKS = [
    ("F01", 'nr|"333333', 'nr|"33333'),
    ("F02", 'road4\nnr|"333333\n', "road4\n"),
    ("F02", 'ag4\npt|', 'ag4\np|  ,m4\npt|'),
    ("F02", 'ag4\npt|', 'ag4\n\nli:1/1|_4 ,m4\n\npt|'),
    ("F04", "no+|  fire4", "no+|fire4"),
    ("F05", '"333333\nno|;9#b', '"333333\n= body 9 13 a#ac\nno|;9#b'),
    ("F06", "pt|-------------------------------------#ac\n", ""),
    ("J01", "hc:1/1|~,9dex", "p|  ,a4\n\nhc:1/1|~,9dex"),
    ("J02", "ld|~;,a", "ld|~,a"),
    ("J02", "ld|~;,a", "ld|;,a"),
    ("J03", "#ab\nld", "#ab\n\nld"),
    ("J04", "ld|~;,b\n", "ld|~;,b\n= body 9 89 #hi\n"),
    ("J06", "bi:1/1+@b/2|  ,road4", "bi:1/1+@b/2|    ,road4"),
    ("J06", ",road4\nbi", ",road4\n\nbi"),
]  # fmt: skip


@pytest.mark.parametrize(("last", "fails"), [("h5:2/3|    ,h\n", True), ("p|  ,text4\n", False)])
def test_a_series_of_headings_longer_than_a_page(last: str, fails: bool, tmp_path: Path) -> None:
    """BF 4.10: it may go over a page turn; its last heading stays with text all the same."""
    heads = "".join(f"h5:2/3|    ,{letter}\n\n" for letter in "abcde")
    pages = f"= body 1 - -\n{heads}= body 2 - -\n{heads}h5:2/3|    ,f\n"
    drawn = Drawing(f"{pages}{last}= body 3 - -\np|  ,text4\n\nev|~,! ,5d\n")
    assert ("H11" in failed(drawn.inspect(tmp_path))) is fails


def test_a_list_inside_a_note_is_of_the_note(tmp_path: Path) -> None:
    """16: notes stand between the separation line and the page change; this note goes on below
    a list of its own."""
    drawn = """= body 1 12 #ab
p|  ,! old mill;9#a 0 by ! road4
nr|"333333
no@8|;9#a ,! mill 0

li:1/1@8/4/2|_4 burn$

no@8/6|    ,& "n x 0 built ag4
pt|-------------------------------------#ac
p|  ,! new mill4

ev|~,! ,5d
"""
    assert "F02" not in failed(Drawing(drawn).inspect(tmp_path))
    assert "F02" in failed(Drawing(drawn.replace("@8/4/2", "@9/4/2")).inspect(tmp_path))


AREAS = {
    "headings": (HEADINGS, HEADING_BREAKS),
    "text": (TEXT, TEXT_BREAKS),
    "lists": (LISTS, LIST_BREAKS),
    "verse": (VERSE, VERSE_BREAKS),
    "boxes": (BOXES, BOX_BREAKS),
    "tables": (TABLES, TABLE_BREAKS),
    "notes": (NOTES, NOTE_BREAKS),
}
BREAKS = [pytest.param(drawn, *row, id=row[0]) for drawn, rows in AREAS.values() for row in rows]


@pytest.mark.parametrize("area", AREAS)
def test_right_pages_pass(area: str, tmp_path: Path) -> None:
    drawn, rows = AREAS[area]
    result = Drawing(drawn, lines=14).inspect(tmp_path)
    assert_all_pass(result, {row[0] for row in rows})


@pytest.mark.parametrize("drawn, name, old, new", BREAKS)
def test_broken_pages_fail(drawn: str, name: str, old: str, new: str, tmp_path: Path) -> None:
    pages = broken((drawn,), old, new)
    assert name in failed(Drawing(*pages, lines=14).inspect(tmp_path))

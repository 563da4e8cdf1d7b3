"""The ways in which `strength.py` breaks the rule of each check, one row a check."""

from __future__ import annotations

from .breakers import (
    Breaker,
    any_row,
    blank,
    close,
    double,
    empty_page,
    erase,
    gape,
    head,
    kind,
    lost_page,
    mark,
    number,
    opening,
    page_twice,
    row,
    shift,
    sub,
    swapped_pages,
    turn,
)

HEAD = kind("h-center", "h-5", "h-7", part="first")
TEXT = kind("para", "list", "exercise", "verse")
PARA = kind("para", style="paragraph")
BOXES = kind("box-top", "box-bottom")
TURN = kind("page-turn")


def _margins(*kinds: str, style: str = "") -> tuple[Breaker, ...]:
    begins = kind(*kinds, style=style, part="first")
    goes_on = kind(*kinds, style=style, part="runover")
    return shift(begins, -1, 1, 2), shift(goes_on, 1, 2, 3), shift(goes_on, -2, -1)


def _gaps(*kinds: str, style: str = "") -> tuple[Breaker, ...]:
    """No blank line above, none below."""
    lines = kind(*kinds, style=style)
    return close(lines, beside="other"), close(lines, below=True, beside="other")


def _other(number: str) -> str:
    """A number with another last digit."""
    return number[:-1] + ("b" if number[-1] == "h" else "h")


def _lettered(number: str) -> str:
    return "b" + number if number[0] == "#" else number


def _later(number: str) -> str:
    return "d" + number.lstrip("abc") if number[0] in "abc" else number


WAYS: dict[str, tuple[Breaker, ...]] = {
    "G01": (any_row(r"^(.*\S)$", r"\1" + "x" * 40), any_row(r"^( *)(\S)", " " * 44 + r"\2")),
    "G03": (any_row(r"[a-z]", "\u00e9"), any_row(r"[a-z]", "\u28ff"), any_row(r"[a-z]", "~")),
    "G04": (empty_page(series="body"),),
    "G05": (gape(HEAD), gape(kind())),
    "G10": (
        shift(kind("para", "list", part="runover"), 1, 2, 3),
        blank(kind("para", "list", "exercise", "verse", "tn", "note", part="runover")),
    ),
    "P03": (number(_lettered),),
    "P04": (
        number(_later),
        number(lambda n: n.lstrip("abcdefghijklmnopqrstuvwxyz") if n[0] in "ab" else n),
    ),
    "P05": (
        row(r" ([a-z])(#[a-j]+)$", r"\1 \2"),
        number(lambda n: ";" + n if n[0] in "abc" else n),
    ),
    "P06": (swapped_pages(series="body"), number(lambda n: "#a")),
    "P07": (sub(TURN, r"-(#[a-j]+)$", r"--"), number(_other)),
    "P11": (number(_other), number(lambda n: n + "a")),
    "P12": (row(r" {3}(\S+)$", r"xxx\1"), row(r" {2}(\S+)$", r"x \1")),
    "P13": (row(r" {3}(\S+)$", r"xxx\1", foot=True), row(r" {2}(\S+)$", r"x \1", foot=True)),
    "P14": (
        row(
            r" (\S+)$",
            r"\1",
        ),
        row(r" (\S+)$", r"\1", foot=True),
    ),
    "B01": (number(lambda n: "", foot=True),),
    "B02": (
        number(_other, foot=True, series="t"),
        page_twice(series="t"),
        swapped_pages(series="t"),
    ),
    "B03": (
        number(_other, foot=True, series="p"),
        page_twice(series="p"),
        swapped_pages(series="p"),
    ),
    "B04": (
        number(_other, foot=True, series="body"),
        page_twice(series="body"),
        swapped_pages(series="body"),
        lost_page(series="body"),
    ),
    "B06": (
        row(r" ([tp])(#[a-j]+)$", r"\1 \2", foot=True),
        number(lambda n: ";" + n if n[0] in "tp" else n, foot=True),
    ),
    "B07": (lost_page(series="body"), number(_other, foot=True, series="body")),
    "C01": (shift(TURN, 1, 2), sub(TURN, r"^--", ""), sub(TURN, r"-(#)", r" \1")),
    "C03": (turn(TURN, after=1, foot=True),),
    "C04": (turn(TURN),),
    "C15": (double(TURN),),
    "R01": (head(lambda words: words[:-1] + "x"), head(lambda words: words[:-2])),
    "R03": (head(str, 1), head(str, 2)),
    "R04": (head(str, 3), head(str, 6)),
    "V01": (opening("t", lambda volume, at: volume.pop(at) and None),),
    "V04": (shift(kind("title"), -40, -30, -20, 20),),
    "V05": (
        sub(kind("title"), r"#([a-j]+) ,volumes", "#j ,volumes"),
        sub(kind("title"), r",volume #[a-j]", ",volume #j"),
    ),
    "V06": (sub(kind("title"), r"t#a-t#[a-j]", "t#a-t#j"),),
    "V07": (shift(kind("end-of-volume"), -3, 3), erase(kind("end-of-volume"))),
    "V09": (
        sub(kind("symbols"), r"^\.=.\S+", '.=_^"k'),
        erase(kind("symbols", like=r"^\.=[.^_][127]")),
    ),
    "V10": (erase(kind("symbols", like=r"^\.=\.=")),),
    "V11": _margins("symbols"),
    "V12": _margins("para", style="notes"),
    "V13": (erase(kind("toc", style="contents")),),
    "V14": _margins("toc", style="contents"),
    "V15": (sub(kind("toc", like='""'), r'"( #)', r"\1"), sub(kind("toc", like='""'), r'""', '"')),
    "V16": (
        sub(kind("toc", like='""'), r' ""', ' "" ""'),
        sub(kind("toc", like='""'), r'" #', r'"#'),
        sub(kind("toc", like='""'), r' ""', '"""'),
    ),
    "V19": (
        sub(kind("toc", like='""'), r"[a-j]$", "j"),
        sub(kind("toc", like='""'), r"#[a-j]+$", "#aje"),
    ),
    "N01": (
        sub(kind("tn"), r"@\.>", ""),
        sub(kind("tn"), r"@\.<", ""),
        sub(kind("tn"), r"@\.>", "@.<"),
    ),
    "N02": (sub(kind("tn"), r"@\.<", "@.< "), sub(kind("tn"), r"@\.>", " @.>")),
    "N04": _margins("tn"),
    "N05": (
        blank(kind("tn", style="description", part="first")),
        blank(kind("tn", style="description", like="@[.]>$"), below=True),
    ),
    "N06": (turn(kind("table-head", style="table-columns")),),
    "H01": (shift(kind("h-center"), -40, -20, 20),),
    "H02": (shift(kind("h-center"), -3, -2, 2, 3),),
    "H03": _gaps("h-center"),
    "H05": (shift(kind("h-5"), -2, -1, 1, 2),),
    "H06": (*_gaps("h-5")[:1], blank(kind("h-5"), below=True)),
    "H08": (blank(HEAD, beside="box-top"),),
    "H09": (shift(kind("h-7"), -2, -1, 1, 2), close(kind("h-7"))),
    "H10": (turn(HEAD, after=1, foot=True),),
    "H11": (turn(HEAD, after=1), turn(HEAD, after=1, foot=True)),
    "H13": (turn(kind("h-center", "h-5", "h-7", part="runover")),),
    "H14": (
        mark(kind("h-5"), kind="h-7"),
        mark(kind("h-center", style="centred-heading"), kind="h-5"),
    ),
    "H15": (mark(kind("h-5"), kind="h-7"),),
    "H16": (
        sub(kind("h-center", "h-5", "h-7", like=r"^ +\S+ ?\S*$"), r"^( *)(\S.*)$", r"\1.7\2.'"),
    ),
    "A01": _margins("para", style="paragraph"),
    "A03": (blank(kind("para", style="paragraph", part="first"), beside="same"),),
    "T02": (
        sub(kind("toc", "title"), r"(\S)", r".1\1"),
        sub(kind("toc", "title"), r"(\S)", r"^7\1"),
    ),
    "T03": (sub(TEXT, r"[.^_]'", ""), sub(PARA, r" (\S)", r" ^7\1"), sub(PARA, r" (\S)", r" .7\1")),
    "I01": _margins("caption", style="caption"),
    "X01": (shift(BOXES, 1, 2), sub(BOXES, r"(.)..$", r"\1==")),
    "X02": (sub(BOXES, r"..$", ""), sub(BOXES, r".{9}$", "")),
    "X03": (erase(BOXES), double(BOXES), erase(kind("box-top"))),
    "X04": (blank(kind("box-top"), below=True), blank(kind("box-bottom"))),
    "X05": (close(kind("box-top")), close(kind("box-bottom"), below=True)),
    "X07": (turn(kind("box-top"), after=1), turn(kind("box-top"), after=1, foot=True)),
    "X08": (turn(kind("box-bottom")),),
    "L01": (shift(kind("list", part="first"), -2, -1, 1, 2),),
    "L02": (shift(kind("list", part="runover"), -2, -1, 1, 2),),
    "L03": _gaps("list"),
    "L04": (blank(kind("list", part="first"), beside="same"),),
    "D01": (shift(kind("displayed"), -2, -1, 1),),
    "D02": _gaps("displayed"),
    "D03": (shift(kind("attribution"), -2, -1, 1, 2),),
    "D04": (blank(kind("attribution")), close(kind("attribution"), below=True)),
    "D05": (turn(kind("attribution")),),
    "Q01": _margins("direction"),
    "Q02": _margins("exercise"),
    "Q04": (turn(kind("exercise", part="first", level=1), after=1),),
    "Q06": (*_gaps("exercise"), blank(kind("exercise", part="first"), beside="same")),
    "Q08": (sub(kind("exercise", "form"), r"\.-", ".-.-"),),
    "K01": (
        shift(kind("table-rule"), 1, 2),
        erase(kind("table-head", style="table-columns")),
        sub(kind("table-rule"), r"33( |$)", r"\1"),
    ),
    "K02": (sub(kind("table-rule"), r"  ", "   "), sub(kind("table-rule"), r"3  ", r"33 ")),
    "K03": (blank(kind("table-rule")), blank(kind("table-rule"), below=True)),
    "K05": (sub(kind("table"), r' "" ', ' ""'), sub(kind("table"), r'(?<=\S )"+', '"" ""')),
    "K06": (
        sub(kind("table", style="table-columns"), r'"{2,}', ""),
        sub(kind("table", style="table-columns"), r'"{3,}', '""'),
    ),
    "K07": (
        turn(kind("table", style="table-columns")),
        turn(kind("table", style="table-columns", part="runover")),
    ),
    "K08": (mark(kind("tn", style="table-note"), kind="para", style="paragraph"),),
    "K10": (
        sub(kind("table", style="table"), r"2 ", "1 "),
        sub(kind("table", style="table", like="3 .*2 "), r"3 ", "1 "),
    ),
    "K12": _gaps("table", "table-head"),
    "Y01": _margins("verse"),
    "Y02": _gaps("verse"),
    "Y03": (
        close(kind("verse", part="first"), beside="same"),
        blank(kind("verse", part="first"), beside="same"),
    ),
    "Y06": (*_margins("speech", style="speech")[1:], *_margins("speech", style="stage-direction")),
    "F01": (
        shift(kind("note-rule"), 1, 4),
        sub(kind("note-rule"), r"3$", ""),
        sub(kind("note-rule"), r'^"', ""),
    ),
    "F02": (erase(kind("note-rule")), mark(kind("note-rule"), kind="para", style="paragraph")),
    "F04": _margins("note", style="note"),
    "F05": (turn(kind("note-rule"), after=1),),
    "F06": (double(kind("note-rule")),),
    "J06": (*_margins("bibliography"), blank(kind("bibliography", part="first"))),
    "J07": (sub(kind("index"), r"#([a-j]+)$", r"#\1j"), sub(kind("index"), r" #[a-j]+$", "")),
    "Z05": (turn(PARA, after=0),),
    "B05": (opening("t", lambda volume, at: volume.insert(len(volume), volume.pop(at))),),
    "V02": (
        opening("body", lambda volume, at: volume.insert(0, volume.pop(at))),
        opening("t", lambda volume, at: volume.insert(3, volume.pop(at))),
    ),
    "V08": (sub(kind("end-of-volume"), r"\\S.*", ",! ,5d"),),
    "V17": (sub(kind("toc", part="first", like=r"^[^\"]{20,}$"), r"$", ' ""'),),
    "V18": (sub(kind("toc", like=' """+ '), r' "+ ', ' xxxxxxxxxxxxxxxxxxxxxx "" '),),
    "H04": (blank(kind("h-center", "h-5", "h-7", part="runover")),),
    "H18": (blank(kind("caption", style="caption"), beside="h-5"),),
    "X09": (blank(BOXES, beside="same"),),
    "X06": (
        close(kind("box-top"), beside="box-bottom"),
        blank(kind("box-top"), beside="box-bottom"),
    ),
    "L06": (sub(kind("list"), r"_4 ", "_4"), sub(kind("list"), r"_4 ", "_4  ")),
    "C02": (sub(TURN, r"-{6}#[a-j]+$", ""),),
    "C09": (blank(TURN, beside="list"), blank(TURN, below=True, beside="list")),
    "C07": (close(HEAD, beside="page-turn"),),
    "P10": (number(lambda n: ";" + n if "#" not in n else n),),
    "J02": (
        shift(kind(style="letter-division"), -2, 2),
        sub(kind(style="letter-division"), ";", ""),
    ),
    "Y04": (sub(kind("speech", style="speech", part="first"), r"^,([a-z])", r",,\\1"),),
    "Y05": _margins("list", style="cast"),
}

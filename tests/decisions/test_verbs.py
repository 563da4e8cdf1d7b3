"""Each verb on a small document: the page, or the tree, that comes of it.

The sections are those of Braille Formats 2016 (BF) and of the Rules of Unified English Braille
(UEB) whose layout or signs the decision asks for.
"""

from __future__ import annotations

import tomllib
from importlib import resources
from pathlib import Path

import pytest

from convert.decisions.changes import ACTIONS
from convert.decisions.verbs import braille, verbs
from convert.document.choices import Choice
from convert.edition import Edition
from convert.errors import JobError
from tests.decisions.case import converted, of_kind, pages, states, tree

SEA = "<h1>Sea</h1><p>Salt is white.</p><p>Air is thin.</p>"


def test_every_verb_has_an_action() -> None:
    assert set(verbs()) - set(ACTIONS) == {"accept", "move"}


def test_every_verb_says_what_it_does_and_where_that_comes_from() -> None:
    for verb in verbs().values():
        assert verb.says.endswith(".")
        assert verb.cite
        assert set(verb.optional) <= set(dict(verb.arguments))


@pytest.mark.parametrize("text", ["⠁⠃", "1 1-2", "1 12"])
def test_cells_may_be_written_as_dots(text: str) -> None:
    assert braille(text) == "⠁⠃"


def test_heading(tmp_path: Path) -> None:
    """BF 4.5: a heading of the second rank begins in cell 5, a blank line before it."""
    edition = converted(
        tmp_path,
        SEA,
        """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/4"
        expect = "Salt is white."
        do = "heading"
        level = 2
        """,
    )
    assert pages(edition) == (
        "             ,sea\n\n    ,salt is white4\n  ,air is thin4\n\n         ,,the ,,end"
    )
    assert states(edition) == ["applied"]


@pytest.mark.parametrize(
    "role, drawn",
    [
        ("blocked", "Paragraph role=blocked: Salt is white."),
        ("direction", "Paragraph role=direction: Salt is white."),
        ("table-note", "Paragraph role=table-note: Salt is white."),
        ("quotation", "Displayed role=quotation\n  Paragraph: Salt is white."),
        ("box", "Box role=box\n  Paragraph: Salt is white."),
        (
            "exercise",
            "ListBlock role=exercise kind=plain\n  ListItem\n    Paragraph: Salt is white.",
        ),
        ("verse", "Verse\n  VerseLine: Salt is white."),
    ],
)
def test_treat_as(tmp_path: Path, role: str, drawn: str) -> None:
    """BF 1.9, 7, 8.3, 9.2, 10, 11.2, 13: the roles a paragraph can have."""
    job = f'[[decision]]\nexpect = "Salt is white."\ndo = "treat-as"\nrole = "{role}"\n'
    assert drawn in tree(tmp_path, SEA, job)


def test_neighbours_made_a_list_are_one_list(tmp_path: Path) -> None:
    """BF 8.3: no blank line between the items of a list."""
    edition = converted(
        tmp_path,
        "<p>Bring:</p><p>bread</p><p>salt</p><p>Go.</p>",
        """
        [[decision]]
        expect = "bread"
        do = "treat-as"
        role = "list"
        [[decision]]
        expect = "salt"
        do = "treat-as"
        role = "list"
        """,
    )
    assert pages(edition).startswith("  ,bring3\n\nbread\nsalt\n\n  ,go4")


def test_a_heading_that_is_none(tmp_path: Path) -> None:
    job = '[[decision]]\nexpect = "Sea"\ndo = "treat-as"\nrole = "paragraph"\n'
    edition = converted(tmp_path, SEA, job)
    assert pages(edition).startswith("  ,sea\n  ,salt is white4\n  ,air is thin4")


TABLE = "<table><tr><td>one</td><td>two</td></tr><tr><td>three</td><td>four</td></tr></table>"


@pytest.mark.parametrize(
    "how, words", [("rows", "one two three four"), ("columns", "one three two four")]
)
def test_a_table_as_text(tmp_path: Path, how: str, words: str) -> None:
    job = f'[[decision]]\nexpect = "one"\ndo = "treat-as"\nrole = "text-by-{how}"\n'
    drawn = tree(tmp_path, TABLE, job)
    assert drawn.split("\n") == [f"Paragraph: {word}" for word in words.split()]


def test_a_box_taken_off(tmp_path: Path) -> None:
    body = '<aside epub:type="sidebar"><p>Did you know?</p></aside>'
    job = '[[decision]]\nexpect = "Did you know?"\ndo = "treat-as"\nrole = "plain"\n'
    assert tree(tmp_path, body, job) == "Paragraph: Did you know?"


def test_omit_a_block(tmp_path: Path) -> None:
    edition = converted(
        tmp_path,
        SEA,
        """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/4"
        expect = "Salt"
        do = "omit"
        why = "an advertisement"
        """,
    )
    assert pages(edition).startswith("             ,sea\n\n  ,air is thin4")
    assert edition.totals.lost == 0
    assert edition.totals.omitted == len("Salt is white.")
    (told,) = of_kind(edition, "decision.omitted")
    assert told.severity == "told"
    assert "an advertisement" in told.message


def test_omit_a_stretch_keeps_the_rest(tmp_path: Path) -> None:
    edition = converted(
        tmp_path,
        SEA,
        """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/4/1:5"
        expect = "is white"
        do = "omit"
        why = "a slip"
        """,
    )
    assert ",salt4\n" in pages(edition)
    assert edition.totals.lost == 0


def test_omit_needs_its_print_page_turns(tmp_path: Path) -> None:
    """BF 1.11: the print page that begins in omitted matter still begins."""
    body = '<p>A</p><p>go <span epub:type="pagebreak" title="7"/>on</p><p>Z</p>'
    job = '[[decision]]\nexpect = "go on"\ndo = "omit"\nwhy = "x"\n'
    assert tree(tmp_path, body, job) == "Paragraph: A\nPrintPage label=7\nParagraph: Z"


def test_an_item_goes_with_its_number(tmp_path: Path) -> None:
    body = "<ol><li>one</li><li>two</li></ol>"
    job = '[[decision]]\nexpect = "two"\ndo = "omit"\nwhat = "paragraph"\nwhy = "x"\n'
    drawn = tree(tmp_path, body, job)
    assert "two" not in drawn
    assert "2." not in drawn


PICTURE = '<p>See:</p><figure><img src="map.png" alt="IMG 1"/></figure>'


def test_describe(tmp_path: Path) -> None:
    """BF 6.2: the description stands in a transcriber's note."""
    edition = converted(
        tmp_path,
        PICTURE,
        """
        [[decision]]
        expect = "map.png"
        do = "describe"
        text = "A river."
        """,
    )
    assert "@.<,picture3 ,a\n    river4@.>" in pages(edition)
    assert edition.totals.lost == 0
    assert of_kind(edition, "decision.words-added")[0].message.endswith("“A river.”.")


def test_decorative(tmp_path: Path) -> None:
    """BF 6.4: a picture that says nothing is left out."""
    job = '[[decision]]\nexpect = "map.png"\ndo = "decorative"\nwhy = "an ornament"\n'
    edition = converted(tmp_path, PICTURE, job)
    assert pages(edition).startswith("  ,see3\n\n         ,,the ,,end")
    assert edition.totals.lost == 0
    assert of_kind(edition, "decision.omitted")


def test_describe_a_picture_in_a_line(tmp_path: Path) -> None:
    body = '<p>Press <img src="key.png" alt="x"/> now.</p>'
    job = '[[decision]]\nexpect = "key.png"\ndo = "describe"\ntext = "star"\n'
    edition = converted(tmp_path, body, job)
    assert ",press @.<star@.> now4" in pages(edition)
    assert edition.totals.lost == 0


def test_insert_note_before_a_block(tmp_path: Path) -> None:
    """BF 3.1.4: a short note is embedded at the start of the paragraph it stands before."""
    job = """
        [[decision]]
        expect = "Salt is white."
        do = "insert-note"
        text = "In red."
        """
    assert "  @.<,in red4@.> ,salt is\nwhite4" in pages(converted(tmp_path, SEA, job))


def test_insert_note_in_a_line(tmp_path: Path) -> None:
    job = """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/4/1:0"
        expect = "Salt"
        do = "insert-note"
        text = "red"
        """
    assert "  ,salt @.<red@.> is white4" in pages(converted(tmp_path, SEA, job))


@pytest.mark.parametrize("where", ["", "everywhere = true\n"])
def test_language(tmp_path: Path, where: str) -> None:
    """UEB 13.2: words in another language are not contracted."""
    body = "<p>The word and here.</p>"
    job = f'[[decision]]\nexpect = "and"\n{where}do = "language"\nlang = "fr"\n'
    if not where:
        job = job.replace('expect = "and"', 'at = "OEBPS/c1.xhtml!/4/2/1:9"\nexpect = "and"')
    assert "<@fr|and>" in tree(tmp_path, body, job)


def test_language_none_makes_words_those_of_the_work(tmp_path: Path) -> None:
    body = '<p>A <span lang="fr">menu</span> card.</p>'
    job = '[[decision]]\nexpect = "A menu card."\ndo = "language"\nlang = "none"\n'
    assert tree(tmp_path, body, job) == "Paragraph: A menu card."


def test_typeform_dropped_in_the_whole_work(tmp_path: Path) -> None:
    """BF 5: emphasis that means nothing is not shown; ``everywhere`` without print is all."""
    body = "<p>A <b>b</b> <i>c</i></p><p><b>d</b> e</p>"
    job = '[[decision]]\neverywhere = true\ndo = "typeform"\nhow = "drop"\nform = "bold"\n'
    assert tree(tmp_path, body, job) == "Paragraph: A b <italic|c>\nParagraph: d e"


def test_typeform_set_on_a_word(tmp_path: Path) -> None:
    """UEB 9.5: print shown in colour as the first transcriber-defined typeform."""
    job = """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/4/1:0"
        expect = "Salt"
        do = "typeform"
        how = "set"
        form = ["transcriber-1"]
        """
    assert "  @#1,salt is white4" in pages(converted(tmp_path, SEA, job))


def test_typeform_kept_where_the_style_drops_it(tmp_path: Path) -> None:
    """BF 4.3, 5.3: typeforms of a whole heading are dropped, unless a person keeps them."""
    body = "<h1><i>Sea</i></h1><p>Salt.</p>"
    job = '[[decision]]\nexpect = "Sea"\ndo = "typeform"\nhow = "keep"\n'
    assert of_kind(converted(tmp_path, body), "layout.typeform-dropped")
    edition = converted(tmp_path, body, job.replace("expect", 'at = "OEBPS/c1.xhtml!/4/2"\nexpect'))
    assert ".1,sea" in pages(edition)
    assert not of_kind(edition, "layout.typeform-dropped")


def test_read_becomes_a_choice(tmp_path: Path) -> None:
    body = "<p>NATO and NATOs met NATO.</p>"
    job = '[[decision]]\nexpect = "NATO"\neverywhere = true\ndo = "read"\nas = "letters"\n'
    edition = converted(tmp_path, body, job)
    assert edition.document.choices == (Choice(0, 4, "letters"), Choice(19, 23, "letters"))


def test_read_as_cells(tmp_path: Path) -> None:
    job = """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/4/1:0"
        expect = "Salt"
        do = "read"
        as = "cells"
        cells = "2-3-4 1"
        """
    edition = converted(tmp_path, SEA, job)
    assert edition.document.choices == (Choice(4, 8, "cells", "⠎⠁"),)


def test_print_is_replaced_and_stays_in_the_record(tmp_path: Path) -> None:
    """UEB 3.26: a sign without braille is told in words."""
    body = "<p>Press \u2318 now.</p>"
    job = '[[decision]]\nexpect = "\u2318"\neverywhere = true\ndo = "print"\ntext = "command"\n'
    edition = converted(tmp_path, body, job)
    assert pages(edition).startswith("  ,press command now4")
    assert edition.totals.lost == 0
    assert edition.totals.omitted == 1
    assert "\u2318" in edition.document.ledger.text
    assert not of_kind(edition, "ueb.unknown-character")
    assert of_kind(edition, "decision.replaced")[0].severity == "told"
    assert not of_kind(edition, "check.failed-error")


def test_answer_space(tmp_path: Path) -> None:
    """UEB 7.2.3: room for an answer is one sign, whatever its length in print."""
    body = "<p>Name: ........</p>"
    job = '[[decision]]\nexpect = "........"\ndo = "answer-space"\nkind = "line"\n'
    edition = converted(tmp_path, body, job)
    assert pages(edition).startswith(",name3 .-")
    assert edition.totals.lost == 0


@pytest.mark.parametrize(
    "stanza, choice",
    [
        ('do = "break-before"\nof = "page"', Choice(19, 22, "page-before")),
        ('do = "break-before"\nof = "volume"', Choice(19, 22, "volume-before")),
        ('do = "keep"\nhow = "together"', Choice(19, 22, "keep-together")),
        ('do = "keep"\nhow = "with-next"', Choice(19, 22, "keep-with-next")),
        ('do = "blank-before"\nlines = 1', Choice(19, 22, "blank-before", "1")),
    ],
)
def test_choices_for_the_formatter(tmp_path: Path, stanza: str, choice: Choice) -> None:
    job = f'[[decision]]\nexpect = "Go"\n{stanza}\n'
    edition = converted(tmp_path, f"{TABLE}<p>Go.</p>", job)
    assert edition.document.choices == (choice,)
    assert states(edition) == ["applied"]


def test_the_form_of_a_table_is_a_choice(tmp_path: Path) -> None:
    job = '[[decision]]\nexpect = "one"\ndo = "table-format"\nform = "linear"\n'
    edition = converted(tmp_path, TABLE, job)
    assert edition.document.choices == (Choice(0, 18, "table-format", "linear"),)


LAKES = (
    "<table><tr><th>Lake</th><th>Area</th><th>Fish</th></tr>"
    "<tr><td>Blue</td><td>10</td><td>pike</td></tr>"
    "<tr><td>Long</td><td>9</td><td></td></tr></table>"
)


def test_the_columns_of_a_table_in_another_order(tmp_path: Path) -> None:
    """BF 3.1, 11.1: a change of a table is told by a transcriber's note before it."""
    job = '[[decision]]\nexpect = "Lake"\ndo = "column-order"\norder = [1, 3, 2]\n'
    edition = converted(tmp_path, LAKES, job, lines=20)
    drawn = pages(edition)
    told = "@.<,order of the columns changed4 ,they are columns #a1 #c1 #b of print4@.>"
    assert told in " ".join(drawn.replace("\n--\n", "\n").split())
    rows = [line.split() for line in drawn.split("\n")]
    assert [",lake", ",fish", ",area"] in rows
    assert [",blue", "pike", "#aj"] in rows
    assert edition.totals.lost == 0
    assert [dict(f.facts)["order"] for f in of_kind(edition, "layout.table-reordered")] == [
        "1, 3, 2"
    ]


@pytest.mark.parametrize(
    "table, order, reason",
    [
        (LAKES, "[2, 1]", "the order has 2 columns and the table 3"),
        (
            LAKES.replace("<td>9</td><td></td>", '<td colspan="2">9</td>'),
            "[2, 1, 3]",
            "an entry covers several of its columns",
        ),
        (
            LAKES.replace("pike", 'pike<span epub:type="pagebreak" title="7"/> eel'),
            "[2, 1, 3]",
            "a print page turns inside an entry",
        ),
    ],
)
def test_an_order_of_columns_that_cannot_be(
    tmp_path: Path, table: str, order: str, reason: str
) -> None:
    job = f'[[decision]]\nexpect = "Lake"\ndo = "column-order"\norder = {order}\n'
    edition = converted(tmp_path, table, job, lines=20)
    refused = of_kind(edition, "layout.choice-not-followed")
    assert [dict(f.facts)["reason"] for f in refused] == [reason]
    assert edition.totals.lost == 0


@pytest.mark.parametrize("order", ["[1]", "[1, 1]", "[0, 1]", "[1, 3]", '"2 1"', "[true, 2]"])
def test_an_order_names_every_column_once(tmp_path: Path, order: str) -> None:
    job = f'[[decision]]\nexpect = "Lake"\ndo = "column-order"\norder = {order}\n'
    with pytest.raises(JobError, match="the numbers of all columns, each once"):
        converted(tmp_path, LAKES, job)


def test_contents_wording(tmp_path: Path) -> None:
    """BF 2.10: the contents list a heading; the wording may be shortened by a person."""
    job = '[[decision]]\nexpect = "Sea"\ndo = "contents"\ntext = "The tides"\n'
    body = f"{SEA}<h1>Land</h1><p>Dry.</p>"
    edition = converted(tmp_path, body, job, front_pages=True)
    contents, text = pages(edition).split("\n--\n")[-2:]
    assert ",the tides" in contents
    assert ",sea" not in contents
    assert ",sea" in text
    assert edition.totals.lost == 0


def test_the_depth_of_the_contents(tmp_path: Path) -> None:
    """Common practice, no source: the contents list three ranks; a person may ask for fewer."""
    body = "<h1>Sea</h1><p>Salt.</p><h2>Tides</h2><p>Ebb.</p><h1>Land</h1><p>Dry.</p>"
    for levels, listed in ((1, False), (2, True)):
        edition = converted(tmp_path, body, f"contents-levels = {levels}\n", front_pages=True)
        assert (',tides """' in pages(edition)) is listed


def _symbols_page(edition: Edition) -> str:
    """The special symbols page, its lines joined; empty if there is none."""
    found = [page for page in pages(edition).split("\n--\n") if "symbols" in page.split("\n")[0]]
    return " ".join(found[0].split()) if found else ""


SYMBOLS = """
[[symbol]]
cells = "1 2-4-5"
means = "a gull"

[[symbol]]
cells = "1-2-3-4-5-6 1-2-3-4-5-6 1-2-3-4-5-6"
means = "a whale"
"""


def test_a_row_of_ones_own_on_the_symbols_page(tmp_path: Path) -> None:
    """BF 2.5: a sign that is used is listed in the volume that uses it, after the dot locator."""
    edition = converted(tmp_path, "<p>ajar</p>", SYMBOLS, front_pages=True)
    page = _symbols_page(edition)
    assert page.index(",dot locator for mention") < page.index(".=aj")
    assert "a gull" in page
    assert "whale" not in page
    unused = of_kind(edition, "layout.symbol-unused")
    assert [dict(f.facts)["dots"] for f in unused] == [" ".join(["1-2-3-4-5-6"] * 3)]


def test_a_row_left_out_of_the_symbols_page(tmp_path: Path) -> None:
    """BF 2.5: without any sign to list there is no symbols page."""
    body = "<p>Warm: <i>sea</i> and 20° too</p>"
    assert ".=^j" in _symbols_page(converted(tmp_path, body, "", front_pages=True))
    job = '[[symbol]]\ncells = "4-5 2-4-5"\nleave-out = true\n'
    assert ".=^j" not in _symbols_page(converted(tmp_path, body, job, front_pages=True))
    job = '[[symbol]]\ncells = "4-5 2-4-5"\nmeans = "degrees of warmth"\n'
    assert "degrees of warmth" in _symbols_page(converted(tmp_path, body, job, front_pages=True))


@pytest.mark.parametrize(
    "row",
    ['means = "x"', 'cells = "1-9"\nmeans = "x"', 'cells = "1"', 'cells = "1"\nmeaning = "x"'],
)
def test_a_wrong_row_for_the_symbols_page(tmp_path: Path, row: str) -> None:
    with pytest.raises(JobError, match=r"row 1 of \[\[symbol\]\] cannot be read"):
        converted(tmp_path, SEA, f"[[symbol]]\n{row}\n")


PAGES = '<p>A</p><div epub:type="pagebreak" title="7"/><p>Go on.</p>'


@pytest.mark.parametrize(
    "expect, label, drawn",
    [
        ("7", "8", "Paragraph: A\nPrintPage label=8\nParagraph: Go on."),
        ("7", "none", "Paragraph: A\nParagraph: Go on."),
        ("7", "unnumbered", "Paragraph: A\nPrintPage\nParagraph: Go on."),
    ],
)
def test_print_page_label(tmp_path: Path, expect: str, label: str, drawn: str) -> None:
    """BF 1.11: print page numbers as print has them."""
    job = f'[[decision]]\nexpect = "{expect}"\ndo = "print-page"\nlabel = "{label}"\n'
    assert tree(tmp_path, PAGES, job) == drawn


def test_print_page_begun_before_a_block_and_inside_one(tmp_path: Path) -> None:
    edition = converted(
        tmp_path,
        SEA,
        """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/4"
        expect = "Salt"
        do = "print-page"
        label = "12"
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/6/1:7"
        expect = "thin"
        do = "print-page"
        label = "13"
        """,
    )
    assert edition.document.print_pages == ("12", "13")
    (none,) = of_kind(edition, "read.no-print-pages")
    assert none.severity == "told"
    assert "print-page" in none.settled


def test_move_an_aside(tmp_path: Path) -> None:
    """BF 1.2, 7: an aside that print sets beside the text stands where the text is not cut."""
    body = "<p>First</p><aside><p>By the way</p></aside><p>second.</p>"
    job = """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/4"
        what = "box"
        expect = "By the way"
        do = "move"
        to = "OEBPS/c1.xhtml!/4/6"
        beside = "second."
        where = "after"
        """
    drawn = tree(tmp_path, body, job)
    assert drawn.startswith("Paragraph: First\nParagraph: second.\nBox")


MATHS = (
    '<p>So <math xmlns="http://www.w3.org/1998/Math/MathML" alttext="x plus 1">'
    "<mi>x</mi><mo>+</mo><mn>1</mn></math>.</p>"
)


@pytest.mark.parametrize(
    "stanza, kind, value",
    [
        ('do = "math-code"\ncode = "nemeth"', "math-code", "nemeth"),
        ('do = "math-text"\ntext = "x and one"', "math-text", "x and one"),
        ('do = "read"\nas = "cells"\ncells = "1"', "cells", "⠁"),
    ],
)
def test_choices_for_formulas(tmp_path: Path, stanza: str, kind: str, value: str) -> None:
    edition = converted(tmp_path, MATHS, f'[[decision]]\nexpect = "x+1"\n{stanza}\n')
    assert edition.document.choices == (Choice(3, 6, kind, value),)


def test_accept_by_place_and_by_id(tmp_path: Path) -> None:
    plain = converted(tmp_path, "<p>Press \u2318 now.</p>")
    (stop,) = of_kind(plain, "ueb.unknown-character")
    (pages_,) = of_kind(plain, "read.no-print-pages")
    edition = converted(
        tmp_path,
        "<p>Press \u2318 now.</p>",
        f"""
        [[decision]]
        expect = "\u2318"
        do = "accept"
        kind = "ueb.unknown-character"
        why = "explained on page t2"
        by = "AB"
        [[decision]]
        do = "accept"
        kind = "read.no-print-pages"
        id = "{pages_.id}"
        why = "a web page"
        """,
    )
    assert states(edition) == ["accepted", "accepted"]
    (settled,) = of_kind(edition, "ueb.unknown-character")
    assert stop.severity == "stop"
    assert settled.severity == "told"
    assert settled.settled == ("Accepted by AB: explained on page t2 (tides.job.toml, line 2).")
    assert edition.decisions[0].settled == (stop.id,)


def test_every_kind_of_decision_is_served_or_says_why_not() -> None:
    from convert.job import KEYS

    text = (resources.files("convert.decisions") / "kinds.toml").read_text("utf-8")
    rows = tomllib.loads(text)["kind"]
    assert len(rows) == 24
    for row in rows:
        assert row.get("verbs") or row.get("keys"), row["what"]
        assert not row.get("not_yet"), row["what"]
        assert set(row.get("verbs", ())) <= set(verbs())
        assert set(row.get("keys", ())) <= set(KEYS)

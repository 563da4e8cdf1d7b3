"""Verbs for pictures, notes, speeches, tables and what was left out: the pages that come of them.

The sections are those of Braille Formats 2016 (BF).
"""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest

from convert.findings import TOLD
from convert.writers.pictures import picture_facts, pictures
from tests.decisions.case import converted, of_kind, pages, states, tree

END = "\n\n         ,,the ,,end"
MAP = (
    '<p>See the map:</p><figure><img src="map.png" alt="Old map"/>'
    "<figcaption>Map 1</figcaption></figure><p>It is old.</p>"
)


def drawn(text: str) -> str:
    """A page drawn in a test, without the indent of the test."""
    return dedent(text).strip("\n").rstrip()


def test_pages_are_kept_for_a_tactile_graphic(tmp_path: Path) -> None:
    """BF 6: the note, then whole pages for the graphic; the text goes on with a new page."""
    job = '[[decision]]\nexpect = "map.png"\ndo = "tactile"\npages = 2\ntext = "Next."\n'
    edition = converted(tmp_path, MAP, job)
    note = "  ,see the map3\n      ,map #a\n      @.<,picture3 ,next4@.>"
    assert pages(edition) == f"{note}\n--\n\n--\n\n--\n  ,it is old4{END}"
    assert states(edition) == ["applied"]
    assert all(finding.severity == TOLD for finding in of_kind(edition, "check.failed-advice"))
    (row,) = pictures(edition)
    assert row.json()["kept_pages"] == [{"volume": 1, "page": "2"}, {"volume": 1, "page": "3"}]
    assert row.state == "2 braille pages kept for a tactile graphic"
    facts = dict(picture_facts(row))
    kept = "volume 1, braille page 2; volume 1, braille page 3"
    assert facts["Kept for a tactile graphic"] == kept


@pytest.mark.parametrize("text, note, omitted", [("", "bell", 0), ("Next.", ",next4", 4)])
def test_a_page_is_kept_for_a_picture_in_a_line(
    tmp_path: Path, text: str, note: str, omitted: int
) -> None:
    """The page follows the paragraph; a decision without words keeps those of the source."""
    body = '<p>A <img src="in.png" alt="bell"/> rings.</p><p>So.</p>'
    words = f'text = "{text}"\n' if text else ""
    job = f'[[decision]]\nexpect = "in.png"\ndo = "tactile"\n{words}'
    edition = converted(tmp_path, body, job)
    first = f"  ,a rings4\n      @.<,picture3 {note}@.>"
    assert pages(edition) == f"{first}\n--\n\n--\n  ,so4{END}"
    assert edition.totals.omitted == omitted


PLAY = "<p><b>Anna.</b> Come in.</p><p>Ben: No, I <i>stay</i> out here as long as it rains.</p>"
SPEECHES = """
,anna4 ,come in4
,ben3 ,no1 ,i .1stay out here
  as long as it rains4
"""


def test_a_paragraph_as_a_speech(tmp_path: Path) -> None:
    """BF 14.1: 1-3, the words on the line of the speaker's name."""
    job = "".join(
        f'[[decision]]\nexpect = "{words}"\ndo = "treat-as"\nrole = "speech"\n'
        for words in ("Anna.", "Ben: No", "Then")
    )
    edition = converted(tmp_path, f"{PLAY}<p>Then she left.</p>", job)
    assert pages(edition) == f"{drawn(SPEECHES)}\n  ,then she left4{END}"
    assert states(edition) == ["applied", "applied", "unused"]


def test_lines_set_in_columns_as_a_table(tmp_path: Path) -> None:
    """Neighbours are one table; only its first row has column headings (BF 11.2)."""
    job = "".join(
        f'[[decision]]\nexpect = "{words}"\ndo = "treat-as"\nrole = "headed-table"\n'
        for words in ("Time", "noon")
    )
    body = "<pre>Time     tide\ndawn     high</pre><pre>noon      low</pre>"
    table = """
    ,time  tide
    "3333  "333
    dawn   high
    noon   low
    """
    assert pages(converted(tmp_path, body, job)) == drawn(table) + END


def test_two_paragraphs_joined(tmp_path: Path) -> None:
    """Print that goes on is one paragraph (BF 1.9); a page turn between stands in the line."""
    body = (
        '<p>The keeper went</p><div epub:type="pagebreak" aria-label="8"></div>'
        "<p>to the shore.</p><p>End.</p>"
    )
    job = "".join(
        f'[[decision]]\nexpect = "{words}"\ndo = "join"\n' for words in ("The keeper went", "End.")
    )
    said = "Paragraph: The keeper went[p 8][+ ]to the shore.\nParagraph: End."
    assert tree(tmp_path, body, job) == said
    assert states(converted(tmp_path, body, job)) == ["applied", "unused"]


HIDDEN = (
    '<p>Open the door.</p><p hidden="hidden">Secret words.</p>'
    '<p>Then <span hidden="hidden">quietly </span>go.</p>'
)


def test_print_left_out_is_put_back(tmp_path: Path) -> None:
    """In the line where it stood, or as a paragraph; what stays left out stays in the account."""
    jobs = [f'[[decision]]\nexpect = "{w}"\ndo = "put-back"\n' for w in ("Secret", "quietly")]
    edition = converted(tmp_path, HIDDEN, "".join(jobs))
    assert pages(edition) == (f"  ,open the door4\n  ,secret words4\n  ,then quietly go4{END}")
    assert (edition.totals.omitted, edition.totals.lost) == (0, 0)
    assert converted(tmp_path, HIDDEN, jobs[0]).totals.omitted == len("quietly")
    wrong = converted(tmp_path, HIDDEN, '[[decision]]\nexpect = "Open"\ndo = "put-back"\n')
    assert states(wrong) == ["stale"]


def test_several_blanks_for_one_of_print(tmp_path: Path) -> None:
    """BF 10: where their number counts, each is a blank of its own; a field of a form, 6.7."""
    job = '[[decision]]\nexpect = "____"\ndo = "answer-space"\nkind = "line"\nnumber = 4\n'
    assert pages(converted(tmp_path, "<p>Name: ____</p>", job)) == f",name3 .- .- .- .-{END}"


NOTES = (
    '<p>The tide<a epub:type="noteref" href="#n">1</a> is in.</p><p>It goes out.</p><h1>Two</h1>'
    '<p>Again.</p><aside epub:type="footnote" id="n"><p>1 A wave.</p></aside>'
)
TIDE, OUT, TWO = "  ,the tide9#a is in4\n", "  ,it goes out4\n", "\n             ,two\n\n  ,again4"
NOTE = '"333333\n#a ,a wave4\n'
STANDS = [
    ("paragraph", f"{TIDE}{NOTE}\n{OUT}{TWO}"),
    ("section", f"{TIDE}{OUT}{NOTE}{TWO}"),
    ("book", f"{TIDE}{OUT}{TWO}\n{NOTE.rstrip()}"),
]


@pytest.mark.parametrize("stand, page", STANDS)
def test_where_notes_stand(tmp_path: Path, stand: str, page: str) -> None:
    """BF 16: an agency may have notes elsewhere than at the end of the print page."""
    assert pages(converted(tmp_path, NOTES, f'notes = "{stand}"\n')) == page + END


def test_where_notes_stand_in_one_section(tmp_path: Path) -> None:
    """A decision for a block wins over the setting, and that over the convention (BF 16)."""
    body = f"<section>{NOTES}</section>"
    job = (
        'notes = "book"\n[[decision]]\nexpect = "The tide"\nwhat = "section"\n'
        'do = "notes"\nstand = "paragraph"\n'
    )
    edition = converted(tmp_path, body, job)
    assert pages(edition) == STANDS[0][1] + END
    everywhere = '[[decision]]\neverywhere = true\ndo = "notes"\nstand = "book"\n'
    assert pages(converted(tmp_path, body, everywhere)) == STANDS[2][1] + END


def test_front_pages_take_notes_and_lines_of_a_person(tmp_path: Path) -> None:
    """BF 2.3, 2.6: lines of the title page, a note on the page of transcriber's notes."""
    job = (
        'title-lines = ["Copy 2", "For class use"]\n[[decision]]\neverywhere = true\n'
        'do = "insert-note"\nwhere = "notes-page"\ntext = "Moves are in words."\n'
    )
    edition = converted(tmp_path, "<p>Hi.</p>", job, front_pages=True, lines=25)
    title, notes, body = pages(edition).split("\n--\n")
    assert "           ,copy #b\n        ,for class use\n" in title
    assert notes.endswith("  ,moves are in words4")
    assert body == f"            ,tides\n\n  ,hi4{END}"
    (refused,) = of_kind(converted(tmp_path, "<p>Hi.</p>", job), "layout.choice-not-followed")
    assert dict(refused.facts)["reason"] == "the edition has no front pages"


TABLE = (
    "<table><tr>{}<th>Length</th></tr><tr><td>Severn</td><td>220</td></tr>"
    "<tr><td>Thames</td><td>215</td></tr></table>"
)
LISTED = "    ,severn\n,length3 #bbj\n\n    ,thames\n,length3 #bae"


def test_the_note_about_a_table_in_other_words(tmp_path: Path) -> None:
    """BF 3.1.2: the wording of a note is the transcriber's; print in it is never lost."""
    job = (
        '[[decision]]\nexpect = "{0}"\ndo = "table-format"\nform = "listed"\n'
        '[[decision]]\nexpect = "{0}"\ndo = "table-note"\ntext = "Now a list."\n'
    )
    edition = converted(tmp_path, TABLE.format("<th></th>"), job.format("Length"))
    assert pages(edition) == f"      @.<,now a list4@.>\n\n{LISTED}{END}"
    cornered = converted(tmp_path, TABLE.format("<th>River</th>"), job.format("River"))
    assert cornered.totals.lost == 0
    (refused,) = of_kind(cornered, "layout.choice-not-followed")
    assert dict(refused.facts)["reason"] == "a heading of print stands only in that note"


def test_the_language_of_a_whole_document_is_one_decision(tmp_path: Path) -> None:
    """UEB 13: words of print that are marked as another language keep that."""
    body = '<p>Bonjour monde.</p><p>Salut <i lang="de">Welt</i>.</p><p>Et <b>toi</b></p>'
    jobs = {
        lang: f'[[decision]]\neverywhere = true\ndo = "language"\nlang = "{lang}"\n'
        f'[[decision]]\nexpect = "toi"\neverywhere = true\ndo = "language"\nlang = "none"\n'
        for lang in ("fr", "es")
    }
    for lang, job in jobs.items():
        edition = converted(tmp_path, body, job, code="ueb")
        told = {dict(f.facts)["lang"]: len(f.spans) for f in of_kind(edition, "ueb.foreign")}
        assert told == {lang: 4, "de": 1}
        assert states(edition) == ["applied", "applied"]


def test_column_headings_in_short_words(tmp_path: Path) -> None:
    """BF 11.7, 11.8: short words, explained in a key above, may stand for long headings."""
    body = (
        "<table><tr><th>River</th><th>Length from source to sea</th></tr><tr><td>Severn</td>"
        "<td>220</td></tr><tr><td>Thames</td><td>215</td></tr></table>"
    )
    job = '[[decision]]\nexpect = "River"\ndo = "short-headings"\nwords = ["len."]\n'
    edition = converted(tmp_path, body, job)
    page = pages(edition)
    assert "len43 ,length from" in page
    assert "\n,river   len4\n" in page
    assert "letters" not in page
    assert edition.totals.lost == 0
    assert not of_kind(edition, "layout.table-form-refused")

"""The exam profile: counts equal print, nothing hidden revealed, no guessed repairs.

No published source: features of test production named in the needs (seeded faults all stop).
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from convert.document.nodes import Omission
from convert.edition import Edition
from convert.errors import SourceError
from convert.findings import Finding, Findings
from convert.layout.book import Page
from convert.profiles import profile
from convert.profiles_check import check_profile
from convert.writers.trace import line_print

from ..readers.make_docx import p, r
from .make import edition, grades, word_edition

TEST = (
    '<ol><li>Which is salt?<ol type="a"><li>sea</li><li>lake</li></ol></li>'
    '<li>Which is deep?<ol type="a"><li>well</li><li>pond</li><li>sea</li></ol></li></ol>'
)


def test_items_and_choices_equal_print(tmp_path: Path) -> None:
    made = edition(tmp_path, TEST, "exam")
    agree = [f for f in made.findings if f.kind == "profile.counts-agree"]
    assert [dict(f.facts) for f in agree] == [{"print_items": 2, "print_choices": 5}]
    assert "profile.counts-agree" not in grades(edition(tmp_path, TEST))


def test_a_choice_that_no_line_holds_stops(tmp_path: Path) -> None:
    made = edition(tmp_path, TEST)
    page: Page = made.book.volumes[0].pages[0]
    text = made.document.ledger.text
    gone = next(
        at for at, row in enumerate(page.rows)
        if row and row.parts and row.parts[0].source and "pond" in row.parts[0].source.passage.text
    )  # fmt: skip
    page.rows[gone] = None
    findings = Findings()
    check_profile(profile("exam"), made.document, made.book, made.settings, findings)
    (found,) = [f for f in findings.all() if f.kind == "profile.counts-differ"]
    assert dict(found.facts) == {
        "print_items": 2, "print_choices": 5, "items": 2, "choices": 4,
    }  # fmt: skip
    assert found.severity == "stop"
    assert "pond" in text


def rows_with(made: Edition, words: str) -> tuple[Page, int]:
    """The page and the place of the line whose print holds some words."""
    (found,) = [
        (page, at)
        for _, _, page in made.book.pages()
        for at, row in enumerate(page.rows)
        if row is not None and words in line_print(row)[1]
    ]
    return found


def checked(made: Edition) -> list[Finding]:
    findings = Findings()
    check_profile(profile("exam"), made.document, made.book, made.settings, findings)
    return findings.all()


def test_a_choice_that_moved_to_another_item_stops(tmp_path: Path) -> None:
    """The totals are equal; the choices of each item are not."""
    made = edition(tmp_path, TEST)
    assert [f.kind for f in checked(made)] == ["profile.counts-agree"]
    page, at = rows_with(made, "lake")
    to, after = rows_with(made, "well")
    to.rows.insert(after + 1, page.rows[at])
    del page.rows[at]
    found = checked(made)
    assert [f.kind for f in found] == [
        "profile.counts-agree", "profile.choices-differ", "profile.choices-differ",
    ]  # fmt: skip
    assert [dict(f.facts) for f in found[1:]] == [
        {"choices": 2, "found": 1}, {"choices": 3, "found": 4},
    ]  # fmt: skip
    assert {f.severity for f in found[1:]} == {"stop"}


def test_choices_in_another_order_stop(tmp_path: Path) -> None:
    made = edition(tmp_path, TEST)
    (page, one), (_, two) = rows_with(made, "well"), rows_with(made, "pond")
    page.rows[one], page.rows[two] = page.rows[two], page.rows[one]
    (found,) = [f for f in checked(made) if f.kind == "profile.choices-differ"]
    assert dict(found.facts) == {"choices": 3, "found": 3}


BULLETS = "<ul><li>a ruler</li><li>two pencils</li><li>a rubber</li></ul>"


def test_an_item_that_begins_no_line_stops(tmp_path: Path) -> None:
    """Bullets have no number to count, so the list itself is compared with the braille."""
    made = edition(tmp_path, BULLETS)
    assert not [f for f in checked(made) if f.kind == "profile.item-not-begun"]
    page, at = rows_with(made, "two pencils")
    page.rows[at] = None
    (found,) = [f for f in checked(made) if f.kind == "profile.item-not-begun"]
    assert found.severity == "stop"
    assert made.document.ledger.quote(*found.spans[0]).endswith("two pencils")


def test_hidden_words_in_the_braille_stop(tmp_path: Path) -> None:
    made = edition(tmp_path, "<p>The answer is forty.</p>")
    at = made.document.ledger.text.index("forty")
    hidden = replace(made.document, omissions=(Omission(at, at + 5, "read.hidden-text"),))
    findings = Findings()
    check_profile(profile("exam"), hidden, made.book, made.settings, findings)
    assert [f.kind for f in findings.all()] == ["profile.hidden-revealed"]


def test_hidden_words_stay_out_and_stop_until_a_person_has_seen_them(tmp_path: Path) -> None:
    body = '<p>How many? <span style="display:none">forty</span></p>'
    made = edition(tmp_path, body, "exam")
    assert grades(made)["read.hidden-text"] == "stop"
    assert "profile.hidden-revealed" not in grades(made)
    assert grades(edition(tmp_path, body))["read.hidden-text"] == "look"


def test_a_description_that_gives_an_answer_away_stops(tmp_path: Path) -> None:
    told = TEST + '<p><img src="a.png" alt="A boat on the salty sea, seen from above"/></p>'
    assert grades(edition(tmp_path, told, "exam"))["profile.answer-in-description"] == "stop"
    plain = TEST + '<p><img src="a.png" alt="A line drawing of two cups and a jug"/></p>'
    made = grades(edition(tmp_path, plain, "exam"))
    assert made["profile.description"] == "stop"
    assert "profile.answer-in-description" not in made


REPAIRS = {
    "ueb.quote-direction": '<p>He said "stay now.</p>',
    "read.heading-guessed": '<p class="chapter-title">Tides</p><p>The sea.</p>',
    "read.layout-table": '<table role="presentation"><tr><td>The sea is salt.</td></tr></table>',
    "ueb.numbers-joined": "<p>They were 1 000 000 people.</p>",
    "suspect.look-alike": "<p>The w0rd is here.</p>",
    "clean.maybe-dash": "<p>The sea--it is salt.</p>",
}


@pytest.mark.parametrize("kind", REPAIRS)
def test_every_guess_stops(kind: str, tmp_path: Path) -> None:
    plain = grades(edition(tmp_path, REPAIRS[kind]))
    if kind not in plain:
        pytest.fail(f"the document does not raise {kind}: {sorted(plain)}")
    assert plain[kind] != "stop"
    assert grades(edition(tmp_path, REPAIRS[kind], "exam"))[kind] == "stop"


def test_words_are_not_repaired(tmp_path: Path) -> None:
    body = "<p>The trans- port came. Our transport is late.</p>"
    assert "clean.line-end-hyphens" in grades(edition(tmp_path, body))
    made = grades(edition(tmp_path, body, "exam"))
    assert "clean.line-end-hyphens" not in made


def test_unsettled_changes_are_refused(tmp_path: Path) -> None:
    inserted = (
        '<w:p><w:ins w:id="1" w:author="A"><w:r><w:t>Which is salt?</w:t></w:r></w:ins></w:p>'
    )
    with pytest.raises(SourceError):
        word_edition(tmp_path, inserted, "exam")


def test_a_filled_form_control_and_white_text_stop(tmp_path: Path) -> None:
    made = word_edition(tmp_path, p(r("forty", '<w:color w:val="FFFFFF"/>')), "exam")
    assert grades(made)["docx.colour"] == "stop"

"""Where a decision applies after the source was edited: there, where its print went, or nowhere.

A decision that lands on another place than its own is worse than one that does
not apply, so every doubtful case must be stale.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.edition import Edition
from tests.decisions.case import converted, of_kind, pages, states

LEAD = """
    [[decision]]
    at = "OEBPS/c1.xhtml!/4/4/1:4"
    expect = "lead"
    near = ["Sea and land The ", " is heavy. Salt is w"]
    do = "print"
    text = "LED"
    """
BODY = "<h1>Sea and land</h1><p>The lead is heavy.</p><p>Salt is white.</p><p>I lead, you go.</p>"


def led(tmp_path: Path, body: str) -> Edition:
    return converted(tmp_path, body, LEAD)


def where(edition: Edition) -> int:
    """The paragraph, from 1, that has the other word; 0: none."""
    lines = [line for line in pages(edition).split("\n") if line.strip()]
    return next((at for at, line in enumerate(lines) if ",,led" in line), 0)


def test_applied_where_address_and_print_agree(tmp_path: Path) -> None:
    edition = led(tmp_path, BODY)
    assert (states(edition), where(edition)) == (["applied"], 1)


def test_a_paragraph_before_it_is_followed_and_told(tmp_path: Path) -> None:
    body = BODY.replace("<h1>", "<p>New.</p><h1>")
    edition = led(tmp_path, body)
    assert (states(edition), where(edition)) == (["followed"], 2)
    (told,) = of_kind(edition, "decision.followed")
    assert told.severity == "told"
    assert "OEBPS/c1.xhtml!/4/6/1:4" in told.message


def test_another_word_before_it_in_the_paragraph(tmp_path: Path) -> None:
    """The neighbours have changed and the address too: not sure enough."""
    edition = led(tmp_path, BODY.replace("The lead", "All the lead"))
    assert states(edition) == ["stale"]


def test_an_edit_after_it(tmp_path: Path) -> None:
    """One neighbour has changed; of the other enough stands in the same paragraph."""
    body = BODY.replace("The lead is", "All of the lead is")
    job = LEAD.replace("1:4", "1:11").replace("Sea and land The ", "All of the ")
    assert states(converted(tmp_path, body, job)) == ["applied"]
    edition = converted(tmp_path, body.replace("heavy", "very heavy"), job)
    assert (states(edition), where(edition)) == (["applied"], 1)


def test_too_little_of_a_neighbour(tmp_path: Path) -> None:
    assert states(led(tmp_path, BODY.replace("heavy", "very heavy"))) == ["stale"]


def test_never_on_the_other_lead(tmp_path: Path) -> None:
    edition = led(tmp_path, BODY.replace("<p>The lead is heavy.</p>", ""))
    assert (states(edition), where(edition)) == (["stale"], 0)
    (look,) = of_kind(edition, "decision.stale")
    assert look.severity == "look"
    assert "tides.job.toml, line 2" in look.message
    assert "The nearest print is “" in look.message or look.message.endswith("No print is like it.")


def test_the_same_word_at_the_same_address_of_another_paragraph(tmp_path: Path) -> None:
    """A paragraph was put before that begins alike: the neighbours tell them apart."""
    body = BODY.replace("<h1>", "<h1>One</h1><p>The lead dog ran.</p><h1>")
    edition = led(tmp_path, body)
    assert states(edition) == ["followed"]
    assert where(edition) == 3


def test_reworded_is_stale_with_the_nearest_print(tmp_path: Path) -> None:
    job = """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/6"
        expect = "Salt is white."
        do = "heading"
        level = 2
        """
    edition = converted(tmp_path, BODY.replace("Salt is white.", "Salt is grey."), job)
    (look,) = of_kind(edition, "decision.stale")
    assert "The nearest print is “Salt is grey.”" in look.message


def test_a_long_beginning_that_stands_once_is_followed_without_neighbours(tmp_path: Path) -> None:
    job = """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/4"
        expect = "The quick brown fox jumps over"
        do = "heading"
        level = 2
        """
    body = "<p>One.</p><p>Two.</p><p>The quick brown fox jumps over the dog.</p>"
    assert states(converted(tmp_path, body, job)) == ["followed"]
    twice = body + "<p>The quick brown fox jumps over the cat.</p>"
    assert states(converted(tmp_path, twice, job)) == ["stale"]


def test_a_box_is_followed_only_if_the_decision_says_it_is_one(tmp_path: Path) -> None:
    """A box and its heading begin with the same print."""
    aside = "<aside><h2>Did you know about the tides?</h2><p>The moon.</p></aside>"
    body = f"<p>New.</p>{aside}<p>End.</p>"
    job = """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/2"
        expect = "Did you know about the tides?"
        do = "omit"
        why = "for sighted readers"
        """
    assert states(converted(tmp_path, body, job)) == ["stale"]
    sure = job.replace("expect", 'what = "box"\n        expect')
    edition = converted(tmp_path, body, sure)
    assert states(edition) == ["followed"]
    assert "moon" not in pages(edition)


def test_print_that_stands_twice_needs_an_address(tmp_path: Path) -> None:
    job = '[[decision]]\nexpect = "lead"\ndo = "print"\ntext = "x"\n'
    edition = converted(tmp_path, BODY, job)
    assert states(edition) == ["stale"]
    assert "in 2 places" in edition.decisions[0].note


def test_a_number_with_its_sign_is_not_the_end_of_a_range(tmp_path: Path) -> None:
    """A decision for all places is not for a piece of another number."""
    job = '[[decision]]\nexpect = "–5"\neverywhere = true\ndo = "print"\ntext = "minus 5"\n'
    body = "<p>At –5 it froze, in 1914–5 as well, and at –5 again.</p>"
    edition = converted(tmp_path, body, job)
    assert states(edition) == ["applied"]
    text = " ".join(pages(edition).split())
    assert text.count("minus") == 2
    assert "#aiad,-#e" in text


def test_a_word_that_stands_nowhere(tmp_path: Path) -> None:
    job = '[[decision]]\nexpect = "NATO"\neverywhere = true\ndo = "read"\nas = "word"\n'
    assert states(converted(tmp_path, BODY, job)) == ["stale"]


def test_a_decision_that_changes_nothing_is_told(tmp_path: Path) -> None:
    job = """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/6"
        expect = "Salt is white."
        do = "print-page"
        label = "none"
        """
    edition = converted(tmp_path, BODY, job)
    assert states(edition) == ["unused"]
    (look,) = of_kind(edition, "decision.unused")
    assert "no print page begins there" in look.message


def test_an_acceptance_without_its_finding(tmp_path: Path) -> None:
    job = """
        [[decision]]
        expect = "Salt"
        do = "accept"
        kind = "ueb.unknown-character"
        why = "seen"
        """
    edition = converted(tmp_path, BODY, job)
    assert states(edition) == ["unused"]
    assert of_kind(edition, "decision.nothing-to-accept")[0].severity == "told"


def test_more_places_than_were_accepted_are_not_accepted(tmp_path: Path) -> None:
    job = """
        [[decision]]
        everywhere = true
        do = "accept"
        kind = "ueb.unknown-character"
        places = {}
        why = "a logo"
        """
    body = "<p>\u2318 one</p><p>\u2318 two</p>"
    assert states(converted(tmp_path, body, job.format(2))) == ["accepted"]
    edition = converted(tmp_path, body, job.format(1))
    assert states(edition) == ["stale"]
    assert of_kind(edition, "ueb.unknown-character")[0].severity == "stop"
    assert "there are 2 now" in of_kind(edition, "decision.stale")[0].message


def test_of_a_group_only_the_places_decided_are_settled(tmp_path: Path) -> None:
    body = "<p>\u2318 one</p><p>\u2318 two</p>"
    job = """
        [[decision]]
        at = "OEBPS/c1.xhtml!/4/4/1:0"
        expect = "\u2318"
        do = "accept"
        kind = "ueb.unknown-character"
        why = "a logo"
        """
    edition = converted(tmp_path, body, job)
    left, settled = of_kind(edition, "ueb.unknown-character")
    assert (left.severity, len(left.spans)) == ("stop", 1)
    assert (settled.severity, len(settled.spans)) == ("told", 1)
    assert settled.id == f"{left.id}-settled"


@pytest.mark.parametrize("part", ["c1.xhtml", "c9.xhtml"])
def test_a_file_with_another_name(tmp_path: Path, part: str) -> None:
    edition = converted(tmp_path, BODY, LEAD.replace("c1.xhtml", part))
    assert states(edition) == ["applied" if part == "c1.xhtml" else "followed"]

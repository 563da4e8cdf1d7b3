"""Settling: what gives way is recorded, running heads fit, the same in gives the same out."""

from __future__ import annotations

import gc
from dataclasses import replace

import pytest

from convert.errors import JobError
from convert.findings import Place
from convert.layout.convention import load
from convert.layout.items import Item
from convert.layout.settle import collector_off
from convert.layout.turns import COMPOUND, HEADS, MEANS
from tests.draw import lines_of
from tests.layout.books import Made, Maker, make


def one(text: str) -> Maker:
    maker = Maker()
    maker.para(text)
    return maker


def found(made: Made, kind: str) -> list[dict[str, object]]:
    return [dict(finding.facts) for finding in made.findings.all() if finding.kind == kind]


def test_a_rule_that_gave_way_is_filed_with_its_place() -> None:
    maker = Maker()
    maker.para("abcd " * 200, keep=(("whole", 1),))
    made = make(maker, lines=8, front_pages=False)
    (told,) = made.findings.all()
    facts = {"rule": "whole", "style": "paragraph", "reason": "nothing could be placed otherwise"}
    assert told.kind == "layout.rule-relaxed"
    assert dict(told.facts) == {**facts, "meaning": MEANS["whole"]}
    assert told.spans[0][0] == made.page(1, "1").lines[7].origin[0]
    assert told.places == tuple(Place(1, str(page), 8) for page in (1, 2, 3))


def test_a_rule_that_gave_way_is_filed_on_the_line_of_what_it_is_about() -> None:
    """The line of the item whose rule it is, not the last line of the page."""
    maker = one("abcd")
    maker.items[0].keep = (("next_whole", 1),)
    maker.para("abcd " * 60)
    (told,) = make(maker, lines=6, front_pages=False).findings.all()
    assert told.places == (Place(1, "1", 1),)
    assert told.spans == ((0, 4),)


def test_what_begins_overleaf_is_filed_overleaf() -> None:
    """9.4: an attribution parted from its text stands on the next page; the print is that of the
    text."""
    maker = one("abcd " * 40)
    maker.items[0].keep = (("whole", 1),)
    maker.para("ann", keep=(("with_previous", 1),))
    maker.items[-1].kind = "attribution"
    relax = ("with_previous", *(rule for rule in load("bf2016").relax if rule != "with_previous"))
    made = make(maker, convention=replace(load("bf2016"), relax=relax), lines=6, front_pages=False)
    (told,) = made.findings.all()
    assert (told.places, told.spans) == ((Place(1, "2", 1),), ((195, 199),))
    assert made.lines(1, "2")[0] == "  ann"


def test_a_rule_given_up_for_a_page_that_is_asked_for_is_filed() -> None:
    """4.2: a heading above what begins a new page stands alone."""
    maker = Maker()
    maker.heading("Seas")
    maker.para("abcd", new_page=True)
    (told,) = make(maker, front_pages=False).findings.all()
    assert told.message.startswith(
        "The rule “with next” of the style centred-heading was given up, as a new page was asked"
    )
    assert "asked for: it does not stand on one page with what follows it;" in told.message
    assert told.places == (Place(1, "1", 1),)


def test_each_rule_that_can_give_way_says_what_that_means_on_the_page() -> None:
    """4.3, 7.3, 8.3: the names of rules are for conventions; a person needs the outcome."""
    assert {*load("bf2016").relax, COMPOUND, HEADS} == set(MEANS)


def test_of_rules_that_give_way_the_least_are_taken() -> None:
    """1.6: lines kept together that fill pages are parted, and the end of the volume still has
    company."""
    maker = Maker()
    for _ in range(4):
        maker.para("Seas", keep=(("with_next", 1),))
    made = make(maker, lines=6)
    assert made.lines(1, "1")[2:] == ["  ,seas", "  ,seas", "  ,seas", " " * 38 + "#a"]
    assert made.lines(1, "2")[:3] == ["  ,seas", "", "              ,,the ,,end"]
    assert [facts["rule"] for facts in found(made, "layout.rule-relaxed")] == ["with next"]


def test_a_series_of_headings_that_fills_a_page_gives_no_rule_up() -> None:
    """4.10: it may go over a page turn; its last heading stays with what follows."""
    maker = Maker()
    for _ in range(4):
        maker.heading("Seas", 2, before=0)
    made = make(maker, lines=6)
    assert made.lines(1, "1")[2:] == [",seas", ",seas", ",seas", " " * 38 + "#a"]
    assert made.lines(1, "2")[:3] == [",seas", "", "              ,,the ,,end"]
    assert not found(made, "layout.rule-relaxed")


def test_a_box_line_that_gave_way_is_filed_where_its_page_ends() -> None:
    maker = one("abcd")
    maker.items[0].keep = (("with_next", 1),)
    for _ in range(8):
        maker.items.append(Item("box-top", "box-top", keep=(("with_next", 1),)))
    maker.para("more")
    made = make(maker, lines=6, front_pages=False)
    assert made.findings.all()[0].spans == ((0, 4),)


def test_a_divided_word_is_filed_with_its_place() -> None:
    made = make(one("abcd " + "e" * 100), front_pages=False)
    assert [f.kind for f in made.findings.all()] == ["layout.word-divided"]
    assert made.findings.all()[0].spans == ((5, 105), (5, 105))


def test_a_print_page_without_text_is_told() -> None:
    maker = one("abcd")
    maker.turn("2")
    assert found(make(maker), "layout.print-page-empty") == [{"page": "2"}]
    maker = one("abcd")
    maker.turn("ix")
    maker.turn("1")
    maker.para("more")
    assert found(make(maker), "layout.print-page-empty") == [{"page": "ix"}]
    maker = one("abcd")
    for label in ("2", "3", "4"):
        maker.turn(label)
    ends = {"page": "2-4", "first": "2", "last": "4"}
    assert found(make(maker), "layout.print-page-empty") == [ends]


def test_a_running_head_is_on_every_page_but_the_title_page() -> None:
    """BF 1.8: the same words on every page, never run over."""
    made = make(Maker().chapters(6, 60), running_head="Sea", volume_pages=12)
    for _, _, page in made.book.pages():
        said = "sea" in lines_of(page)[0]
        assert said == (page.braille_page != "t1")


def test_a_long_running_head_is_shortened_for_the_longest_number() -> None:
    maker = one("abcd")
    maker.turn("1000")
    maker.para("abcd " * 300)
    made = make(maker, running_head="abcdefghij klmnopqrst uvwxyz abcd")
    assert found(made, "layout.running-head-short") == [{"head": "abcdefghij klmnopqrst"}]
    for _, _, page in made.book.pages():
        if page.series == "body":
            assert "   ,,abcdefghij ,,klmnopqrst" in lines_of(page)[0]


def test_a_running_head_that_cannot_fit_is_left_out() -> None:
    made = make(one("abcd"), running_head="a" * 50)
    assert found(made, "layout.running-head-left-out") == [{"head": "a" * 50}]


def test_none_means_no_running_head() -> None:
    assert (
        lines_of(make(one("abcd"), running_head="none", front_pages=False).page(1, "1"))[0]
        == "  abcd"
    )


def test_contents_that_do_not_settle_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """With one round only, the first guess cannot be confirmed."""
    monkeypatch.setattr("convert.layout.assemble.ROUNDS", 1)
    assert "layout.contents-unsettled" in make(Maker().chapters(3, 20)).kinds()


def test_contents_settle() -> None:
    assert "layout.contents-unsettled" not in make(Maker().chapters(30, 20)).kinds()


def test_a_page_too_small_is_refused() -> None:
    with pytest.raises(JobError, match="too small"):
        make(one("abcd"), cells=11)
    with pytest.raises(JobError, match="too small"):
        make(one("abcd"), lines=4)


@pytest.mark.parametrize("cells, lines", [(12, 5), (20, 8), (30, 27), (32, 25), (100, 60)])
def test_any_size_of_page(cells: int, lines: int) -> None:
    """BF 1.7: the rules hold with other sizes."""
    made = make(Maker().chapters(3, 20), cells=cells, lines=lines)
    for _, _, page in made.book.pages():
        drawn = lines_of(page)
        assert len(drawn) == lines
        assert all(len(line) <= cells for line in drawn)


def test_same_in_same_out() -> None:
    def drawn() -> list[list[str]]:
        made = make(Maker().chapters(8, 40), volume_pages=20, running_head="Sea")
        return [lines_of(page) for _, _, page in made.book.pages()]

    assert drawn() == drawn()


def test_the_collector_is_left_as_it_was() -> None:
    assert gc.isenabled()
    with collector_off():
        assert not gc.isenabled()
    assert gc.isenabled()


def test_a_convention_may_leave_out_page_numbers_and_move_the_odd_cell() -> None:
    maker = Maker()
    maker.turn("4")
    maker.heading("Seas")
    maker.para("abcd " * 8, before=1)
    base = load("bf2016")
    page = replace(base.page, print_page="none", braille_page="none", centre_odd="left")
    made = make(maker, convention=replace(base, page=page), front_pages=False)
    assert made.lines(1, "1")[0] == " " * 18 + ",seas"
    assert made.lines(1, "1")[24] == ""

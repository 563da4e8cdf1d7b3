"""An offer of a finding of judgement, pasted into the job file, settles it at every place."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from tests.decisions.journey import Journey

# Kind, print with {} for the doubt, the doubt, number of the offer, cells before and after.
OFFERS = [
    ("ueb.acronym", "Ask {} now.", "WHO", 1, ",ask ,,:o n[4", ",ask ,,who n[4"),
    ("ueb.acronym", "Ask {} now.", "OED", 2, ",ask ,,oed n[4", ",ask ,,o$ n[4"),
    ("ueb.acronym-decided", "Ask {} now.", "PTH", 1, ",ask ,,pth n[4", ",ask ,,p? n[4"),
    ("ueb.syllables", "Say {} now.", "but-ton", 1, ",say b-ton n[4", ",say but-ton n[4"),
    ("ueb.two-forms", "So {} came.", "Simone", 2, ',s ,sim"o came4', ",s ,simone came4"),
    (
        "ueb.respelling",
        "A chair ({}) here.",
        "CHEHR-ing",
        1,
        ',a *air "<,,*ehr-9g"> "h4',
        ',a *air "<,,chehr-ing"> "h4',
    ),
    (
        "ueb.numbers-joined",
        "About {} people.",
        "1 000 000",
        1,
        ',ab #a"jjj"jjj p4',
        ",ab #a #jjj #jjj p4",
    ),
    (
        "ueb.initials",
        "Said {} and left.",
        "N O W",
        2,
        ",sd ;,n ,o ;,w & left4",
        ",sd ;,,,n o ;w,' & left4",
    ),
    ("ueb.letter-or-digit", "It was {} then.", "l984", 1, ",x 0 l#ihd !n4", ",x 0 #aihd !n4"),
    ("ueb.minus-or-dash", "At {} now.", "–5", 1, ",at ,-#e n[4", ',at "-#e n[4'),
    ("ueb.minus-or-dash", "At {} now.", "-5", 1, ",at -#e n[4", ',at "-#e n[4'),
    (
        "ueb.raised-minus",
        "Is 10{} kg.",
        "<sup>–3</sup>",
        1,
        ',is #aj9<"-#c> kg4',
        ",is #aj9<,-#c> kg4",
    ),
    ("ueb.look-alike", "Ask {} now.", "Bоb", 1, ",ask ,b#?b n[4", ",ask ,bob n[4"),
    (
        "ueb.capitals-edge",
        "Go to point {} now.",
        "A. BUT NOT YET!",
        1,
        ",g to po9t ,a4 ,,,b n yet6,' n[4",
        ",g to po9t ,,,a4 b n yet6,' n[4",
    ),
    (
        "ueb.phonetic-unmarked",
        "Says {} twice.",
        "/ʃɪp/",
        1,
        ",says _/#?#?p_/ twice4",
        ',says "^/:/p^/ twice4',
    ),
    (
        "ueb.quote-direction",
        "He said {}no and left.",
        '"',
        2,
        ",he sd 8no & left4",
        ",he sd 0no & left4",
    ),
    (
        "ueb.straight-single",
        "He said {} and left.",
        "'I can't,'",
        1,
        ",he sd ',i c't1' & left4",
        ",he sd ,8,i c't1,0 & left4",
    ),
]


@pytest.mark.parametrize(
    ("kind", "print_", "doubt", "offer", "before", "after"), OFFERS, ids=lambda part: str(part)[:20]
)
def test_an_offer_settles_every_place(
    tmp_path: Path, kind: str, print_: str, doubt: str, offer: int, before: str, after: str
) -> None:
    sentence = f"<p>{print_.format(doubt)}</p>"
    way = Journey(tmp_path, [["<h1>One</h1>", sentence, "<p>And then.</p>", sentence]])
    way.convert()
    rows = [row for row in way.report()["findings"] if row["kind"] == kind]
    assert _lines(way).count(before) == 2
    places = [str(row["offer"][offer - 1]) for row in rows]  # type: ignore[index]
    assert all("decision" in tomllib.loads(text) for text in places)
    (tmp_path / "tides.job.toml").write_text("\n".join(places), "utf-8")
    way.convert()
    assert _lines(way).count(after) == 2
    assert _lines(way).count(before) == 0
    assert [row for row in way.report()["findings"] if row["kind"] == kind] == []
    assert set(_states(way)) == {"applied"}


# Kind, sentences with other forms beside the doubt, number of the offer, cells that must stand.
EVERYWHERE = [
    (
        "ueb.minus-or-dash",
        ["At –5, then.", "At (–5) or –5.3 or 1914–5 or –50."],
        1,
        [',at "-#e1 !n4', ',at "<"-#e"> or ,-#e4c or #aiad,-#e or'],
    ),
    (
        "ueb.straight-single",
        ["He said 'no' and left.", "We said 'no', or 'nor'."],
        1,
        [",he sd ,8no,0 & left4", ",we sd ,8no,01 or 'nor'4"],
    ),
    (
        "ueb.straight-single",
        ["He said 'Go home' and left.", "We said 'Go there' to me."],
        3,
        [",he sd 8,g home0 & left4", ',we sd 8,g "!0 to me4'],
    ),
    (
        "ueb.raised-minus",
        ["Is 10<sup>-3</sup> kg.", "Or (10<sup>-3</sup>) or 10<sup>-4</sup>."],
        1,
        [",is #aj9<-#c> kg4", ',or "<#aj9<-#c>"> or #aj9<"-#d>4'],
    ),
]


@pytest.mark.parametrize(
    ("kind", "sentences", "offer", "wanted"), EVERYWHERE, ids=lambda part: str(part)[:20]
)
def test_one_stanza_settles_a_form_everywhere_and_no_other(
    tmp_path: Path, kind: str, sentences: list[str], offer: int, wanted: list[str]
) -> None:
    """One stanza for each form in a book settles all its places; the third offer of a straight
    mark, an option, settles the whole book."""
    way = Journey(tmp_path, [["<h1>One</h1>", *(f"<p>{text}</p>" for text in sentences)]])
    way.convert()
    rows = [row for row in way.report()["findings"] if row["kind"] == kind]
    text = str(rows[0]["offer"][offer - 1])  # type: ignore[index]
    stanzas = ["", text] if offer == 3 else text.split("[[decision]]", 2)
    (tmp_path / "tides.job.toml").write_text(
        stanzas[1] if offer == 3 else "[[decision]]" + stanzas[1], "utf-8"
    )
    way.convert()
    assert [line for line in _lines(way) if line in wanted] == wanted


def _lines(way: Journey) -> list[str]:
    file = way.edition / "tides.v1.brf"
    return [line.strip().lower() for line in file.read_text("ascii").splitlines()]


def _states(way: Journey) -> list[object]:
    return [row["state"] for row in way.report()["decisions"]]

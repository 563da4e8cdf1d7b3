"""Layers: house style, book, chapter; later ones win, locks hold, mistakes are named."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.errors import JobError
from convert.job import check_locks, find_job, read_job
from tests.decisions.case import converted, job_file, of_kind, states

BODY = "<p>NATO met. Salt is white.</p>"
NATO = '[[decision]]\nexpect = "NATO"\neverywhere = true\ndo = "read"\nas = "{}"\n'


def layered(folder: Path, house: str, book: str) -> Path:
    job_file(folder, house, "house.toml")
    return job_file(folder, f'layers = ["house.toml"]\n{book}')


def test_options_of_later_layers_win_and_their_origin_is_known(tmp_path: Path) -> None:
    path = layered(tmp_path, 'page = "30x25"\nmath = "nemeth"\n', 'page = "32x27"\n')
    job = read_job(path)
    assert job.options == {"page": "32x27", "math": "nemeth"}
    assert job.origins == {"page": "tides.job.toml", "math": "house.toml"}
    assert [name for name, _ in job.layers] == ["house.toml", "tides.job.toml"]


def test_a_later_decision_wins_and_that_is_told(tmp_path: Path) -> None:
    job_file(tmp_path, NATO.format("word"), "house.toml")
    edition = converted(tmp_path, BODY, f'include = ["house.toml"]\n{NATO.format("letters")}')
    assert states(edition) == ["overridden", "applied"]
    assert [choice.kind for choice in edition.document.choices] == ["letters"]
    (told,) = of_kind(edition, "decision.overridden")
    assert told.severity == "told"
    assert "tides.job.toml, line 2" in told.message


def test_a_place_wins_over_all_places(tmp_path: Path) -> None:
    body = "<p>NATO met NATO.</p>"
    here = NATO.format("letters").replace("everywhere = true", 'at = "OEBPS/c1.xhtml!/4/2/1:0"')
    edition = converted(tmp_path, body, NATO.format("word") + here)
    assert states(edition) == ["applied", "applied"]
    assert [choice.kind for choice in edition.document.choices] == ["letters", "word"]


def test_a_locked_decision_cannot_be_overridden(tmp_path: Path) -> None:
    house = NATO.format("word") + 'locked = true\nby = "the lead"\n'
    job_file(tmp_path, house, "house.toml")
    with pytest.raises(JobError, match=r"house\.toml, line 1.*which the lead locked"):
        converted(tmp_path, BODY, f'layers = ["house.toml"]\n{NATO.format("letters")}')


@pytest.mark.parametrize("locked", ["true", '["page"]'])
def test_a_locked_option_cannot_be_given_otherwise(tmp_path: Path, locked: str) -> None:
    house = f'by = "AB"\nlocked = {locked}\npage = "40x25"\n'
    with pytest.raises(JobError, match=r"tides\.job\.toml gives another “page”, and AB locked it"):
        read_job(layered(tmp_path, house, 'page = "32x27"\n'))
    job = read_job(layered(tmp_path, house, 'page = "40x25"\n'))
    with pytest.raises(JobError, match="--page cannot be given here"):
        check_locks(job, {"page": "32x27"})
    check_locks(job, {"page": "40x25", "math": "ueb"})


def test_two_decisions_that_contradict_are_both_named(tmp_path: Path) -> None:
    job = NATO.format("word") + NATO.format("letters")
    with pytest.raises(JobError, match=r"line 1\).*line 6\).*NATO"):
        converted(tmp_path, BODY, job)


def test_two_decisions_that_say_the_same(tmp_path: Path) -> None:
    edition = converted(tmp_path, BODY, NATO.format("word") * 2)
    assert states(edition) == ["applied", "unused"]


def test_a_layer_of_itself(tmp_path: Path) -> None:
    path = job_file(tmp_path, 'layers = ["tides.job.toml"]\n')
    with pytest.raises(JobError, match="a layer of itself"):
        read_job(path)


def test_a_layer_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(JobError, match=r"house\.toml cannot be read"):
        read_job(job_file(tmp_path, 'layers = ["house.toml"]\n'))


def test_the_job_file_beside_a_source(tmp_path: Path) -> None:
    assert find_job(tmp_path / "tides.epub") is None
    path = job_file(tmp_path, "")
    assert find_job(tmp_path / "tides.epub") == path


def test_initials_of_the_file_are_those_of_its_decisions(tmp_path: Path) -> None:
    job = read_job(job_file(tmp_path, f'by = "AB"\n{NATO.format("word")}'))
    assert job.decisions[0].by == "AB"


D = "[[decision]]\n"
A = f'{D}expect = "a"\n'


@pytest.mark.parametrize(
    "text, says",
    [
        ("x = 1", "line 1, has the unknown key “x”"),
        ("layers = 3", "“layers” must be a list"),
        ('locked = ["colour"]', "“locked” cannot hold “colour”"),
        ("decision = 3", "must be a list"),
        ("decision = [3]", "a table of its own"),
        (f'{D}do = "haeding"', "line 2: there is no verb “haeding”. Did you mean “heading”"),
        (f'{D}expct = "a"\ndo = "omit"', "line 2: “omit” has no key “expct”. Did you mean “ex"),
        (f'{D}expect = 3\ndo = "omit"', "line 2: “expect” must be words"),
        (f'{A}near = ["b"]\ndo = "omit"', "line 3: “near” must be a list of two"),
        (f'{A}what = "bxo"\ndo = "omit"', "line 3: there is no block “bxo”"),
        (f'{A}do = "omit"', "line 1: “omit” needs a reason"),
        (f'{A}do = "heading"', "line 1: “heading” needs the key “level”"),
        (f'{A}do = "heading"\nlevel = 9', "line 4: “level” must be a whole number from 1 to 6"),
        (f'{D}do = "heading"\nlevel = 2', "line 1: “heading” needs a place"),
        (f'{A}do = "read"\nas = "cells"', "line 1: “read” as cells needs the key “cells”"),
        (f'{A}do = "read"\nas = "cells"\ncells = "z"', "line 5: “cells” must be cells in"),
        (f'{A}everywhere = true\ndo = "heading"\nlevel = 2', "line 3: “heading” is not for all"),
        (f'{D}everywhere = true\ndo = "read"\nas = "word"', "needs its print"),
        (f'{A}do = "typeform"\nhow = "drop"\nform = "blod"', "line 5: “form” must be some of"),
        (f'{A}do = "accept"\nwhy = "x"\nkind = "no.kind"', "line 5: “kind” must be a kind"),
    ],
)
def test_a_mistake_is_named_with_file_line_and_key(tmp_path: Path, text: str, says: str) -> None:
    with pytest.raises(JobError) as error:
        read_job(job_file(tmp_path, text))
    assert "tides.job.toml" in str(error.value)
    assert says in str(error.value)

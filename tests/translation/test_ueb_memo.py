"""The memo: the same cells and findings with it, without it, and with what another run kept."""

from __future__ import annotations

import random
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.findings import Findings
from convert.settings import Settings
from convert.translation.cells import Cells
from convert.translation.passage import Passage
from convert.translation.ueb import contracted, memo, uncontracted
from convert.translation.ueb.translator import UebTranslator

from .test_ueb_properties import QUIET, _passages
from .word_lists import sentences

MAKE = {1: uncontracted, 2: contracted}


def _edition(tool: UebTranslator, passages: list[Passage]) -> tuple[list[Cells], list[str]]:
    found = Findings()
    tool.prepare(passages)
    made = [tool.translate(passage, found) for passage in passages]
    return made, sorted(map(str, found.all()))


def _same(ones: list[Cells], others: list[Cells]) -> None:
    for one, other in zip(ones, others, strict=True):
        assert (one.text, one.origin, one.sign) == (other.text, other.origin, other.sign)
        assert one.pieces == other.pieces


@pytest.mark.parametrize("grade", [1, 2])
@pytest.mark.parametrize("quotes", ["double", "single"])
def test_with_and_without_a_kept_memo(grade: int, quotes: str, tmp_path: Path) -> None:
    passages = [Passage(text) for text in sentences()[::3]]
    passages += [Passage("the WHO says ‘x’ and “y”—but-ton, l984 (pih-CHUR) 1 000 000")]
    plain = Settings(quotes=quotes)
    kept = Settings(quotes=quotes, memo=str(tmp_path))
    first, told = _edition(MAKE[grade](plain), passages)
    cold = MAKE[grade](kept)
    _same(first, _edition(cold, passages)[0])
    cold.keep()
    warm = MAKE[grade](kept)
    assert warm._kept
    second, again = _edition(warm, passages)
    _same(first, second)
    assert told == again


@QUIET
@given(st.lists(_passages(), min_size=1, max_size=4), st.sampled_from([1, 2]))
def test_what_is_kept_is_what_was_made(passages: list[Passage], grade: int) -> None:
    tool = MAKE[grade](Settings())
    first, told = _edition(tool, passages)
    rows: dict[str, str] = {}
    for row in tool._memos.values():
        rows.update(row.worth_keeping(tool._marked))
    other = MAKE[grade](Settings())
    other._kept.update(rows)
    second, again = _edition(other, passages)
    _same(first, second)
    assert told == again


def _kept(folder: Path) -> tuple[Path, UebTranslator]:
    tool = contracted(Settings(memo=str(folder)))
    _edition(tool, [Passage("some words of a short text")])
    tool.keep()
    (file,) = folder.iterdir()
    return file, tool


def test_a_damaged_file_is_not_read_and_is_made_anew(tmp_path: Path) -> None:
    file, tool = _kept(tmp_path)
    whole = file.read_bytes()
    dice = random.Random(3)
    for size in (0, 10, 70, len(whole) // 2, len(whole) - 1):
        file.write_bytes(whole[:size])
        assert contracted(Settings(memo=str(tmp_path)))._kept == {}
    for _ in range(50):
        damaged = bytearray(whole)
        damaged[dice.randrange(len(whole))] ^= 1 << dice.randrange(8)
        file.write_bytes(damaged)
        assert contracted(Settings(memo=str(tmp_path)))._kept == {}
    tool.keep()
    assert file.read_bytes() == whole


@pytest.mark.parametrize("row", ["", "⠁", "⠁\n\n\n\n", "⠁\nĀ\nĀ\n\n", "⠁\nĀĀ\nĀ\nā\n"])
def test_a_row_that_is_no_piece_is_worked_out(row: str) -> None:
    tool = contracted(Settings())
    tool._kept["about"] = row
    assert _edition(tool, [Passage("about")])[0][0].ascii == "ab"


def test_another_recipe_is_another_file(tmp_path: Path) -> None:
    for make in MAKE.values():
        for cells in (40, 20):
            tool = make(Settings(memo=str(tmp_path), cells=cells))
            _edition(tool, [Passage("some words")])
            tool.keep()
    assert len(list(tmp_path.iterdir())) == 4


def test_workers_share_a_folder(tmp_path: Path) -> None:
    """Each writes whole files; what one keeps another does not spoil."""

    def run(number: int) -> None:
        shelf = memo.Shelf(str(tmp_path), "test")
        shelf.write({f"word{number}-{at}": "x" for at in range(200)})

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(run, range(24)))
    kept = memo.Shelf(str(tmp_path), "test").read()
    assert kept
    assert len(kept) % 200 == 0
    assert [file.suffix for file in tmp_path.iterdir()] == [".memo"]


def test_a_folder_that_cannot_be_written_to_is_no_matter(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    tool = contracted(Settings(memo=str(tmp_path / "file" / "memo")))
    _edition(tool, [Passage("some words")])
    tool.keep()


def test_the_memory_of_the_memo_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    """Over the most words the memo begins anew, and the cells stay the same."""
    passages = [Passage(text) for text in sentences()[:300]]
    free = _edition(contracted(Settings()), passages)[0]
    monkeypatch.setattr(memo, "MOST", 40)
    tool = contracted(Settings())
    _same(free, _edition(tool, passages)[0])
    assert max(map(len, tool._memos.values())) <= 40

"""Damaged packages: a normal Document or one of the named errors, in time and in memory."""

from __future__ import annotations

import time
from collections.abc import Iterator

import pytest

from .mutate import mutated, written
from .seeds import loose, seeds
from .worker import Outcome, Reader

SECONDS, MEMORY = 10.0, 500
BUDGET = 15.0
FIRST, FEWEST, MOST = 500_000, 200, 900


@pytest.fixture(scope="module")
def reader() -> Iterator[Reader]:
    reader = Reader(memory=1024, seconds=SECONDS)
    yield reader
    reader.close()


def assert_kept(outcome: Outcome) -> None:
    assert not outcome.fault, f"package {outcome.number}: {outcome.fault}"
    assert outcome.seconds < SECONDS, f"package {outcome.number} took {outcome.seconds:.0f} s"
    assert outcome.peak < MEMORY, f"package {outcome.number} took {outcome.peak} MiB"


@pytest.mark.parametrize("at", range(len(seeds())))
def test_the_sound_packages_convert(reader: Reader, at: int) -> None:
    suffix, parts = seeds()[at]
    outcome = reader.ask(at, suffix, written(suffix, parts), whole=True)
    assert_kept(outcome)
    assert not outcome.refused
    assert not outcome.unread


@pytest.mark.slow
def test_damaged_packages(reader: Reader) -> None:
    """As many of the same packages as the time allows, every fourth converted whole."""
    start = time.perf_counter()
    refused = done = 0
    for number in range(FIRST, FIRST + MOST):
        if done >= FEWEST and time.perf_counter() - start > BUDGET:
            break
        outcome = reader.ask(number, *mutated(number), number % 4 == 0)
        assert_kept(outcome)
        refused += outcome.refused
        done += 1
    assert 0 < refused < done / 2, "most damage must reach a reader"


@pytest.mark.parametrize("tenth", range(10))
@pytest.mark.parametrize("at", range(len(seeds())))
def test_cut_at_every_tenth(reader: Reader, at: int, tenth: int) -> None:
    """Cut as a file, and each part cut inside a sound package."""
    suffix, parts = seeds()[at]
    whole = written(suffix, parts)
    outcome = reader.ask(at, suffix, whole[: len(whole) * tenth // 10])
    assert_kept(outcome)
    assert outcome.refused or (loose(suffix, parts) and tenth)
    inside = [(name, data[: len(data) * tenth // 10]) for name, data in parts]
    assert_kept(reader.ask(at, suffix, written(suffix, inside), whole=True))


def test_the_reader_outlives_a_hang(reader: Reader) -> None:
    """The watch itself is watched: a limit of no time at all is reported as too long."""
    strict = Reader(memory=1024, seconds=0.001)
    suffix, parts = seeds()[2]
    assert strict.ask(1, suffix, written(suffix, parts), whole=True).fault.startswith("too long")
    strict.close()

"""Print how many random faults in finished pages the checks see:
``python -m tests.bench.strength [FILE...] [--times 8] [--only X]``.

Each document (the river-school fixture where none is named) is converted at 40 by 25 and 28 by 20.
For each check several ways to break just its rule (`ways.py`) are tried at random places of these
editions, always from the same seed.  One is caught where the check tells something that it did
not tell of the sound pages.  A last table lists the checks with misses, and those for which the
documents have no place.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from pathlib import Path
from random import Random

from convert.check import checks
from convert.check.edition import book_of
from convert.check.model import RULES, Book, Tally
from convert.pipeline import convert_source, settings_from

from .breakers import copy_of, ready
from .ways import WAYS

FIXTURE = Path(__file__).parents[2] / "fixtures" / "river-school.epub"
SIZES = ((40, 25), (28, 20))
Told = frozenset[tuple[int, int, int, str, str]]


def told(book: Book, name: str) -> Told:
    """What one check says of the pages."""
    tally = Tally()
    RULES[name](book, tally)
    return frozenset(
        (f.page.volume, f.page.ordinal, f.line, f.expected, f.found) for f in tally.faults
    )


def books(files: Iterable[Path], sizes: Iterable[tuple[int, int]] = SIZES) -> list[Book]:
    """The editions of some documents, with and without a running head."""
    made = []
    for file in files:
        for nth, (cells, lines) in enumerate(sizes):
            head = "Tides" if nth else None
            options = {"cells": cells, "lines": lines, "running_head": head, "volume_pages": 20}
            made.append(book_of(convert_source(file, settings_from(**options))))
    return made


def strength(name: str, sound: list[Book], times: int) -> tuple[int, list[int]]:
    """How many faults of one check were made, and the ways of those it did not see."""
    made, missed = 0, []
    before = [told(book, name) for book in sound]
    for way, breaker in enumerate(WAYS.get(name, ())):
        chance = Random(f"{name} {way}")
        for nth in range(times):
            at = nth % len(sound)
            order = [*range(at, len(sound)), *range(at)]
            for book in order:
                broken = copy_of(sound[book])
                if breaker(chance, broken):
                    made += 1
                    if not told(ready(broken), name) - before[book]:
                        missed.append(way)
                    break
    return made, missed


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", type=Path, nargs="*", default=[FIXTURE])
    parser.add_argument("--times", type=int, default=8, help="faults of each way")
    parser.add_argument("--only", default="", help="checks whose names begin so")
    options = parser.parse_args()
    sound = books(options.files)
    total = caught = judged = 0
    lacking, without = [], []
    for name in checks():
        if not name.startswith(options.only):
            continue
        if name not in WAYS:
            without.append(name)
            continue
        made, missed = strength(name, sound, options.times)
        total, caught = total + made, caught + made - len(missed)
        judged += bool(made)
        if not made:
            lacking.append(name)
        if missed:
            ways = ", ".join(f"way {way + 1} {missed.count(way)}" for way in sorted(set(missed)))
            print(f"{name}: {made - len(missed)} of {made} caught; missed: {ways}", flush=True)
    print(f"{judged} checks, {total} faults, {caught} caught.")
    print(f"No place in these documents: {', '.join(lacking) or 'none'}.")
    print(f"No way to break them here: {', '.join(without) or 'none'}.")


if __name__ == "__main__":
    main()

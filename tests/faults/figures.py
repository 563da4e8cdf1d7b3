"""Print recall and precision over the seeded faults: ``python -m tests.faults.figures``.

Recall: expected findings raised, of all expected, and faults read rightly, of all to be.
Precision: expected findings, of these and of those raised by a twin without the fault or, among
the doubts (suspect), by any of the documents without being expected there.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from . import signs, structure, words
from .case import Case, kinds, lines, place, run

CASES: tuple[Case, ...] = (*structure.CASES, *signs.CASES, *words.CASES)


def main() -> None:
    """Convert every document and print a line for each case, then the sums."""
    found = expected = placed = places = right = readings = false = 0
    for number, case in enumerate(CASES):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            edition = run(case, case.fault, folder / "fault")
            twin = run(case, case.clean, folder / "twin") if case.clean else None
            raised, quiet = kinds(edition), kinds(twin) if twin else set()
            braille = lines(edition, folder / "out")
            same = not case.same or (twin and braille == lines(twin, folder / "twin-out"))
        hits = len(raised & set(case.kinds))
        found, expected = found + hits, expected + len(case.kinds)
        if case.kinds and case.place:
            places += 1
            placed += place(edition, case.kinds) == case.place
        if case.holds or case.lacks or case.same:
            readings += 1
            right += bool(same and case.holds in braille
                          and not (case.lacks and case.lacks in braille))  # fmt: skip
        stray = {k for k in raised | quiet if k.startswith("suspect")} - set(case.kinds)
        stray |= quiet & set(case.kinds)
        false += len(stray)
        print(f"{number + 1}. kind {case.number}, {case.name}: {hits} of {len(case.kinds)} findings"
              + (f"; not expected: {', '.join(sorted(stray))}" if stray else ""))  # fmt: skip
    print(f"{len(CASES)} faults of {len({c.number for c in CASES})} kinds")
    print(f"recall of findings: {found} of {expected}; places right: {placed} of {places}")
    print(f"read rightly: {right} of {readings}")
    print(f"precision: {found} of {found + false}")


if __name__ == "__main__":
    main()

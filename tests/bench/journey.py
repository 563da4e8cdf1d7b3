"""A transcriber's journey with a long book: ``python tests/bench/journey.py [WORDS]``.

A made book of 60,000 words is converted, ten findings are settled with ``cellset decide``, the
source is edited (a paragraph put in, one taken out, one reworded) and converted again.  Prints
what became of every decision, and the processor time of each step.
"""

from __future__ import annotations

import sys
import tempfile
import time
import tomllib
from collections import Counter
from pathlib import Path


def main(words: int) -> None:
    from tests.decisions.journey import Journey, chapters

    with tempfile.TemporaryDirectory() as folder:
        way = Journey(Path(folder), chapters(words))
        clock = time.process_time()

        def step(name: str) -> None:
            nonlocal clock
            now = time.process_time()
            print(f"{name}: {now - clock:.1f} s of processor time.")
            clock = now

        way.convert()
        step(f"Converted {words} words, {len(way.open())} findings that need a person")
        told = list(way.settle(10))
        step(f"{len(told)} findings settled, each with its effect shown")
        way.convert()
        rows = tomllib.loads((way.folder / "tides.job.toml").read_text("utf-8"))["decision"]
        print(f"{len(rows)} decisions: {dict(Counter(way.states()))}; open: {len(way.open())}.")
        placed = next(row["expect"] for row in rows if "at" in row and row["do"] != "accept")
        for chapter in way.blocks:
            if any(placed in block for block in chapter):
                chapter[:] = [block for block in chapter if placed not in block]
                chapter.insert(2, "<p>A paragraph that was not there.</p>")
                break
        way.blocks[-1][-2] = way.blocks[-1][-2].replace(".", ", or so they say.", 1)
        clock = time.process_time()
        way.convert()
        step("Edited and converted again")
        print(f"After the edit: {dict(Counter(way.states()))}.")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 60_000)

"""Convert every document of a folder and print a table: ``python tests/bench/corpus.py FOLDER``.

Columns: document, print characters, lost, doubled, volumes, braille pages, findings of severity
stop, look and told, failed checks, seconds.  A refused document shows its sentence instead.
"""

from __future__ import annotations

import sys
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

SUFFIXES = {".epub", ".docx", ".docm", ".dotx", ".dotm"}


def convert_one(path: Path) -> tuple[str, bool]:
    """One row of the table, and whether anything was lost or the program failed."""
    from convert.errors import ConvertError
    from convert.pipeline import convert_source, settings_from

    start = time.perf_counter()
    try:
        edition = convert_source(path, settings_from())
    except ConvertError as error:
        bad = "fault of the program" in str(error) or "failed on" in str(error)
        return f"{path.name} | refused: {error}", bad
    except Exception as error:  # the table must name the document, not stop at it
        return f"{path.name} | FAILED: {type(error).__name__}: {error}", True
    t = edition.totals
    counts = [sum(f.severity == s for f in edition.findings) for s in ("stop", "look", "told")]
    row = [path.name, t.print_characters, t.lost, t.doubled, t.volumes, t.braille_pages, *counts]
    failed = edition.checks.get("failed", "-")
    seconds = time.perf_counter() - start
    return " | ".join(map(str, [*row, failed, f"{seconds:.2f}"])), bool(t.lost or t.doubled)


def main() -> None:
    files = sorted(p for p in Path(sys.argv[1]).iterdir() if p.suffix in SUFFIXES)
    wrong = 0
    with ProcessPoolExecutor(2) as pool:
        for row, bad in pool.map(convert_one, files):
            wrong += bad
            print(("* " if bad else "") + row, flush=True)
    print(f"{len(files)} documents, {wrong} with something lost, doubled or failed.")


if __name__ == "__main__":
    main()

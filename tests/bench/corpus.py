"""Convert every document of a folder and print tables:
``python tests/bench/corpus.py FOLDER [--page 30x25] [--only PART]
[--document-pages]``.

First one row a document: print characters, lost, doubled, volumes, braille pages, findings of
severity stop, look and told, failed checks, those explained, seconds.  A refused document shows
its sentence instead.  Then every check that failed: document, check, place, what was expected and
found, and ``explained`` where a rule that gave way, filed in the report, explains it.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path
from typing import NamedTuple

SUFFIXES = {".epub", ".docx", ".docm", ".dotx", ".dotm"}


class Outcome(NamedTuple):
    """What came of one document."""

    row: str
    bad: bool
    failures: list[tuple[str, bool]]  # The sentence, and whether it is explained.


def convert_one(path: Path, page: tuple[int, int] | None, document_pages: bool) -> Outcome:
    """One row of the table, whether anything was lost or the program failed, and what failed."""
    from convert.errors import ConvertError
    from convert.pipeline import convert_source, settings_from

    options = {"cells": page[0], "lines": page[1]} if page else {}
    pages = {"document_pages": True} if document_pages else {}
    start = time.process_time()
    try:
        edition = convert_source(path, settings_from(**options, **pages))
    except ConvertError as error:
        bad = "fault of the program" in str(error) or "failed on" in str(error)
        return Outcome(f"{path.name} | refused: {error}", bad, [])
    except Exception as error:  # the table must name the document, not stop at it
        return Outcome(f"{path.name} | FAILED: {type(error).__name__}: {error}", True, [])
    t = edition.totals
    counts = [sum(f.severity == s for f in edition.findings) for s in ("stop", "look", "told")]
    row = [path.name, t.print_characters, t.lost, t.doubled, t.volumes, t.braille_pages, *counts]
    failures = [_failure(path.name, dict(one)) for one in edition.checks.get("failures", ())]  # type: ignore[attr-defined]
    explained = sum(known for _, known in failures)
    seconds = time.process_time() - start
    row += [len(failures), explained, f"{seconds:.2f}"]
    return Outcome(" | ".join(map(str, row)), bool(t.lost or t.doubled), failures)


def _failure(name: str, one: dict[str, object]) -> tuple[str, bool]:
    explained = str(one.get("explained") or "")
    place = f"volume {one['volume']}, page {one['label']}, line {one['line']}"
    parts = [name, one["id"], place, f"expected {one['expected']}, found {one['found']}"]
    return " | ".join(map(str, [*parts, explained or "NOT EXPLAINED"])), bool(explained)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--page", default="", help="cells and lines, such as 30x25")
    parser.add_argument("--only", default="", help="only documents whose names hold this")
    parser.add_argument(
        "--document-pages", action="store_true", help="take a DOCX's own pages as print pages"
    )
    options = parser.parse_args()
    size = tuple(int(part) for part in options.page.lower().split("x")) if options.page else None
    page = (size[0], size[1]) if size else None
    files = sorted(p for p in options.folder.iterdir() if p.suffix in SUFFIXES)
    files = [p for p in files if options.only in p.name]
    wrong, failures = 0, []
    with ProcessPoolExecutor(2) as pool:
        for row, bad, failed in pool.map(
            partial(convert_one, page=page, document_pages=options.document_pages), files
        ):
            wrong += bad
            failures += failed
            print(("* " if bad else "") + row, flush=True)
    print(f"{len(files)} documents, {wrong} with something lost, doubled or failed.")
    for sentence, _ in failures:
        print(sentence)
    unexplained = Counter(text.split(" | ")[1] for text, known in failures if not known)
    told = ", ".join(f"{name} {count}" for name, count in sorted(unexplained.items()))
    count = sum(known for _, known in failures)
    print(
        f"Page {options.page or '40x25'}: {len(failures)} places where a check failed, {count} "
        f"explained, {len(failures) - count} not explained{': ' + told if told else ''}."
    )


if __name__ == "__main__":
    main()

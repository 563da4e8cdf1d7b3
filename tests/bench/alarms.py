"""How many findings a person must look at: ``python tests/bench/alarms.py FOLDER [WORD...]``.

For each document of a folder (those whose names hold one of the words, else all): braille pages,
findings of severity stop and look, their number for 100 braille pages, and the kinds.  A grouped
finding counts once, with its places after it.  Documents of fewer than ten pages are summed up
in the last lines only, as a single finding there is more than one for 100 pages.
"""

from __future__ import annotations

import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

SUFFIXES = {".epub", ".docx"}
SHORT = 10
Row = tuple[str, int, Counter[tuple[str, str]], Counter[str]]


def alarms(path: Path) -> Row:
    """Name, braille pages, findings by severity and kind, places by kind; no pages if refused."""
    from convert.errors import ConvertError
    from convert.pipeline import convert_source, settings_from

    found: Counter[tuple[str, str]] = Counter()
    places: Counter[str] = Counter()
    try:
        edition = convert_source(path, settings_from())
    except ConvertError:
        return path.name, 0, found, places
    for finding in edition.findings:
        if finding.severity != "told":
            found[finding.severity, finding.kind] += 1
            places[finding.kind] += max(1, len(finding.spans))
    return path.name, edition.totals.braille_pages, found, places


def show(name: str, pages: int, found: Counter[tuple[str, str]], places: Counter[str]) -> None:
    """One line for a document, one for each kind."""
    number = found.total()
    rate = f"{100 * number / pages:.1f} for 100 pages" if pages else "no pages"
    print(f"{name}: {pages} braille pages, {number} findings, {rate}")
    for (severity, kind), times in found.most_common():
        print(f"    {severity} {kind}: {times} findings, {places[kind]} places")


def main() -> None:
    words = sys.argv[2:]
    files = [
        path
        for path in sorted(Path(sys.argv[1]).iterdir())
        if path.suffix in SUFFIXES and (not words or any(word in path.name for word in words))
    ]
    total: Counter[tuple[str, str]] = Counter()
    spots: Counter[str] = Counter()
    pages = documents = quiet = 0
    with ProcessPoolExecutor(2) as pool:
        for row in pool.map(alarms, files):
            if row[1] >= SHORT:
                show(*row)
                documents += 1
                quiet += row[2].total() * 100 <= row[1]
            pages += row[1]
            total.update(row[2])
            spots.update(row[3])
    print(f"{documents} documents of {SHORT} pages or more; {quiet} with at most 1 for 100 pages")
    show("all documents", pages, total, spots)


if __name__ == "__main__":
    main()

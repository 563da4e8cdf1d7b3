"""Do ids of findings hold when the source is edited?  ``python tests/bench/ids.py BOOK.epub ...``

For each book a paragraph is put in, then one is taken out, a third of the way through the file of
the reading order with most paragraphs; prints how many ids of the unedited book are still there.
"""

from __future__ import annotations

import re
import sys
import tempfile
import zipfile
from pathlib import Path

PARAGRAPH = re.compile(r"<p\b[^>]*>.*?</p\s*>", re.DOTALL)
NEW = "<p>A paragraph that was not there.</p>"


def ids(path: Path) -> set[str]:
    """The ids of a book's findings."""
    from convert.pipeline import convert_source, settings_from

    return {finding.id for finding in convert_source(path, settings_from()).findings}


def edited(path: Path, folder: Path, edit: str) -> Path:
    """A copy of a book with one paragraph more or less."""
    with zipfile.ZipFile(path) as book:
        files = {name: book.read(name) for name in book.namelist()}
    texts = {n: d.decode("utf-8") for n, d in files.items() if n.endswith(("html", "htm"))}
    texts = {n: text for n, text in texts.items() if PARAGRAPH.search(text)}
    name = max(texts, key=lambda n: len(PARAGRAPH.findall(texts[n])))
    found = list(PARAGRAPH.finditer(texts[name]))
    at = found[len(found) // 3]
    rest = texts[name][at.end() :]
    new = NEW + at[0] if edit == "insert" else ""
    files[name] = (texts[name][: at.start()] + new + rest).encode()
    out = folder / path.name
    with zipfile.ZipFile(out, "w") as book:
        for member, data in files.items():
            book.writestr(member, data)
    return out


def main() -> None:
    for path in map(Path, sys.argv[1:]):
        before = ids(path)
        for edit in ("insert", "delete"):
            with tempfile.TemporaryDirectory() as folder:
                kept = len(before & ids(edited(path, Path(folder), edit)))
            print(f"{path.name}: {edit}: {kept} of {len(before)} ids kept")


if __name__ == "__main__":
    main()

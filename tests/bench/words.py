"""Are the words of print in the braille?  ``python tests/bench/words.py CORPUS [NAME ...]``

CORPUS is a folder with ``manifest.json``, ``dev/NAME.ref.txt`` (the plain text that another
program extracts from each document), ``dev/NAME.raw.txt`` where two extractions differ, and
``measure_text.py``, which compares plain texts.  The words of a finished edition are recovered
from its trace alone: the ``print`` spans of its lines into the ledger, in print order, and the
omissions that name a reason.  Prints, for each document: words in the reference, recall as a bag
of words, recall in order, precision, and the share of the words that are in omissions; a star
marks those under 99.5 per cent.
"""

from __future__ import annotations

import importlib.util
import json
import sys
import time
from pathlib import Path
from types import ModuleType
from typing import Any

from convert.document.ledger import BREAK, GENERATED
from convert.edition import Edition
from convert.errors import ConvertError
from convert.pipeline import convert_source, settings_from
from convert.writers.trace import trace_lines

ENOUGH = 0.995


REPEATS = {"title", "toc", "symbols"}  # lines of the front pages that say print a second time


def recovered(edition: Edition, with_omissions: bool = True) -> str:
    """The print that reaches a line of the pages, and what was left out for a reason."""
    text, pieces = edition.document.ledger.text, edition.document.ledger.pieces
    keep = bytearray(len(text))
    for line in trace_lines(edition):
        if line["series"] == "body" or line["kind"] not in REPEATS:
            for start, end in line["print"]:  # type: ignore[attr-defined]
                keep[start:end] = b"\1" * (end - start)
    if with_omissions:
        for gone in edition.document.omissions:
            keep[gone.start : gone.end] = b"\1" * (gone.end - gone.start)
    out = []
    for piece in pieces:
        words = text[piece.start : piece.end]
        kept = keep[piece.start : piece.end]
        if piece.kind == BREAK:
            out.append("\n")
            continue
        words = "".join(c if k else " " * c.isspace() for c, k in zip(words, kept, strict=True))
        # A computed note number or list number is a word of its own.
        out.append(f" {words} " if piece.kind == GENERATED else words)
    return "".join(out)


def measure(corpus: Path) -> ModuleType:
    """The comparing module of the corpus."""
    spec = importlib.util.spec_from_file_location("measure_text", corpus / "measure_text.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def rows(corpus: Path, names: list[str]) -> Any:
    """(name, reference kind, comparison or sentence of refusal, omitted share) per document."""
    tool = measure(corpus)
    manifest = json.loads((corpus / "manifest.json").read_text("utf-8"))
    for entry in manifest["documents"]:
        if entry["set"] != "dev" or (names and entry["name"] not in names):
            continue
        try:
            edition = convert_source(corpus / entry["file"], settings_from(code="ueb-uncontracted"))
        except ConvertError as error:
            yield entry["name"], "", str(error), 0.0
            continue
        got, shown = recovered(edition), recovered(edition, with_omissions=False)
        left_out = 1 - len(tool.tokens(shown)) / max(1, len(tool.tokens(got)))
        kinds = [("ref", entry["ref"])]
        if entry.get("ref_suspect"):
            kinds.append(("raw", entry["raw"]))
        for kind, file in kinds:
            if file and (corpus / file).exists():
                reference = (corpus / file).read_text("utf-8", errors="replace")
                yield entry["name"], kind, tool.compare(reference, got, show=8), left_out


def main() -> None:
    """Print the table, the longest losses of each starred row, and the sum."""
    corpus, names = Path(sys.argv[1]), sys.argv[2:]
    total = lost = starred = 0
    start = time.perf_counter()
    print("document | words in reference | recall bag | recall ordered | precision | omitted")
    for name, kind, found, left_out in rows(corpus, names):
        if isinstance(found, str):
            print(f"* {name} | refused: {found}", flush=True)
            continue
        low = found["bag_recall"] < ENOUGH
        starred += low
        total += found["ref_words"]
        lost += found["lost_words"]
        print(
            f"{'* ' if low else ''}{name}{' (raw)' if kind == 'raw' else ''} | "
            f"{found['ref_words']} | {found['bag_recall']:.4f} | {found['ordered_recall']:.4f} | "
            f"{found['bag_precision']:.4f} | {left_out:.4f}"
        )
        if low:
            print("    lost: " + ", ".join(f"{w} x{n}" for w, n in found["lost_top"]), flush=True)
        if names:
            print("    more: " + ", ".join(f"{w} x{n}" for w, n in found["invented_top"]))
    print(f"{total} words, {lost} not found, {starred} rows under {ENOUGH:.1%}.")
    print(f"{time.perf_counter() - start:.0f} seconds", file=sys.stderr)


if __name__ == "__main__":
    main()

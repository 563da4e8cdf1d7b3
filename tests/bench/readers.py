"""Is every word read, once and in order?  ``python tests/bench/readers.py CORPUS [NAME ...]``

CORPUS is a folder as ``words.py`` describes.  Each document is read, not converted, and the words
of its ledger are compared with the plain text that another program extracted.  One line for each
document: set, name, features, words in the other text, words in the ledger, recall and precision
as a bag of words, recall in order, words moved, findings by severity, repairs (kinds of findings
that tell of one), and the words that the ledger lacks most.  Documents without another text, and
refused ones, say so.  The last lines add up; the exit status is 1 where a document failed.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))

from convert.document.ledger import BREAK, GENERATED, Ledger
from convert.errors import ConvertError
from convert.findings import Findings
from convert.pipeline import read_source
from convert.readers.container import open_source
from convert.settings import Settings
from tests.bench.words import measure

_REPAIRS = (
    "clean.", "read.repair", "read.container-repaired", "read.guessed-encoding",
    "read.layout-table",
    "read.turn-inside-word", "read.empty-paragraphs", "read.page-label-from-id",
    "read.heading-guessed", "read.note-guessed", "docx.broken-field", "docx.part-unreadable",
)  # fmt: skip


def spelled(ledger: Ledger) -> str:
    """The print of a ledger; generated marks are words of their own."""
    out = []
    for piece in ledger.pieces:
        words = ledger.text[piece.start : piece.end]
        if piece.kind == BREAK:
            out.append("\n")
        else:
            out.append(f" {words} " if piece.kind == GENERATED else words)
    return "".join(out)


def one(corpus: str, row: dict[str, Any]) -> dict[str, Any]:
    """The figures of one document."""
    folder = Path(corpus)
    told: dict[str, Any] = {"set": row["set"], "name": row["name"]}
    told["features"] = ", ".join(row.get("feature_tags") or []) or "plain"
    findings = Findings()
    try:
        document, _ = read_source(open_source(folder / row["file"]), Settings(), findings)
    except ConvertError as error:
        return told | {"refused": str(error)}
    except Exception as error:  # the table names the document, and goes on
        return told | {"failed": f"{type(error).__name__}: {error}"}
    severities = Counter(finding.severity for finding in findings.all())
    told["findings"] = "/".join(str(severities[s]) for s in ("stop", "look", "told"))
    kinds = sorted({f.kind for f in findings.all() if f.kind.startswith(_REPAIRS)})
    told["repairs"] = ", ".join(kinds) or "none"
    name = row.get("raw") if row.get("ref_suspect") and row.get("raw") else row.get("ref")
    if not name or not (folder / name).exists():
        name = f"{row['file']}.ref.txt"
    if not (folder / name).exists():
        return told | {"words": len(spelled(document.ledger).split())}
    text = (folder / name).read_text("utf-8", "replace")
    return (
        told | {"against": name} | measure(folder).compare(text, spelled(document.ledger), show=6)
    )


def line(told: dict[str, Any]) -> str:
    """A row of the table."""
    start = [told["set"], told["name"], told["features"]]
    for word in ("refused", "failed"):
        if word in told:
            return " | ".join([*start, f"{word}: {told[word]}"])
    end = [f"findings {told['findings']}", f"repairs: {told['repairs']}"]
    if "ref_words" not in told:
        return " | ".join([*start, f"no other text; {told['words']} words read", *end])
    lacks = ", ".join(f"{word}×{number}" for word, number in told["lost_top"])
    figures = [
        f"words {told['ref_words']}",
        f"read {told['other_words']}",
        f"recall {told['bag_recall']:.4f}",
        f"precision {told['bag_precision']:.4f}",
        f"in order {told['ordered_recall']:.4f}",
        f"moved {told['moved_words']}",
    ]
    return " | ".join([*start, *figures, *end, f"lacks: {lacks or 'nothing'}"])


def main() -> int:
    corpus = sys.argv[1]
    rows = json.loads((Path(corpus) / "manifest.json").read_text("utf-8"))["documents"]
    rows = [row for row in rows if not sys.argv[2:] or row["name"] in sys.argv[2:]]
    sums: Counter[str] = Counter()
    with ProcessPoolExecutor(1) as pool:
        for told in pool.map(one, [corpus] * len(rows), rows):
            print(line(told), flush=True)
            sums["documents"] += 1
            for word in ("refused", "failed", "against"):
                sums[word] += word in told
            sums["whole"] += told.get("lost_words") == 0
            sums["words"] += told.get("ref_words", 0)
            sums["lacking"] += told.get("lost_words", 0)
    print(
        f"{sums['documents']} documents: {sums['refused']} refused with a sentence, "
        f"{sums['failed']} failed, {sums['against']} compared, {sums['whole']} of them lacking no "
        f"word; {sums['lacking']} of {sums['words']} words lacking."
    )
    return 1 if sums["failed"] else 0


if __name__ == "__main__":
    sys.exit(main())

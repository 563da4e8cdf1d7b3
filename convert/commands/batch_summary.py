"""What ``cellset batch`` leaves about all documents: a table for the office, a text for the ear."""

from __future__ import annotations

import csv
import os
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

from ..writers.counted import count
from .tell import plain_name

Record = dict[str, object]

COLUMNS = (
    "source", "status", "folder", "volumes", "braille_pages", "print_pages", "stop", "look",
    "lost", "caution", "message",
)  # fmt: skip
WAITING = "not reached"
_HEADINGS = {"stop": "To settle before embossing", "look": "To look at"}
_CAUTION = (
    "This braille is a draft for a qualified transcriber and proofreader. The rules of your "
    "local braille authority prevail over anything said here."
)


def waiting(source: Path) -> Record:
    """The record of a document that a stopped batch did not come to."""
    return {"source": str(source), "status": WAITING}


def numbers(record: Record) -> dict[str, int]:
    """The totals of a converted document with its counts of findings; empty for another."""
    totals = record.get("totals")
    return totals | totals["findings"] if isinstance(totals, dict) else {}


def of_status(records: Sequence[Record], *names: str) -> list[Record]:
    """The records of some statuses."""
    return [record for record in records if record["status"] in names]


def write_summary(records: Sequence[Record], out: Path) -> None:
    """Write ``summary.csv`` and ``summary.txt``, each whole or not at all.

    Raises OSError where they cannot be written.
    """
    out.mkdir(parents=True, exist_ok=True)
    _replace(out / "summary.txt", "\n".join(text_lines(records)) + "\n")
    part = out / f"summary.csv.{os.getpid()}.part"
    with part.open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, COLUMNS, extrasaction="ignore", restval="")
        table.writeheader()
        for record in records:
            row = {**record, **numbers(record)}
            table.writerow({key: _inert(value) for key, value in row.items()})
    part.replace(out / "summary.csv")


def _replace(path: Path, text: str) -> None:
    part = path.with_name(f"{path.name}.{os.getpid()}.part")
    part.write_text(text, "utf-8", newline="\n")
    part.replace(path)


def text_lines(records: Sequence[Record]) -> Iterator[str]:
    """All documents in sentences, those that need a person first, in lines for the ear."""
    from ..explain.say import fold

    for paragraph in _sentences(records):
        yield fold(paragraph) if paragraph else ""


def _sentences(records: Sequence[Record]) -> Iterator[str]:
    yield end_sentence(records)
    yield _CAUTION
    for status, heading in (("refused", "Refused"), ("settle", _HEADINGS["stop"])):
        yield from _section(heading, of_status(records, status))
    yield from _kinds(records)
    yield from _section("Nothing to settle", of_status(records, "done"))
    yield from _section("Not reached in this run", of_status(records, WAITING))


def end_sentence(records: Sequence[Record]) -> str:
    """How the batch ended, in one line."""
    settle, refused = len(of_status(records, "settle")), len(of_status(records, "refused"))
    left = len(of_status(records, WAITING))
    done = len(records) - refused - left
    said = f"{count(done, 'document')} converted"
    said += f", {settle} of them with something to settle before embossing" if settle else ""
    said += f"; {refused} refused" if refused else ""
    return f"{said}; {left} not reached." if left else f"{said}."


def _section(heading: str, rows: Sequence[Record]) -> Iterator[str]:
    if not rows:
        return
    yield ""
    yield f"{heading}: {count(len(rows), 'document')}."
    for record in rows:
        yield _document(record)


def _document(record: Record) -> str:
    name, number = plain_name(record["source"]), numbers(record)
    if not number:
        return f"{name}. {plain_name(record['message'])}" if "message" in record else name
    said = [f"{number['stop']} to settle"] if number["stop"] else []
    said += [
        f"{number['look']} to look at",
        count(number["volumes"], "volume"),
        count(number["braille_pages"], "braille page"),
    ]
    if number["lost"]:
        said.insert(0, f"{count(number['lost'], 'character')} lost")
    return f"{name}: {', '.join(said)}. Folder {plain_name(record['folder'])}."


def _kinds(records: Sequence[Record]) -> Iterator[str]:
    """The kinds of findings over all documents: how many, in how many documents."""
    from ..findings import catalogue

    for severity, heading in _HEADINGS.items():
        times: Counter[str] = Counter()
        documents: Counter[str] = Counter()
        for record in records:
            found = record.get("kinds")
            here = found.get(severity, {}) if isinstance(found, dict) else {}
            times.update(here)
            documents.update(here.keys())
        if times:
            yield ""
            yield f"{heading}, in all documents together, the most frequent kind first:"
        for kind, number in sorted(times.items(), key=lambda row: (-row[1], row[0])):
            title = catalogue()[kind].title if kind in catalogue() else kind
            where = count(documents[kind], "document")
            yield f"{title}: {count(number, 'finding')} in {where}. Kind {kind}."


def _inert(value: object) -> object:
    """Words a spreadsheet would run as a formula, made plain (OWASP, CSV injection), and bytes of
    a name that are no text, by their numbers."""
    text = str(value).encode("utf-8", "backslashreplace").decode()
    risky = text[:1] in ("=", "+", "-", "@", "\t") and not text.lstrip("-").isdigit()
    return f"'{text}" if risky else text

"""A whole journey: ten findings settled last through an edit of the source, or say that they do
not apply any more; and the pages that changed are the pages told."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

from tests.decisions.journey import Journey, chapters, pages_of

WORDS = 3_000


def test_ten_decisions_last_through_an_edit(tmp_path: Path) -> None:
    way = Journey(tmp_path, chapters(WORDS))
    way.convert()
    told = list(way.settle(10))
    assert len(told) == 10
    assert all("1 decision written" in text or "decisions written" in text for text in told)
    way.convert()
    before = pages_of(way.edition / "trace.jsonl")
    rows = tomllib.loads((tmp_path / "tides.job.toml").read_text("utf-8"))["decision"]
    assert set(way.states()) <= {"applied", "accepted"}
    settled = {finding for record in way.report()["decisions"] for finding in record["settled"]}  # type: ignore[attr-defined]
    assert not settled & {row["id"] for row in way.open()}

    placed = [row for row in rows if "at" in row and row["do"] != "accept"]
    assert len(placed) >= 3
    gone = placed[0]["expect"]
    chapter = next(at for at, blocks in enumerate(way.blocks) if any(gone in b for b in blocks))
    edited = [block for block in way.blocks[chapter] if gone not in block]
    assert len(edited) == len(way.blocks[chapter]) - 1
    way.blocks[chapter] = [*edited[:2], "<p>A paragraph that was not there.</p>", *edited[2:]]
    last = way.blocks[-1]
    last[-2] = last[-2].replace(".", ", or so they say.", 1)
    way.convert()
    states = way.states()
    assert len(states) == len(rows)
    assert states[rows.index(placed[0])] == "stale"
    assert set(states) <= {"applied", "followed", "accepted", "stale"}
    assert states.count("stale") <= 2
    after = pages_of(way.edition / "trace.jsonl")
    kept = set(before.values())
    truly = {place for place, cells in after.items() if cells not in kept}
    listed = json.loads((way.edition / "changes.json").read_text("utf-8"))
    named = {
        (page["volume"], page["page"])
        for page in map(place_of, listed["pages"])
        if page["state"] in ("changed", "new")
    }
    assert {place for place in named if place in after} == truly


def place_of(page: dict[str, object]) -> dict[str, object]:
    """A page of changes.json with its volume and number at hand."""
    place = page.get("place") or {}
    assert isinstance(place, dict)
    return {**page, **place}

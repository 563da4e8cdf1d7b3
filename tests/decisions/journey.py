"""A transcriber's way with one book: convert, settle ten findings, edit the source, convert again.

The book is made from a seed: chapters of plain words, and one matter a paragraph that needs a
person every so often.  ``tests/bench/journey.py`` goes the same way with a long book.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

from click.testing import CliRunner

from convert.cli import group
from tests.readers.make import epub

_WORDS = """
the river of a stone and wind to field in bridge that water is light over hill with
morning for people on house by evening from road at garden it winter was summer as market
were door an apple this window which letter be paper have table not school are teacher but
children or horse had wagon his boat her sail they harbour we salt you fire there bread
one knife two
""".split()  # noqa: SIM905
# Matters that need a person; the number makes each its own.
_MATTERS = (
    "<p>Press \u2318 {n} times on the {n}th day and wait for the bell to ring.</p>",
    '<figure><img src="p{n}.png"/><figcaption>Figure {n} The mill</figcaption></figure>',
    "<p>Question {n}. The mill in picture {n} grinds ........... for the town.</p>",
    "<p>Turn \u238b {n} slowly until plate {n} moves to the other side of it.</p>",
    "<p>Mark the red words of verse {n} and learn them by heart before noon.</p>",
    "<p>Where it says \u2698 {n} the old map has nothing but a grey field there.</p>",
)
FILLED = {"text": "the sign", "cells": "1-2", "lang": "fr", "why": "looked at in print", "by": "AB"}


def sentence(random: Random) -> str:
    words = [random.choice(_WORDS) for _ in range(random.randint(8, 18))]
    return f"{' '.join(words).capitalize()}."


def chapters(words: int, seed: int = 7) -> list[list[str]]:
    """Chapters as lists of blocks, about so many words in all."""
    random = Random(seed)
    out: list[list[str]] = []
    made = matter = 0
    while made < words:
        blocks = [f"<h1>Chapter {len(out) + 1}</h1>"]
        for _ in range(30):
            text = " ".join(sentence(random) for _ in range(random.randint(2, 5)))
            made += text.count(" ") + 1
            blocks.append(f"<p>{text}</p>")
            if random.random() < 0.3:
                matter += 1
                kind = _MATTERS[matter % len(_MATTERS)]
                blocks.append(kind.format(n=matter))
        out.append(blocks)
    return out


def cellset(*words: object) -> str:
    """What a command told; an assertion fails if the program did."""
    result = CliRunner().invoke(group, [str(word) for word in words])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code in (0, 3), result.output
    return result.output


@dataclass
class Journey:
    """The way of one book in a folder."""

    folder: Path
    blocks: list[list[str]]

    @property
    def edition(self) -> Path:
        return self.folder / "out" / "tides"

    def convert(self) -> str:
        source = epub(self.folder, *("".join(chapter) for chapter in self.blocks))
        return cellset("run", source, "--out", self.folder / "out", "--write", "brf,report,trace")

    def report(self) -> dict[str, list[dict[str, object]]]:
        found: dict[str, list[dict[str, object]]] = json.loads(
            (self.edition / "report.json").read_text("utf-8")
        )
        return found

    def open(self) -> list[dict[str, object]]:
        """The findings that need a person."""
        return [row for row in self.report()["findings"] if row["severity"] != "told"]

    def settle(self, number: int) -> Iterator[str]:
        """Settle so many findings with the offers of each in turn; what each decision told."""
        taken: dict[str, dict[str, object]] = {}
        for row in self.open():
            offers = row["offer"]
            assert isinstance(offers, list)
            print_ = tomllib.loads(offers[0])["decision"][0].get("expect")
            if print_ and len(offers) > 1:
                taken.setdefault(print_, row)
        for at, row in enumerate(list(taken.values())[:number]):
            at += at // 3
            offers = row["offer"]
            assert isinstance(offers, list)
            offer = at % len(offers) + 1
            words: list[object] = ["decide", self.edition, row["id"], "--offer", offer, "--yes"]
            stanza = offers[offer - 1]
            for key, value in FILLED.items():
                if f'{key:<10} = ""' in stanza:
                    words += ["--set", f"{key}={value}"]
            yield cellset(*words)

    def states(self) -> list[str]:
        """What became of the decisions, from a new look at the edition."""
        told = json.loads(cellset("decide", self.edition, "--show", "--json"))
        return [row["state"] for row in told["decisions"]]


def pages_of(trace: Path) -> dict[tuple[int, str], tuple[str, ...]]:
    """The cells of each body page of a trace, by volume and page number."""
    out: dict[tuple[int, str], list[str]] = {}
    for line in trace.read_text("utf-8").splitlines():
        row = json.loads(line)
        if row["series"] == "body":
            cells = out.setdefault((row["volume"], row["braille_page"]), [])
            cells.append(row["cells"])
    return {key: tuple(cells) for key, cells in out.items()}

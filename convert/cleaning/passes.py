"""The passes by name, in order, and which run: ``clean = ["-soft-hyphens", "+dashes"]``."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass

from ..document.nodes import Document
from ..document.tidy import Pass
from ..document.whole_words import join_runs
from ..errors import JobError
from ..findings import Findings
from . import blocks, letters, words


@dataclass(frozen=True, slots=True)
class Cleaning:
    """A pass; ``by_default``: it runs unless switched off.  ``suggests`` runs in its place where
    nothing was said of it, and only tells."""

    name: str
    repair: Pass
    by_default: bool = True
    suggests: Pass | None = None


CLEANINGS = (
    Cleaning("invisible", letters.invisible),
    Cleaning("soft-hyphens", letters.soft_hyphens),
    Cleaning("line-end-hyphens", words.line_end_hyphens),
    Cleaning("split-words", words.split_words),
    Cleaning("quotation-marks", letters.quotation_marks),
    Cleaning("dashes", letters.dashes, False, letters.maybe_dashes),
    Cleaning("primes", letters.primes, False, letters.maybe_primes),
    Cleaning("page-numbers", blocks.page_numbers, False),
    Cleaning("running-heads", blocks.running_heads, False),
    Cleaning("typed-lists", blocks.typed_lists, False),
)


def names() -> tuple[str, ...]:
    """The names of the passes, in the order they run."""
    return tuple(cleaning.name for cleaning in CLEANINGS)


def wanted(given: Iterable[str]) -> dict[str, bool]:
    """Which passes were switched on or off by ``+name`` and ``-name``; the last word counts.

    Raises JobError for a word without a sign or a name that is no pass.
    """
    said: dict[str, bool] = {}
    for word in given:
        sign, name = word[:1], word[1:].strip()
        if sign not in ("+", "-") or name not in names():
            near = difflib.get_close_matches(word.lstrip("+-"), names(), n=1)
            hint = f"Did you mean “-{near[0]}” or “+{near[0]}”?" if near else ""
            raise JobError(
                f"“{word}” switches no cleaning on or off.",
                hint or f"Write + or - before one of: {', '.join(names())}.",
            )
        said[name] = sign == "+"
    return said


def clean(document: Document, given: Iterable[str], findings: Findings) -> Document:
    """Run the passes that are wanted, in order.  Raises JobError for a name that is no pass."""
    said = wanted(given)
    document = join_runs(document, findings)
    for cleaning in CLEANINGS:
        if said.get(cleaning.name, cleaning.by_default):
            document = cleaning.repair(document, findings)
        elif cleaning.suggests is not None and cleaning.name not in said:
            document = cleaning.suggests(document, findings)
    return document

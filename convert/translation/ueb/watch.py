"""Words that make a paragraph worth a second look: where they stand, words may depend on one
another (UEB 5.4, 6.6, 7.6.4, 8.5, 10.6.4, 16.5)."""

from __future__ import annotations

import re
from collections.abc import Iterable

from . import capitals, drawn, paragraph
from .keys import Key

# What in a word may be part of a passage of capitals (UEB 8.5), of a group of digits (6.6).
_LOUD = re.compile("[A-ZÀ-ÖØ-Þ]{2}")
_LONE = re.compile(r"(?![AI]$)[A-Z]\.?\W*")
_GROUPED = re.compile(r"\d{3}|\+\d{1,3}")
ALWAYS, LOUD, LONE, SPELLED, GROUPED, DOTS = "always", "loud", "lone", "spelled", "grouped", "dots"


class Watch:
    """The words seen so far that are watched, each with what for."""

    def __init__(self) -> None:
        self.why: dict[Key, list[str]] = {}

    def note(self, key: Key, token: str, cells: str) -> bool:
        """Note what a word is watched for; false if for nothing."""
        found = []
        if _LOUD.search(token):
            found.append(LOUD)
        if _LONE.fullmatch(token):
            found.append(LONE)
        if paragraph.is_spelled(token):
            found.append(SPELLED)
        if _GROUPED.fullmatch(token):
            found.append(GROUPED)
        if drawn.may_lead(token):
            found.append(DOTS)
        if not cells or token in ("“", "”") or token.lower() in paragraph.firsts():
            found.append(ALWAYS)
        if found:
            self.why[key] = found
        return bool(found)

    def depends(
        self, watched: Iterable[Key], text: str, tokens: list[str], prints: list[int]
    ) -> bool:
        """Whether words depend on one another, by the watched ones among them: a passage of
        capitals or spelled words, a digit group, guide dots, a listed pair, a lone quotation
        mark, a word of no cells."""
        why = {reason for key in watched for reason in self.why.get(key, ())}
        if not why:
            return False
        if (
            ALWAYS in why
            or (GROUPED in why and paragraph.joins(text))
            or (SPELLED in why and text.count("-") >= paragraph.FEWEST_SPELLED)
            or (LONE in why and paragraph.may_be_initials(text))
            or (DOTS in why and drawn.leaders(text))
        ):
            return True
        if LOUD not in why or not capitals.may_hold_passage(text, tokens):
            return False
        spans = [(start, start + len(token)) for start, token in zip(prints, tokens, strict=True)]
        return any(capitals.passages(text, spans))

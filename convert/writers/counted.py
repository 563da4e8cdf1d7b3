"""Numbers with what they count."""

from __future__ import annotations


def count(number: int, noun: str) -> str:
    """``1 volume``, ``3 volumes``, ``1,204 cells``."""
    return f"{number:,} {noun}" if number == 1 else f"{number:,} {noun}s"

"""Unified English Braille: the codes ``ueb`` and ``ueb-uncontracted``.

One planner decides every mode and indicator; only the contracted code asks liblouis, and only
for the contractions of letters.
"""

from __future__ import annotations

from ...settings import Settings
from .translator import UebTranslator


def contracted(settings: Settings) -> UebTranslator:
    """Contracted braille.  Raises PluginError if liblouis or its tables are not installed."""
    from ..louis_gate import LouisGate

    return UebTranslator("ueb", settings, LouisGate())


def uncontracted(settings: Settings) -> UebTranslator:
    """Uncontracted braille; needs no native library."""
    return UebTranslator("ueb-uncontracted", settings, None)

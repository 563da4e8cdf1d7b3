"""Where an English word may be divided between syllables (UEB 10.13.1).

The syllables are those of the hyphenation patterns of the package pyphen (American English);
it is asked for nothing else, and only where words are to be divided.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from ...errors import PluginError

_LANGUAGE = "en_US"
# Letters of a divided word on both lines at least: the patterns' own measure.
_FEWEST_BEFORE, _FEWEST_AFTER = 2, 3


@cache
def finder() -> Callable[[str], tuple[int, ...]]:
    """What finds the places between the syllables of a word in small letters.  Raises
    PluginError if pyphen is not installed."""
    try:
        import pyphen
    except ImportError as error:
        raise PluginError(
            "Words cannot be divided: the package pyphen, which knows their syllables, is not "
            "installed.",
            'Install it with: pip install "cellset[division]", or leave out --divide-words.',
        ) from error
    words = pyphen.Pyphen(lang=_LANGUAGE, left=_FEWEST_BEFORE, right=_FEWEST_AFTER)

    def places(word: str) -> tuple[int, ...]:
        return tuple(int(place) for place in words.positions(word))

    return places

"""Where an English word may be divided between syllables (UEB 10.13.1).

The syllables are those of the hyphenation patterns of the package pyphen (American English);
it is asked for nothing else, and only where words are to be divided.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from ...errors import PluginError

# A line keeps two letters at least of a divided word, and the next has three (the patterns'
# own measure; common practice).
_LANGUAGE = "en_US"


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
    words = pyphen.Pyphen(lang=_LANGUAGE)

    def places(word: str) -> tuple[int, ...]:
        return tuple(int(place) for place in words.positions(word))

    return places

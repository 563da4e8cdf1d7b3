"""Colours in words, since a figure like 5B9BD5 says nothing to the ear."""

from __future__ import annotations

import colorsys
from functools import cache

_HUES = (
    (15, "red"), (40, "orange"), (70, "yellow"), (165, "green"), (195, "blue-green"),
    (260, "blue"), (295, "purple"), (345, "pink"), (361, "red"),
)  # fmt: skip
_GREY = 0.12


@cache
def colour_name(value: str) -> str:
    """The plain name of a colour of six hexadecimal digits; ``""`` for ordinary ink.

    Black, dark grey and “automatic” are ordinary ink, as is anything that is no colour.
    """
    try:
        red, green, blue = (int(value[at : at + 2], 16) / 255 for at in (0, 2, 4))
    except ValueError:
        return ""
    if len(value) != 6:
        return ""
    hue, light, _ = colorsys.rgb_to_hls(red, green, blue)
    if max(red, green, blue) - min(red, green, blue) < _GREY:
        if light < 0.63:
            return ""
        return "white" if light > 0.95 else "light grey"
    name = next(name for limit, name in _HUES if hue * 360 < limit)
    if name == "orange" and light < 0.4:
        name = "brown"
    shade = "dark " if light < 0.3 else "light " if light > 0.75 else ""
    return shade + name

"""What several properties of a style say together: raised, clipped away, coloured, out of order.

CSS 2.2, 10.8.1 and 9.4.3; CSS Masking 1; CSS Flexible Box 1, 5.4.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

import tinycss2.color3

from .docx_colours import colour_name

_LENGTH = re.compile(r"(-?\d*\.?\d+)(em|rem|ex|px|pt|%)?")
_NOWHERE = re.compile(r"rect\((?:[01](?:px)?[\s,]*){4}\)|inset\((?:50|100)%")
_FAR = -900.0
_SMALL = frozenset({"smaller", "x-small", "xx-small", "small"})
_SPACED = {"em": 0.1, "px": 2.0, "pt": 1.0}
Style = Mapping[str, str]


def _length(value: str) -> float:
    """A length in whatever unit; nought where there is none."""
    found = _LENGTH.match(value)
    return float(found[1]) if found else 0.0


def _is_small(style: Style) -> bool:
    """Whether the letters are smaller than those around them."""
    size = style.get("font-size", "")
    found = _LENGTH.fullmatch(size)
    if found is None:
        return size in _SMALL
    return float(found[1]) < {"em": 1, "%": 100}.get(found[2] or "", 0)


def lift_of(style: Style) -> str:
    """``super``, ``sub``, ``baseline`` or nothing, however the style says it.

    Style sheets that make browsers alike put raised letters on the base line and then move them
    up by ``top``, which does not lower them.
    """
    lift = style.get("vertical-align", "")
    moved = style.get("position") == "relative"
    if lift in ("super", "sub"):
        return lift
    if moved and lift in ("", "baseline"):
        up = _length(style.get("bottom", "")) - _length(style.get("top", ""))
        if not _is_small(style) or not up:
            return ""
        return "super" if up > 0 else "sub"
    if lift == "baseline":
        return lift
    if not lift or not _is_small(style):
        return ""
    by = {"top": 1.0, "text-top": 1.0, "bottom": -1.0, "text-bottom": -1.0}.get(lift, _length(lift))
    return "super" if by > 0 else "sub" if by < 0 else ""


def is_clipped(style: Style) -> bool:
    """Whether print shows nothing of it: clipped to nothing, or moved off the page."""
    if _length(style.get("text-indent", "")) < _FAR:
        return True
    if style.get("position") not in ("absolute", "fixed"):
        return False
    shown = f"{style.get('clip', '')} {style.get('clip-path', '')}"
    far = min(_length(style.get("left", "")), _length(style.get("top", "")))
    return _NOWHERE.search(shown) is not None or far < _FAR


def look_of_letters(style: Style) -> str:
    """A look of letters that braille has no sign for, in words; nothing where there is none."""
    words = []
    if name := _colour(style.get("color", "")):
        words.append(f"in {name}")
    ground = style.get("background-color") or style.get("background", "").split(" ")[0]
    if (name := _colour(ground)) and name not in ("white", "light grey"):
        words.append(f"on a ground in {name}")
    spacing = _LENGTH.fullmatch(style.get("letter-spacing", ""))
    if spacing and float(spacing[1]) >= _SPACED.get(spacing[2] or "", 9):
        words.append("spaced out")
    return " and ".join(words)


def _colour(value: str) -> str:
    found = tinycss2.color3.parse_color(value) if value else None
    if found is None or isinstance(found, str) or found.alpha == 0:
        return ""
    digits = (f"{round(255 * part):02X}" for part in (found.red, found.green, found.blue))
    return colour_name("".join(digits))


def is_reordered(style: Style) -> bool:
    """Whether print shows matter in another order than the file."""
    moved = _length(style.get("order", "")) != 0
    return moved or style.get("flex-direction", "").endswith("-reverse")

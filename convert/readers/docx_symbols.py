"""Characters of symbol fonts, and boxes to tick, from ``symbol_fonts.toml``."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources

PRIVATE = 0xF000


@cache
def _tables() -> dict[str, dict[str, str]]:
    text = (resources.files("convert.readers") / "symbol_fonts.toml").read_text("utf-8")
    return tomllib.loads(text)


@cache
def font_table(font: str) -> dict[int, str] | None:
    """Glyph code (0x20 to 0xFF) to character for a font name; ``None`` if no symbol font."""
    name = font.strip().lower()
    tables = _tables()
    if name not in tables["same"]:
        return {} if name.startswith(("wingdings", "webdings", "mt extra")) else None
    table = {ord(ch): ch for ch in tables["same"][name]}
    table.update({int(code, 16): ch for code, ch in tables[name].items()})
    return table


def has_no_sign(bullet: str) -> bool:
    """Whether the plain bullet stands for a list bullet of this shape."""
    return bullet in _tables()["bullets"]["plain"]


@cache
def boxes() -> dict[str, str]:
    """Characters that are boxes to tick: ``check``, ``checked`` or ``either`` (tick or write)."""
    return dict(_tables()["boxes"])


def from_font(code: int, font: str) -> str | None:
    """The character a glyph code of ``font`` shows, or ``None`` where the table has none."""
    table = font_table(font)
    return None if table is None else table.get(code & 0xFF if code >= PRIVATE else code)


def is_private(ch: str) -> bool:
    """Whether a character is a glyph code of a symbol font (U+F000 to U+F0FF)."""
    return PRIVATE <= ord(ch) <= 0xF0FF

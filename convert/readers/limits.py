"""How much of a source the program is ready to read, so that a hostile file cannot hang it."""

from __future__ import annotations

from dataclasses import dataclass

MIB = 1024 * 1024


@dataclass(frozen=True, slots=True)
class Limits:
    """Sizes in bytes unless said otherwise; the defaults leave room for illustrated textbooks."""

    file: int = 500 * MIB
    entries: int = 20_000
    directory: int = 16 * MIB
    entry: int = 200 * MIB
    markup: int = 64 * MIB
    total: int = 1024 * MIB
    total_markup: int = 256 * MIB
    ratio: int = 200
    ratio_from: int = MIB
    name: int = 1024
    depth: int = 1_000
    elements: int = 3_000_000
    text_node: int = 10 * MIB
    dtd: int = 64 * 1024
    repair: int = 4 * MIB
    repair_depth: int = 200
    attributes: int = 1_000
    nesting: int = 50
    columns: int = 1_000
    entries_in_table: int = 100_000
    css: int = 2 * MIB
    css_rules: int = 20_000
    css_selector: int = 1_000


LIMITS = Limits()

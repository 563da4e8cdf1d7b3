"""The public function ``convert.translate`` beside the room it calls on."""

from __future__ import annotations

import convert
import convert.translation.cells as cells
from convert.translation import signs


def test_translate_can_be_called_again_and_again() -> None:
    assert [str(convert.translate("3 cats")) for _ in range(3)] == ["⠼⠉⠀⠉⠁⠞⠎"] * 3


def test_the_room_can_still_be_imported_from() -> None:
    assert signs.cells("grade 1 symbol indicator") == "\u2830"
    assert cells.ascii_of("\u2830") == ";"
    assert str(convert.translate([convert.Run("cats", typeform="italic")])) == "⠨⠂⠉⠁⠞⠎"

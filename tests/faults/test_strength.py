"""Faults made at random in finished pages are seen by the checks whose rules they break."""

from __future__ import annotations

import pytest

from convert.check.model import Book
from tests.bench.strength import FIXTURE, books, strength

SURE = """
    G01 G03 G05 P03 P05 P11 P12 P13 P14 B01 B02 B04 B06 C01 R01 R03 R04 V05 V11 V15 V16 N01 N02
    N04 H05 H06 H10 A01 I01 X01 X02 X03 X04 L01 L02 D03 D04 Q01 Q02 Q08 K01 K02 Y01 F01 F02
"""


@pytest.fixture(scope="module")
def sound() -> list[Book]:
    return books([FIXTURE], sizes=[(40, 25), (28, 20)])


@pytest.mark.parametrize("name", SURE.split())
def test_every_fault_is_seen(name: str, sound: list[Book]) -> None:
    made, missed = strength(name, sound, times=4)
    assert made
    assert not missed

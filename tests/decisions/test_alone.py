"""Whether print stands once in a text: the same answer as a search, however often it repeats."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from convert.decisions.alone import SIZE, Alone


@given(st.text("ab", max_size=60), st.text("ab ", min_size=1, max_size=90), st.data())
def test_it_agrees_with_a_search(ends: str, middle: str, data: st.DataObject) -> None:
    text = ends + middle + ends
    low = data.draw(st.integers(0, len(text) - 1))
    high = data.draw(st.integers(low + 1, low + 4 * SIZE))
    assert Alone(text).at(low, high) == (text.count(text[low:high]) == 1)


def test_a_stretch_that_comes_back_is_not_alone() -> None:
    line = "the quick brown fox jumps over the lazy dog "
    alone = Alone(line * 2 + "one cat sat on the mat, and another beside it")
    assert not alone.at(0, len(line))
    assert alone.at(2 * len(line), 2 * len(line) + 2 * SIZE)

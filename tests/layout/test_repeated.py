"""The cast of a play at the front of each later volume that the play goes on in (BF 1.6, 14.2)."""

from __future__ import annotations

from dataclasses import replace

from convert.layout.convention import load
from tests.layout.books import Made, Maker, make


def play(maker: Maker, speeches: int, names: tuple[str, ...] = ("Ann", "Ben"), level: int = 2,
         ) -> Maker:  # fmt: skip
    """A cast and speeches."""
    maker.heading("Persons", level)
    for name in names:
        maker.para(f"{name} a friend", kind="list", style="cast", first=1, runover=3,
                   group=f"cast {len(maker.items)}")  # fmt: skip
    maker.heading("Act One", level)
    for at in range(speeches):
        maker.para(f"Ann {'word ' * 40}{at}", kind="speech", style="speech", first=1, runover=3)
    return maker


def with_cast(made: Made) -> list[int]:
    """The volumes that have a cast on a p-page."""
    return [
        volume.number
        for volume in made.book.volumes
        if any(
            row is not None and row.style == "cast"
            for page in volume.pages
            if page.series == "p"
            for row in page.rows
        )
    ]


def test_later_volumes_repeat_the_cast() -> None:
    """WS702: at the end of the p-pages, with its heading; the title page counts it."""
    made = make(play(Maker(), 120), volume_pages=12)
    assert len(made.book.volumes) > 2
    assert with_cast(made) == [volume.number for volume in made.book.volumes[1:]]
    assert made.labels(2)[1:5] == ["t2", "p1", "9", "10"]
    assert [line for line in made.lines(2, "p1") if line][:-1] == [
        ",persons", ",ann a friend", ",ben a friend",
    ]  # fmt: skip
    assert any("p#a" in line for line in made.lines(2, "t1"))


def test_no_cast_where_another_play_begins() -> None:
    """A heading above the rank of the cast's own ends the play; the next has its own."""
    maker = Maker()
    maker.heading("First play", 1)
    play(maker, 60)
    maker.heading("Second play", 1, new_volume=True)
    play(maker, 60, ("Cat", "Dan"))
    made = make(maker, volume_pages=40)
    assert len(made.book.volumes) == 2
    assert not with_cast(made)


def test_no_cast_for_volumes_without_speeches() -> None:
    maker = play(Maker(), 4)
    maker.heading("Notes", 2, new_volume=True)
    for _ in range(100):
        maker.para("abcd efg " * 20)
    made = make(maker, volume_pages=20)
    assert len(made.book.volumes) > 1
    assert not with_cast(made)


def test_a_convention_may_repeat_nothing() -> None:
    base = load("bf2016")
    rules = replace(base, rules={**base.rules, "repeated_lists": ()})
    assert not with_cast(make(play(Maker(), 120), convention=rules, volume_pages=12))

"""Volumes: where they end, the line that ends each, page numbers through them (BF 1.6, 1.15)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from convert.conserve import conserve
from convert.findings import Findings
from convert.layout.convention import load
from convert.layout.items import Item
from tests.layout.books import META, Made, Maker, make


def kinds(made: Made, volume: int) -> list[str]:
    """The kinds of the lines of a volume's last page."""
    page = made.book.volumes[volume - 1].pages[-1]
    return [row.kind if row else "" for row in page.rows]


def test_a_short_book_is_one_volume() -> None:
    made = make(Maker().chapters(3, 30))
    assert len(made.book.volumes) == 1
    assert made.labels(1)[:4] == ["t1", "t2", "p1", "1"]
    assert "end-of-volume" in kinds(made, 1)
    assert any(",the ,,end" in line for line in made.lines(1, made.labels(1)[-1]))


def test_volumes_begin_at_headings_and_are_near_in_size() -> None:
    """BF 1.6: a logical place, similar sizes."""
    made = make(Maker().chapters(24, 60), volume_pages=24)
    volumes = made.book.volumes
    assert len(volumes) > 2
    sizes = [len(volume.pages) for volume in volumes]
    assert max(sizes) - min(sizes) <= 8
    for volume in volumes[1:]:
        first = next(page for page in volume.pages if page.series == "body")
        said = [row.kind for row in first.rows if row is not None]
        assert said[:2] == ["h-center", "h-center"]  # the title, then the chapter


def test_series_of_page_numbers() -> None:
    """BF 1.15: t and p begin again in each volume, body pages run on."""
    made = make(Maker().chapters(24, 60), volume_pages=24)
    body: list[int] = []
    for number in range(1, len(made.book.volumes) + 1):
        labels = made.labels(number)
        t = [label for label in labels if label[0] == "t"]
        p = [label for label in labels if label[0] == "p"]
        mine = [label for label in labels if label.isdigit()]
        assert labels == [*t, *p, *mine]
        assert t == [f"t{n}" for n in range(1, len(t) + 1)]
        assert p == [f"p{n}" for n in range(1, len(p) + 1)]
        body += map(int, mine)
    assert body == list(range(1, len(body) + 1))


def test_only_the_last_volume_says_the_end() -> None:
    made = make(Maker().chapters(24, 60), volume_pages=24)
    count = len(made.book.volumes)
    for number in range(1, count + 1):
        last = made.lines(number, made.labels(number)[-1])
        assert any(",the ,,end" in line for line in last) == (number == count)
        assert sum(",,volume" in line for line in last) == (number < count)


def test_a_print_page_that_begins_a_volume_has_a_plain_number() -> None:
    """BF 1.11: the number on line 1 is the sign of the new page."""
    made = make(Maker().chapters(24, 60), volume_pages=24)
    first = next(page for page in made.book.volumes[1].pages if page.series == "body")
    assert first.print_page is not None
    assert first.head.strip("\u2800")[0] == "⠼"


def test_the_line_that_ends_a_volume_is_never_alone_on_a_page() -> None:
    for words in range(20, 60):
        made = make(Maker().chapters(2, words), front_pages=False, lines=9)
        text = [kind for kind in kinds(made, 1) if kind]
        assert text[-1] == "end-of-volume"
        assert len(text) > 1


def test_it_may_stand_on_the_last_line_without_a_blank_line() -> None:
    """BF 1.6: when only the last line is left, with three cells free beside the number."""
    maker = Maker()
    for _ in range(8):
        maker.para("abcd")
    made = make(maker, front_pages=False, lines=9)
    assert made.lines(1, "1")[7:] == ["  abcd", "              ,,the ,,end             #a"]


def test_a_volume_without_headings_ends_at_a_paragraph() -> None:
    maker = Maker()
    for _ in range(60):
        maker.para("abcd efg " * 60)
    made = make(maker, volume_pages=20)
    assert len(made.book.volumes) > 1
    first = next(page for page in made.book.volumes[1].pages if page.series == "body")
    rows = [row for row in first.rows if row is not None and row.item >= 0]
    assert rows[0].part == "first"


def test_one_endless_paragraph_ends_at_a_braille_page() -> None:
    maker = Maker()
    maker.para("abcd efg " * 6000)
    made = make(maker, volume_pages=30)
    assert len(made.book.volumes) > 1
    account = conserve(made.document, made.book, Findings())
    assert (account.lost, account.doubled) == (0, 0)


@pytest.mark.parametrize("pages", [3, 5, 9, 14, 40])
def test_nothing_is_lost_over_volumes(pages: int) -> None:
    made = make(Maker().chapters(12, 50), volume_pages=pages)
    account = conserve(made.document, made.book, Findings())
    assert (account.lost, account.doubled) == (0, 0)


def test_no_volume_begins_inside_a_box() -> None:
    maker = Maker()
    for number in range(12):
        maker.items.append(Item("box-top", "box-top", before=1, keep=(("with_next", 1),)))
        maker.heading(f"Box {number}", 2)
        maker.para("abcd efg " * 90)
        maker.heading("Inside", 2)
        maker.para("abcd efg " * 90)
        maker.items.append(Item("box-bottom", "box-bottom", keep=(("with_previous", 1),)))
        maker.para("abcd efg " * 20)
        maker.para("abcd efg " * 20)
    made = make(maker, volume_pages=20)
    assert len(made.book.volumes) > 1
    for volume in made.book.volumes:
        depth = 0
        for page in volume.pages:
            for row in page.rows:
                kind = row.kind if row else ""
                depth += (kind == "box-top") - (kind == "box-bottom")
        assert depth == 0


def long_front(pages: int) -> Maker:
    """Front matter of about so many braille pages before a body of some chapters."""
    maker = Maker()
    for number in range(1, pages // 4 + 1):
        maker.heading(f"Preface {number}", division="front", new_page=number > 1)
        for at in range(3):
            maker.para("abcd efg " * 130, before=int(at == 0), division="front")
    maker.items[0].before = 0
    return maker.chapters(12, 60, pages=False)


def test_front_matter_too_long_for_one_volume_takes_several() -> None:
    """BF 1.6, 2.1: volumes near one another in size; front matter before the body, which
    begins in the last of them."""
    made = make(long_front(60), volume_pages=24)
    volumes = made.book.volumes
    sizes = [len(volume.pages) for volume in volumes]
    assert max(sizes[:-1]) <= 30
    series = [{page.series for page in volume.pages} for volume in volumes]
    ahead = series.index({"t", "p", "body"})
    assert ahead >= 2
    assert series[:ahead] == [{"t", "p"}] * ahead
    assert not made.findings.all()
    account = conserve(made.document, made.book, Findings())
    assert (account.lost, account.doubled) == (0, 0)


def test_volumes_of_front_matter_are_numbered_with_the_others() -> None:
    """BF 1.6, 2.3, 2.10: the line that ends a volume, its title page, the contents of each."""
    made = make(long_front(60), volume_pages=24)
    count = len(made.book.volumes)
    for number in range(1, count):
        last = made.lines(number, made.labels(number)[-1])
        said = f",,end ,,of ,,volume #{'abcdefgh'[number - 1]}"
        assert any(line.strip().startswith(said) for line in last)
    title = " ".join(made.lines(1, "t1")).split()
    pages = [label for label in made.labels(1) if label[0] == "p"]
    assert f"p#a-p#{pages[-1][1:].translate(str.maketrans('1234567890', 'abcdefghij'))}" in title
    assert made.labels(2)[-1][0] == "p"
    assert "p1" in made.labels(2)
    listed = [row.strip() for label in pages for row in made.lines(1, label)]
    assert [row for row in listed if row.startswith(",volume")] == [
        f",volume #{'abcdefgh'[n]}" for n in range(count)
    ]
    body = next(n for n in range(1, count + 1) if "1" in made.labels(n))
    (entry,) = [row for row in listed if row.startswith(",chapter #a ")]
    assert entry.endswith(" #a")
    assert listed.index(f",volume #{'abcdefgh'[body - 1]}") < listed.index(entry)


def test_contents_too_long_to_share_a_volume_are_one_alone() -> None:
    """BF 1.6, 2.10: the contents are complete in volume 1, and the body begins in the next."""
    maker = Maker()
    for number in range(1, 900):
        maker.heading(f"Part {number}")
        maker.para("abcd")
    made = make(maker, volume_pages=24)
    sizes = [len(volume.pages) for volume in made.book.volumes]
    series = [{page.series for page in volume.pages} for volume in made.book.volumes]
    assert series[:2] == [{"t", "p"}, {"t", "p", "body"}]
    assert max(sizes[1:]) <= 30
    listed = [row for label in made.labels(1) for row in made.lines(1, label)]
    assert sum(",part #" in row for row in listed) == 899
    assert not made.findings.all()


def test_an_empty_document_is_one_volume_of_front_pages() -> None:
    made = make(Maker())
    assert [volume.number for volume in made.book.volumes] == [1]
    assert made.labels(1)[0] == "t1"


@pytest.mark.parametrize(
    ("boundaries", "first"),
    [(("cell-5 heading",), "h-5"), (("centred heading", "paragraph"), "h-center")],
)
def test_where_volumes_may_end_is_a_row_of_the_convention(
    boundaries: tuple[str, ...], first: str
) -> None:
    """BF 1.6: an agency's choice."""
    maker = Maker()
    for number in range(24):
        maker.heading(f"Chapter {number}", level=1 + number % 2)
        maker.para("abcd efg " * 180)
    base = load("bf2016")
    house = replace(base, volume=replace(base.volume, boundaries=boundaries))
    made = make(maker, convention=house, volume_pages=24)
    assert len(made.book.volumes) > 2
    for volume in made.book.volumes[1:]:
        page = next(page for page in volume.pages if page.series == "body")
        assert [row.kind for row in page.rows if row is not None][1] == first


def test_no_volume_begins_at_notes() -> None:
    """BF 16.4: the notes of a print page stand in the volume of its text."""
    maker = Maker()
    for number in range(60):
        maker.para("abcd efg " * 40)
        maker.items.append(Item("note-rule", "note-rule", keep=(("with_next", 1),)))
        for _ in range(6):
            maker.para("ef " * 20)
            maker.items[-1].kind = maker.items[-1].style = "note"
        maker.turn(str(number + 2))
    maker.para("end")
    made = make(maker, volume_pages=12)
    assert len(made.book.volumes) > 2
    for volume in made.book.volumes:
        body = [page for page in volume.pages if page.series == "body"]
        rows = [row for row in body[0].rows if row is not None and row.item >= 0]
        assert rows[0].kind == "para"


def test_every_volume_has_text_below_its_title() -> None:
    """On tiny pages a title fills the first page of a volume and front pages leave room for one
    page of text: a volume of the title alone would never come to an end (BF 1.8)."""
    maker = Maker()
    for _ in range(6):
        maker.para("abcd efg hi")
    meta = replace(META, title="Islands and the boats that call there in the summer")
    made = make(maker, meta, cells=12, lines=6, volume_pages=2)
    assert len(made.book.volumes) > 1
    for volume in made.book.volumes:
        rows = [row for page in volume.pages for row in page.rows if row and page.series == "body"]
        assert any(row.item >= 0 for row in rows)
    account = conserve(made.document, made.book, Findings())
    assert (account.lost, account.doubled) == (0, 0)


def test_no_volume_ends_inside_a_heading() -> None:
    """BF 4.2.5: where no boundary is near, it ends with another page."""
    maker = Maker()
    maker.heading("a heading of very many words " * 5)
    maker.para("abcd efg hi " * 40)
    made = make(maker, META, cells=29, lines=6, volume_pages=2)
    assert len(made.book.volumes) > 1
    for volume in made.book.volumes:
        rows = [row for page in volume.pages for row in page.rows if row and row.item >= 0]
        assert rows[0].part == "first" or rows[0].kind == "para"

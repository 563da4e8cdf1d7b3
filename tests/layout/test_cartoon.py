"""Cartoons and comics: frames in notes, speeches below (Braille Formats 14.10, 14.11)."""

from __future__ import annotations

import pytest

from convert.document.nodes import BOLD, Block, Box, Graphic, Section
from tests.layout.trees import Trees


@pytest.fixture
def t() -> Trees:
    return Trees()


def frame(t: Trees, alt: str, *speeches: Block) -> Section:
    shown = (Graphic(alt=t.runs(alt), resource="f.png", address=t.at()),) if alt else ()
    return Section(children=(*shown, *speeches), role="panel", address=t.at())


def cartoon(t: Trees, *frames: Section) -> Section:
    return Section(children=frames, role="cartoon", address=t.at())


def test_cartoon_of_several_frames(t: Trees) -> None:
    """BF 14.10: a blank line before and after; a note for each frame, then speeches 1-3."""
    assert t.flowed(
        t.p("We walked."),
        cartoon(
            t,
            frame(t, "Tom stands at a door.", t.p("Tom: Who did it?"), t.p("Ann: I did.")),
            frame(t, "", t.p("Tom: Why?")),
            frame(t, "The gate is shut."),
        ),
        t.p("Text goes on."),
    ) == [
        "paragraph 3-1 0 | We walked.",
        "cartoon-frame 7-5 1 | ‹Frame 1: Tom stands at a door.›",
        "cartoon 1-3 0 | Tom: Who did it?",
        "cartoon 1-3 0 | Ann: I did.",
        "cartoon 1-3 0 | ‹Frame 2:› Tom: Why?",
        "cartoon-frame 7-5 0 | ‹Frame 3: The gate is shut.›",
        "paragraph 3-1 1 | Text goes on.",
    ]


def test_cartoon_of_one_frame_under_a_heading_and_in_a_box(t: Trees) -> None:
    """BF 4.5, 7.3: no blank line under a cell-5 heading, nor beside box lines; one frame has no
    number."""
    lines = t.flowed(
        t.h(1, "Mills"),
        t.h(2, "A gate"),
        frame(t, "A gate.", t.p("Ann: No.")),
        Box(children=(frame(t, "A door.", t.p("Tom: Yes.")),), address=t.at()),
    )
    assert lines[2:] == [
        "cartoon-frame 7-5 0 | ‹Picture: A gate.›",
        "cartoon 1-3 0 | Ann: No.",
        "box-top 1-1 1",
        "cartoon-frame 7-5 0 | ‹Picture: A door.›",
        "cartoon 1-3 0 | Tom: Yes.",
        "box-bottom 1-1 0",
    ]


def test_names_in_a_cartoon_stand_upright_with_initial_capitals(t: Trees) -> None:
    """BF 14.1.2, 14.1.3."""
    t.flowed(frame(t, "A gate.", t.p(("TOM:", BOLD), " Who?"), t.p(("WHO WAS IT", BOLD), " here?")))
    assert t.kinds() == ["layout.typeform-dropped", "layout.speaker-capitals"]

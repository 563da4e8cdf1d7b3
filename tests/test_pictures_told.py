"""Pictures without words: what is decorative, and one finding a picture."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.decisions.case import converted


@pytest.mark.parametrize(
    ("picture", "expected"),
    [
        ("<p><img src='a.png'/></p>", "read.picture-without-alt"),
        ("<p>So <img src='a.png'/> on.</p>", "read.picture-without-alt"),
        (
            "<figure><img src='a.png'/><figcaption>Map</figcaption></figure>",
            "read.picture-without-alt",
        ),
        ("<p><img src='a.png' alt=''/></p>", "layout.picture-decorative"),
        ("<p><img src='a.png' role='none'/></p>", "layout.picture-decorative"),
        ("<p>So <img src='a.png' alt=''/> on.</p>", "layout.picture-decorative"),
        ("<p><img src='a.png' class='equation'/></p>", "maths.picture-without-words"),
        ("<p>So <img src='a.png' role='math' alt=''/> on.</p>", "maths.picture-without-words"),
    ],
)
def test_a_picture_without_words_is_told_once(tmp_path: Path, picture: str, expected: str) -> None:
    """BF 6.4.  A missing alternative text says nothing; an empty one says that the picture is
    decorative (HTML Living Standard, requirements for images, a purely decorative image)."""
    edition = converted(tmp_path, f"<p>The harbour at low tide.</p>{picture}<p>The end of it.</p>")
    assert [f.kind for f in edition.findings if "picture" in f.kind] == [expected]

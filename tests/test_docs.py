"""The generated pages of docs/ say what the data say; links in the documents lead somewhere."""

from __future__ import annotations

import re

import pytest

from .conftest import ROOT
from .make_docs import DOCS, PAGES


@pytest.mark.parametrize("name", PAGES)
def test_generated_pages_are_current(name: str) -> None:
    assert (DOCS / name).read_text("utf-8") == PAGES[name](), "run python tests/make_docs.py"


@pytest.mark.parametrize("page", sorted(ROOT.glob("*.md")) + sorted(DOCS.glob("*.md")), ids=str)
def test_links_lead_somewhere(page: object) -> None:
    text = page.read_text("utf-8")  # type: ignore[attr-defined]
    for target in re.findall(r"\]\(([^)#]+)", text):
        if "://" not in target:
            assert (page.parent / target).exists(), target  # type: ignore[attr-defined]

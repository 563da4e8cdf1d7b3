"""Shared by all tests: the places of fixtures and of the corpus, reproducible random tests."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("suite", deadline=None, derandomize=True)
settings.load_profile("suite")

ROOT = Path(__file__).parents[1]
CORPORA = ROOT.parent / "shared" / "corpora"


@pytest.fixture(scope="session")
def fixtures() -> Path:
    return ROOT / "fixtures"

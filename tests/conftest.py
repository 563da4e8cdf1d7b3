"""Shared by all tests: the places of fixtures and of the corpus, reproducible random tests."""

from __future__ import annotations

import signal
from collections.abc import Iterator
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


@pytest.fixture
def usual_signals() -> Iterator[None]:
    """Processes that a test starts end at Ctrl-C and at the end of a terminal, also where the
    suite itself runs in the background and ignores them."""
    usual = {signal.SIGINT: signal.default_int_handler, signal.SIGHUP: signal.SIG_DFL}
    before = {number: signal.signal(number, handler) for number, handler in usual.items()}
    yield
    for number, handler in before.items():
        signal.signal(number, handler)

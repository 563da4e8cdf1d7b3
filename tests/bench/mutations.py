"""Print how many of the checks of finished pages have a test that fails without them:
``python -m tests.bench.mutations [ID...]``.

Each check in turn is made to pass whatever the pages are, then to find nothing of its kind, and
the tests that name it are run.  A test of right pages still passes the first time, one of pages
without the matter the second; only a test of pages broken in just that way fails both times.
"""

from __future__ import annotations

import contextlib
import inspect
import io
import sys
from pathlib import Path

import pytest

from convert.check import checks
from convert.check.model import RULES, Book, Tally

TESTS = Path(__file__).parents[1] / "check"


def passes(_: Book, tally: Tally) -> None:
    """A check that finds nothing wrong."""
    tally.seen += 1


def looks_at_nothing(_: Book, tally: Tally) -> None:
    """A check that finds nothing of its kind."""


class Without:
    """Runs the tests that name one check, and keeps those that fail."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.failed: set[str] = set()

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = [item for item in items if self._names(item)]

    def _names(self, item: pytest.Item) -> bool:
        callspec = getattr(item, "callspec", None)
        if callspec is not None and any(
            self.name in str(value) for value in callspec.params.values()
        ):
            return True
        return f'"{self.name}"' in inspect.getsource(item.function)  # type: ignore[attr-defined]

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.when == "call" and report.failed:
            self.failed.add(report.nodeid)


def judge(name: str) -> set[str]:
    """The tests of one check that fail without it, whatever stands in its place."""
    whole, found = RULES[name], []
    try:
        for instead in (passes, looks_at_nothing):
            RULES[name] = instead
            found.append(Without(name))
            with contextlib.redirect_stdout(io.StringIO()):
                pytest.main(["-q", "-p", "no:cacheprovider", "--tb=no", str(TESTS)], [found[-1]])
    finally:
        RULES[name] = whole
    return found[0].failed & found[1].failed


def main() -> None:
    names = sys.argv[1:] or list(checks())
    lacking = []
    for name in names:
        if not judge(name):
            lacking.append(name)
            print(f"{name}: no test fails without it", flush=True)
    told = f": {', '.join(lacking)}" if lacking else ""
    print(
        f"{len(names)} checks; {len(names) - len(lacking)} have a test that fails without the "
        f"check, {len(lacking)} have none{told}."
    )


if __name__ == "__main__":
    main()

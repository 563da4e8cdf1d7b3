"""What the browser tests share: the browser, and an edition whose proof marks changes."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from convert.output import write_edition

from .make import river_report

ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    path = shutil.which("chromium")
    if path is None:
        pytest.fail("Chromium is missing: install the Debian package chromium.")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("out")
    earlier = river_report(12, volume_pages=2)
    earlier.recipe = {"options": {"code": "ueb-uncontracted"}}
    write_edition(earlier, out, ("report", "proof", "trace"))
    made = river_report(15, volume_pages=2)
    made.settings = replace(made.settings, mark_changes=True)
    return write_edition(made, out, ("report", "proof", "trace"))

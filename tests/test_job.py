"""The job file: every wrong key or value is named, with the nearest right one."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.errors import JobError
from convert.job import page_size, read_job, settings_options


def job(tmp_path: Path, text: str) -> dict[str, object]:
    path = tmp_path / "job.toml"
    path.write_text(text, "utf-8")
    return read_job(path).options


def test_options_become_settings(tmp_path: Path) -> None:
    options = job(tmp_path, 'page = "32x27"\nvolume-pages = 60\nwrite = ["brf", "report"]\n')
    assert settings_options(options) == {
        "cells": 32, "lines": 27, "volume_pages": 60, "write": ("brf", "report"),
    }  # fmt: skip


@pytest.mark.parametrize(
    "text, says",
    [
        ('pgae = "40x25"', "page"),
        ('volume-pages = "many"', "whole number"),
        ("volume-pages = true", "whole number"),
        ("page = ", "TOML"),
        ('[[decision]]\nat = "x"', "line 1: this decision does not say what to do"),
    ],
)
def test_a_wrong_job_file_is_one_sentence(tmp_path: Path, text: str, says: str) -> None:
    with pytest.raises(JobError, match=says):
        job(tmp_path, text)


def test_a_missing_job_file(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="cannot be read"):
        read_job(tmp_path / "none.toml")


@pytest.mark.parametrize("text", ["40", "40x", "x25", "4x25", "40x300", "forty"])
def test_a_wrong_page_size(text: str) -> None:
    with pytest.raises(JobError):
        page_size(text)


def test_a_huge_page_is_told_what_can_be_set() -> None:
    with pytest.raises(JobError, match="Use 15 to 120 cells and 5 to 60 lines"):
        page_size("100000x100000")


@pytest.mark.parametrize("key", ["math", "quotes", "revisions"])
def test_a_wrong_choice_lists_the_choices(key: str) -> None:
    with pytest.raises(JobError, match="choices are"):
        settings_options({key: "other"})


def test_the_depth_of_the_contents_is_from_one_to_six() -> None:
    assert settings_options({"contents-levels": 2}) == {"contents_levels": 2}
    for wrong in (0, 7):
        with pytest.raises(JobError, match="Use 1 to 6"):
            settings_options({"contents-levels": wrong})


@pytest.mark.parametrize("key", ["write", "clean", "about", "title-lines", "foreign-tables"])
def test_a_list_of_words_holds_nothing_else(tmp_path: Path, key: str) -> None:
    path = tmp_path / "a.job.toml"
    path.write_text(f'{key} = ["brf", 3]\n')
    with pytest.raises(JobError, match=f"line 1, “{key}” cannot hold “3”"):
        read_job(path)


def test_a_job_file_may_begin_with_a_mark_of_byte_order(tmp_path: Path) -> None:
    path = tmp_path / "a.job.toml"
    path.write_bytes(b'\xef\xbb\xbfpage = "32x20"\n')
    assert read_job(path).options == {"page": "32x20"}

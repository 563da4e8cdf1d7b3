"""The stages, in order, once each.

    source -> read -> tidy -> flow -> translate -> settle -> conserve -> inspect
"""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path

from . import plugins
from .contracts import Translator
from .document.nodes import Document
from .document.tidy import tidy
from .edition import Edition
from .errors import JobError
from .findings import Findings, number
from .settings import Settings


def settings_from(**options: object) -> Settings:
    """Settings with some options changed.  Raises JobError for an option that is not one."""
    known = {f.name for f in fields(Settings)}
    for name in options:
        if name not in known:
            raise JobError(f"There is no option “{name}”.", f"Options are: {', '.join(sorted(known))}.")
    return replace(Settings(), **options)  # type: ignore[arg-type]

"""``exceptions.toml``, read once: what a rule cannot decide, each row with its section."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources
from typing import Any


@cache
def data() -> dict[str, Any]:
    """The tables of exceptions by name."""
    file = resources.files(__package__) / "exceptions.toml"
    return tomllib.loads(file.read_text("utf-8"))

"""Cellset: structured documents to braille-ready files.

    import convert
    edition = convert.convert("book.epub", code="ueb")
    edition.write("out/")
    str(convert.translate("3 cats"))

Everything here is loaded when first used, so that importing the package costs nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .errors import ConventionError, ConvertError, JobError, PluginError, SourceError

if TYPE_CHECKING:
    from .api import Run, convert, read, translate
    from .edition import Edition

__version__ = "0.1.0"
_LAZY = {
    "Edition": ".edition",
    "Run": ".api",
    "convert": ".api",
    "read": ".api",
    "translate": ".api",
}

__all__ = [
    "ConventionError",
    "ConvertError",
    "Edition",
    "JobError",
    "PluginError",
    "Run",
    "SourceError",
    "convert",
    "read",
    "translate",
]


def __getattr__(name: str) -> Any:
    if name not in _LAZY:
        raise AttributeError(f"module “convert” has no attribute “{name}”")
    from importlib import import_module

    return getattr(import_module(_LAZY[name], __name__), name)

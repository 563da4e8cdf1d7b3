"""Print to cells: the planner of braille modes, the seam with the contraction library.

``convert.translate`` is both this room and the public function of that name: importing the
room puts it where the function would be, so the room itself can be called.
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import Any


class _Room(ModuleType):
    """A package that is the function :func:`convert.api.translate` when called."""

    def __call__(self, *args: Any, **options: Any) -> Any:
        return import_module("convert.api").translate(*args, **options)


sys.modules[__name__].__class__ = _Room

"""Formulas as a person wants them: the choices of the maths room laid on the inlines of a block."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from .choices import MATHS, Choice
from .inlines import COMPUTER, Inline, InlineGraphic, Inlines, MathRun, Run

CELLS, TEXT = "cells", "math-text"
_PRINT = Run | MathRun | InlineGraphic
_TEX = re.compile(
    r"\\\((?:(?!\\[()])[^\n]){1,2000}\\\)|\\\[(?:(?!\\[\[\]])[^\n]){1,2000}\\\]"
    r"|\$\$[^$\n]{1,2000}\$\$"
)


class Formulas:
    """The choices of a document about formulas, laid on one block after another.

    A ``math-text`` over plain print or a picture makes a formula of it; over a formula it takes
    the place of its source.  ``math-code`` and ``cells`` are obeyed where they reach a formula.
    TeX between
    its signs for mathematics in the ledger's ``text`` is a formula without being chosen, but not
    in computer notation.
    """

    def __init__(self, choices: Iterable[Choice], text: str = "") -> None:
        rows = sorted(c for c in choices if c.kind in (CELLS, *MATHS) and c.start < c.end)
        if "\\(" in text or "\\[" in text or "$$" in text:
            rows += [Choice(m.start(), m.end(), TEXT, m[0]) for m in _TEX.finditer(text)]
        self._texts = [row for row in rows if row.kind == TEXT]
        self._others = [row for row in rows if row.kind != TEXT]

    def on(self, runs: Inlines) -> Inlines:
        """The inlines with every choice that reaches them."""
        if not self._texts and not self._others:
            return runs
        for row in self._texts:
            runs = _read_as(runs, row)
        if not self._others:
            return runs
        return tuple(self._told(run) if isinstance(run, MathRun) else run for run in runs)

    def _told(self, run: MathRun) -> MathRun:
        for row in self._others:
            if row.start < run.end and run.start < row.end:
                cells = row.value if row.kind == CELLS else run.cells
                code = run.code if row.kind == CELLS else row.value
                run = replace(run, code=code, cells=cells)
        return run


def _read_as(runs: Inlines, row: Choice) -> Inlines:
    """The inlines with one formula in place of the print of a choice."""
    touched = [at for at, run in enumerate(runs) if _reaches(run, row)]
    if not touched:
        return runs
    first, last = runs[touched[0]], runs[touched[-1]]
    between = runs[touched[0] : touched[-1] + 1]
    if isinstance(first, MathRun) and len(touched) == 1:
        made = replace(first, mathml=row.value)
        return tuple(made if run is first else run for run in runs)
    assert isinstance(first, _PRINT)
    assert isinstance(last, _PRINT)
    start, end = max(row.start, first.start), min(row.end, last.end)
    out: list[Inline] = [*runs[: touched[0]]]
    if isinstance(first, Run) and first.start < start:
        out.append(replace(first, end=start))
    out.append(MathRun(start, end, row.value))
    out.extend(run for run in between if not isinstance(run, _PRINT))
    if isinstance(last, Run) and end < last.end:
        out.append(replace(last, start=end))
    return (*out, *runs[touched[-1] + 1 :])


def _reaches(run: Inline, row: Choice) -> bool:
    if isinstance(run, Run) and run.voice in COMPUTER:
        return False
    return isinstance(run, _PRINT) and run.start < row.end and row.start < run.end

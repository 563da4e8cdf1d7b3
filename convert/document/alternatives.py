"""Descriptions of pictures that say what the caption says (BF 6.2: none is added then)."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from ..findings import Findings
from .change import map_children
from .nodes import Document, Graphic, Omission, Paragraph, Run, text_of

_WORDS = re.compile(r"\w+")


def drop_repeated(document: Document, findings: Findings) -> Document:
    """Leave out alternative text with the very words of the picture's caption."""
    text = document.ledger.text
    left: list[Omission] = []

    def change(kids: tuple[Any, ...]) -> tuple[Any, ...]:
        if not any(isinstance(kid, Graphic) and _repeats(kid, document) for kid in kids):
            return kids
        out: list[Any] = []
        for kid in kids:
            if isinstance(kid, Graphic) and _repeats(kid, document):
                runs = [run for run in kid.alt if isinstance(run, Run) and run.end > run.start]
                left.extend(Omission(run.start, run.end, KIND) for run in runs)
                words = " ".join(text[run.start : run.end] for run in runs)
                findings.add(KIND, (runs[0].start, runs[-1].end), words=words)
                kid = replace(kid, alt=())
            out.append(kid)
        return tuple(out)

    changed: Document = map_children(document, change)
    return replace(changed, omissions=(*changed.omissions, *left)) if left else document


KIND = "read.alt-repeats-caption"


def _repeats(node: Graphic, document: Document) -> bool:
    captions = [kid for kid in node.children if isinstance(kid, Paragraph)]
    if not captions or not node.alt or any(not isinstance(run, Run) for run in node.alt):
        return False
    alt = _words(text_of(node.alt, document.ledger))
    return bool(alt) and alt == _words(text_of(captions[0].runs, document.ledger))


def _words(text: str) -> list[str]:
    return _WORDS.findall(text.casefold())

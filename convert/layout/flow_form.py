"""Fields of a form: one a line (BF 6.7), a question on one line with the boxes for its answers."""

from __future__ import annotations

from itertools import pairwise

from ..document.ledger import Ledger
from ..document.nodes import AnswerSpace, Inline, Inlines, Paragraph, text_of
from .flow_runs import shows, visible

_ROLES = frozenset(("form", "field"))
_ENDS = (".", ":", "?")  # Of a question or a label.
LONGEST_LABEL = 12  # Words before an answer space that still are a field's label and prompt.
LONGEST_CHOICE = 6  # Words after a box that still are one choice among others.
FEWEST_CHOICES = 2


def fields(node: Paragraph, ledger: Ledger) -> tuple[Inlines, ...]:
    """The fields of a paragraph, one a line (BF 6.7); none where it is no part of a form.

    It is one where its role says so, where it begins with a check box or asks a question with
    boxes for the answers, or where each answer space follows a label that ends with a colon (a
    prompt may stand between at the end).  Check boxes stay on the line of their words.
    """
    lines: list[Inlines] = []
    line: list[Inline] = []
    labels = True
    for run in node.runs:
        line.append(run)
        if isinstance(run, AnswerSpace) and not _is_box(run):
            label = text_of(tuple(line[:-1]), ledger).rstrip()
            prompt = run is node.runs[-1] and ": " in label and len(label.split()) <= LONGEST_LABEL
            labels = labels and (label.endswith(":") or prompt)
            lines.append(tuple(line))
            line = []
    if not (lines and labels) and not _is_form(node, ledger):
        return ()
    rest = tuple(line)
    if not lines:
        return (rest,)
    if visible(rest, ledger):
        words = text_of(rest, ledger).strip()
        return (*lines, rest) if len(words) > 1 else (*lines[:-1], (*lines[-1], *rest))
    return (*lines[:-1], (*lines[-1], *rest))


def _is_form(node: Paragraph, ledger: Ledger) -> bool:
    return node.role in _ROLES or begins_with_box(node.runs, ledger) or _asks(node.runs, ledger)


def begins_with_box(runs: Inlines, ledger: Ledger) -> bool:
    """Whether a box to tick is the first that print shows."""
    first = next((run for run in runs if shows(run, ledger)), None)
    return first is not None and _is_box(first)


def _asks(runs: Inlines, ledger: Ledger) -> bool:
    """Whether boxes with a few words each follow the end of a question or label."""
    boxes = [at for at, run in enumerate(runs) if _is_box(run)]
    if len(boxes) < FEWEST_CHOICES:
        return False
    choices = [runs[at + 1 : to] for at, to in pairwise([*boxes, len(runs)])]
    return text_of(runs[: boxes[0]], ledger).rstrip().endswith(_ENDS) and all(
        len(text_of(words, ledger).split()) <= LONGEST_CHOICE for words in choices
    )


def _is_box(run: Inline) -> bool:
    return isinstance(run, AnswerSpace) and run.kind in ("check", "checked")

"""Fields of a form: one a line (BF 6.7), a question on one line with the boxes for its answers."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

from ..document.ledger import Ledger
from ..document.nodes import AnswerSpace, Inline, Inlines, LineBreak, Paragraph, Run, text_of
from .flow_runs import shows, visible

_GAP = re.compile(r"\t|\s{3,}")
_ROLES = frozenset(("form", "field"))
_ENDS = (".", ":", "?")  # Of a question or a label.
LONGEST_LABEL = 12  # Words before an answer space that still are a field's label and prompt.
LONGEST_NAME = 8  # Words of a label without a colon; LONGEST_UNIT: of what may follow its room.
LONGEST_UNIT = 4
LONGEST_CHOICE = 6  # Words after a box that still are one choice among others.
FEWEST_CHOICES = 2


def fields(node: Paragraph, ledger: Ledger) -> tuple[Inlines, ...]:
    """The fields of a paragraph, one a line (BF 6.7); none where it is no part of a form.

    It is one where its role says so, where it begins with a check box or asks a question with
    boxes for the answers, or where each answer space follows a label: words that end with a colon
    (a prompt may stand between at the end), or few words that begin with a capital and are no
    sentence.  Check boxes stay on the line of their words, the parts of a date or sum on one line.
    """
    lines: list[Inlines] = []
    line: list[Inline] = []
    labels = colons = True
    for run in node.runs:
        if isinstance(run, LineBreak) and (lines or any(map(_is_box, line))):
            _end_line(lines, line)
            line = []
            continue
        line.append(run)
        if not isinstance(run, AnswerSpace) or _is_box(run):
            continue
        if lines:
            before, line = _parted(line, ledger)
            lines[-1] = (*lines[-1], *before)
        label = text_of(tuple(line[:-1]), ledger).strip()
        if lines and not any(sign.isalpha() for sign in label):
            lines[-1] = (*lines[-1], *line)
        else:
            prompt = run is node.runs[-1] and ": " in label and len(label.split()) <= LONGEST_LABEL
            colon = label.endswith(":") or prompt
            alone = len(node.runs) == 1
            labels, colons = labels and (colon or alone or _is_name(label)), colons and colon
            lines.append(tuple(line))
        line = []
    rest = tuple(line)
    words = text_of(rest, ledger).strip()
    if lines and labels and not colons and not _is_unit(words):
        labels = False
    if not (lines and labels) and not _is_form(node, ledger):
        return ()
    if not lines:
        return (rest,)
    if visible(rest, ledger) and len(words) > 1 and (colons or not labels):
        return (*lines, rest)
    return (*lines[:-1], (*lines[-1], *rest))


def _end_line(lines: list[Inlines], line: list[Inline]) -> None:
    """Print ends a line: boxes are a line of their own, words belong to the room before them."""
    if not lines or any(map(_is_box, line)):
        lines.append(tuple(line))
    else:
        lines[-1] = (*lines[-1], *line)


def _parted(line: list[Inline], ledger: Ledger) -> tuple[list[Inline], list[Inline]]:
    """What stands before a gap in a line, which is of the field before, and the rest."""
    for at in range(len(line) - 1, -1, -1):
        run = line[at]
        if isinstance(run, Run) and (gaps := list(_GAP.finditer(ledger.text, run.start, run.end))):
            cut = gaps[-1].start()
            before = [*line[:at], *([replace(run, end=cut)] if cut > run.start else [])]
            return before, [replace(run, start=cut), *line[at + 1 :]]
    return [], line


def _is_name(label: str) -> bool:
    """Whether words without a colon name what to write: few, with a capital, no sentence."""
    words = label.split()
    first = next((sign for sign in label if sign.isalpha()), "a")
    if label.startswith("(") and label.endswith(")"):
        first = "A"
    ends = any(word[-1] in ".!?;" for word in words[1:-1]) or label.endswith((".", "!", ";", ","))
    return 0 < len(words) <= LONGEST_NAME and first.isupper() and not ends


def _is_unit(words: str) -> bool:
    """Whether the words after room may belong to it: “years”, “(2 marks)”, “Chair”."""
    return len(words.split()) <= LONGEST_UNIT and not words.endswith((".", "!", "?", ",", ";"))


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

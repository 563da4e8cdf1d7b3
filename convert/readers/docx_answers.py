"""Form fields and content controls become answer spaces; what was typed into them stays text."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

from lxml import etree

from ..document.ledger import GENERATED
from ..document.nodes import AnswerSpace, Run
from .docx_controls import Control, is_prompt, is_stock
from .docx_field_words import field_words
from .docx_fields import FORM_KINDS, Field, FormData
from .docx_names import W
from .docx_parts import plain_text
from .docx_walk import Walk

_EMPTY, _TICKED = "☐", "☒"
_NAMELESS = "without a name"
_LONGEST_NAME = 60


@contextmanager
def answering(walk: Walk, control: Control, sdt: etree._Element, inline: bool) -> Iterator[None]:
    """Read the content of a control: as text, as the face of an answer space, or as a prompt."""
    line = walk.line
    if line.mute:
        yield
    elif is_prompt(control, sdt):
        with _prompting(walk, control, sdt, inline):
            yield
    elif control.kind == "picture" and control.prompt:
        here = walk.ledger.length
        walk.findings.add("docx.prompt", (here, here))
        with _shut(walk):
            yield
    elif control.kind in ("check", "choice"):
        kind = control.kind
        if kind == "check" and control.ticked:
            kind = "checked"
        before_answer, line.answer = line.answer, (kind, control.name, control.choices)
        yield
        line.flush()
        line.answer = before_answer
    elif control.kind in ("text", "date") and not plain_text(sdt) and not len(list(_pictures(sdt))):
        _room(walk, "line", control, inline)
        yield
    elif control.waits and next(sdt.iterdescendants(f"{W}sdt"), None) is None:
        with _filled(walk):
            yield
    else:
        yield


@contextmanager
def _shut(walk: Walk) -> Iterator[None]:
    """Leave a prompt out, its picture too."""
    before, walk.shut = walk.shut, "docx.prompt"
    walk.mute()
    yield
    walk.shut = before
    walk.mute()


@contextmanager
def _filled(walk: Walk) -> Iterator[None]:
    """Read what a person typed into a control: text, whose place is told."""
    walk.line.flush()
    start = walk.ledger.length
    yield
    walk.line.flush()
    if walk.ledger.length > start:
        walk.findings.add("docx.filled-control", (start, walk.ledger.length))


@contextmanager
def _prompting(walk: Walk, control: Control, sdt: etree._Element, inline: bool) -> Iterator[None]:
    """Read a prompt: the form's own words stay, with room for the answer after them.

    The word processor's stock prompts are not what print leaves room for: they go into the
    finding ``docx.prompt``, with their places.  Either names the answer space of a control
    without a name.
    """
    kind = "choice" if control.kind == "choice" else "line"
    start = walk.ledger.length
    prompt = plain_text(sdt)
    named = replace(control, name=control.name or prompt.strip("[]<>. ")[:_LONGEST_NAME])
    if is_stock(prompt) or not prompt:
        _room(walk, kind, named, inline)
        with _shut(walk):
            yield
        walk.findings.add("docx.prompt", (start, walk.ledger.length))
        return
    last = None if inline else next(reversed(list(sdt.iter(f"{W}p"))), None)
    if last is not None:
        walk.after = (last, (kind, named.name, named.choices))
    yield
    if last is None:
        _room(walk, kind, named, inline=True)
    walk.findings.add("docx.own-prompt", (start, walk.ledger.length))


def _pictures(sdt: etree._Element) -> Iterator[etree._Element]:
    return sdt.iter("{*}drawing", "{*}pict", "{*}object", "{*}tbl", "{*}fldChar", "{*}sym")


def _room(walk: Walk, kind: str, control: Control, inline: bool) -> None:
    at = walk.ledger.length
    if inline:
        walk.line.put(AnswerSpace(at, at, kind, control.name, control.choices))
    else:
        walk.waiting = (kind, control.name, control.choices)


def close_field(walk: Walk, path: str) -> None:
    """A complex field ends: a form field becomes an answer space, the rest keep their result."""
    field = walk.fields.end()
    walk.mute()
    if field is None or walk.line.mute:
        return
    name = field.name
    form = field.form
    if form is not None and name not in FORM_KINDS:
        name = form.kind
    if name == "FORMTEXT":
        _text_field(walk, field, form or FormData(kind=name))
    elif name == "FORMCHECKBOX":
        form = form or FormData(kind=name)
        start, end = _face(walk, _TICKED if form.ticked else _EMPTY, path)
        kind = "checked" if form.ticked else "check"
        walk.line.put(AnswerSpace(start, end, kind, form.name))
    elif name == "FORMDROPDOWN":
        form = form or FormData(kind=name)
        start, end = _face(walk, form.shown, path)
        walk.line.put(AnswerSpace(start, end, "choice", form.name, form.choices))
    elif name == "EQ":
        words = " ".join("".join(field.instruction).split())
        here = walk.ledger.length
        walk.findings.add("docx.equation-field", (here, here), words=words[:200])
    else:
        field_words(walk, field, path)


def _face(walk: Walk, text: str, path: str) -> tuple[int, int]:
    walk.line.flush()
    return walk.ledger.add(text, walk.line.part, path, 0, GENERATED)


def _text_field(walk: Walk, field: Field, form: FormData) -> None:
    """Spaces are room for an answer; words are an answer already there, kept as print."""
    line = walk.line
    line.flush()
    same = field.in_result and field.owner is line.runs
    inside = line.runs[field.at :] if same else []
    words = "".join(line.said[field.heard :]) if same else ""
    if words.strip():
        spans = [(run.start, run.end) for run in inside if isinstance(run, Run)]
        span = (spans[0][0], spans[-1][1]) if spans else None
        name = form.name or _NAMELESS
        walk.findings.add("docx.filled-field", span, name=name, words=words.strip()[:200])
        return
    start = end = walk.ledger.length
    if inside and all(isinstance(run, Run | AnswerSpace) for run in inside):
        start = inside[0].start if isinstance(inside[0], Run | AnswerSpace) else start
        last = inside[-1]
        end = last.end if isinstance(last, Run | AnswerSpace) else end
        del line.runs[field.at :]
    if same or not field.in_result:
        line.put(AnswerSpace(start, end, "line", form.name))

"""``[[decision]]`` tables of a job file as decisions; every mistake is named with its line.

[[decision]]
at     = "EPUB/c1.xhtml!/4/2/10:37"   # the address a finding prints
expect = "NATO"                       # the print found there
near   = ["the treaty of ", " was"]   # some print before and after it
do     = "read"
as     = "word"
why    = "spoken as a word"
by     = "AB"
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable

from ..errors import JobError
from .record import WHAT, Argument, Decision
from .verbs import Verb, check_argument, verbs

_PLAIN: dict[str, type] = {
    "at": str,
    "expect": str,
    "do": str,
    "why": str,
    "by": str,
    "everywhere": bool,
    "follow": bool,
    "locked": bool,
    "near": list,
    "what": str,
    "answers": str,
}
_WORDS: dict[type, str] = {
    str: "words in quotation marks",
    bool: "true or false",
    list: "a list of two pieces of print",
}
_HEADER = re.compile(r"\s*\[\[\s*decision\s*\]\]")
_OTHER_HEADER = re.compile(r"\s*\[")


def decision_lines(text: str) -> list[int]:
    """The lines, from 1, on which the ``[[decision]]`` tables of a file begin."""
    return [at for at, line in enumerate(text.split("\n"), 1) if _HEADER.match(line)]


def key_line(text: str, start: int, key: str) -> int:
    """The line of a key in the table that begins on line ``start`` (0: before any table)."""
    wanted = re.compile(rf"\s*[\"']?{re.escape(key)}[\"']?\s*[=.]")
    lines = text.split("\n")
    for at in range(start, len(lines)):
        if wanted.match(lines[at]):
            return at + 1
        if _OTHER_HEADER.match(lines[at]):
            break
    return start


class Reading:
    """Reads the decisions of one file; knows its name, its place among the layers, its text."""

    def __init__(
        self, name: str, text: str, rank: int = 0, locked: bool = False, by: str = ""
    ) -> None:
        self._name, self._text, self._rank = name, text, rank
        self._locked, self._by = locked, by
        self._lines = decision_lines(text)

    def read(self, rows: object) -> tuple[Decision, ...]:
        """The decisions of the value of the key ``decision``.  Raises JobError."""
        if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
            raise JobError(
                f"In the job file {self._name}, “decision” must be a table of its own.",
                "Write [[decision]] on a line before the keys of each decision.",
            )
        return tuple(self._one(at, row) for at, row in enumerate(rows))

    def _one(self, at: int, row: dict[str, object]) -> Decision:
        line = self._lines[at] if at < len(self._lines) else 0
        verb = self._verb(row, line)
        plain = self._plain(row, verb, line)
        decision = Decision(
            verb.name,
            arguments=self._arguments(row, verb, line),
            layer=self._name,
            line=line,
            rank=self._rank,
            **plain,  # type: ignore[arg-type]
        )
        self._check_place(decision, verb, line)
        return decision

    def _fail(self, line: int, what: str, step: str, key: str = "") -> JobError:
        where = key_line(self._text, line, key) if key and line else line
        at = f", line {where}" if where else ""
        return JobError(f"In the job file {self._name}{at}: {what}", step)

    def _verb(self, row: dict[str, object], line: int) -> Verb:
        name = row.get("do")
        if name is None:
            raise self._fail(
                line, "this decision does not say what to do.", f"Add do = with {_one_of(verbs())}."
            )
        verb = verbs().get(name) if isinstance(name, str) else None
        if verb is None:
            hint = _nearest(str(name), verbs())
            raise self._fail(line, f"there is no verb “{name}”.", hint, "do")
        return verb

    def _plain(self, row: dict[str, object], verb: Verb, line: int) -> dict[str, object]:
        known = [*_PLAIN, *dict(verb.arguments)]
        out: dict[str, object] = {"locked": self._locked, "by": self._by}
        for key, value in row.items():
            if key not in known:
                hint = _nearest(key, known)
                raise self._fail(line, f"“{verb.name}” has no key “{key}”.", hint, key)
            if key not in _PLAIN or key == "do":
                continue
            if not isinstance(value, _PLAIN[key]):
                what = f"“{key}” must be {_WORDS[_PLAIN[key]]}."
                raise self._fail(line, what, "", key)
            out[key] = value
        near = out.get("near")
        if near is not None:
            if not isinstance(near, list) or [type(part) for part in near] != [str, str]:
                raise self._fail(line, f"“near” must be {_WORDS[list]}.", "", "near")
            out["near"] = tuple(near)
        if "what" in out and out["what"] not in WHAT:
            hint = _nearest(str(out["what"]), WHAT)
            raise self._fail(line, f"there is no block “{out['what']}”.", hint, "what")
        out["locked"] = bool(out["locked"] or self._locked)
        return out

    def _arguments(
        self, row: dict[str, object], verb: Verb, line: int
    ) -> tuple[tuple[str, Argument], ...]:
        out: list[tuple[str, Argument]] = []
        for name, _ in verb.arguments:
            if name not in row:
                if name not in verb.optional:
                    step = f"Add {name} = with {verb.what(name)}."
                    raise self._fail(line, f"“{verb.name}” needs the key “{name}”.", step)
                continue
            try:
                out.append((name, check_argument(verb, name, row[name])))
            except ValueError as error:
                what = f"“{name}” must be {error}."
                raise self._fail(line, what, "", name) from error
        return tuple(out)

    def _check_place(self, decision: Decision, verb: Verb, line: int) -> None:
        if verb.reason and not decision.why.strip():
            step = "Add why = with the reason in a few words."
            raise self._fail(line, f"“{verb.name}” needs a reason.", step)
        if decision.everywhere and not verb.everywhere:
            step = "Take everywhere out and give one decision for each place."
            raise self._fail(line, f"“{verb.name}” is not for all places.", step, "everywhere")
        if verb.name == "read" and decision.word("as") == "cells" and not decision.word("cells"):
            raise self._fail(line, "“read” as cells needs the key “cells”.", "Add them.")
        if verb.name == "typeform" and decision.word("how") != "keep" and not decision.get("form"):
            raise self._fail(line, "“typeform” needs the key “form”.", "Add the typeforms meant.")
        whole = (verb.name == "accept" or verb.whole) and decision.everywhere
        whole = whole or (verb.name == "accept" and bool(decision.word("id")))
        note = verb.name == "insert-note" and decision.everywhere
        if note and (decision.expect or decision.word("where") != "notes-page"):
            step = 'Give its place, or where = "notes-page" without print.'
            raise self._fail(line, "a note cannot be put in all places.", step, "everywhere")
        if decision.everywhere and not whole and not decision.expect:
            step = "Add expect = with the word or words meant."
            raise self._fail(line, f"“{verb.name}” everywhere needs its print.", step)
        if not (whole or decision.at or decision.expect):
            step = "Add at = with the address a finding gives, and expect = with the print there."
            raise self._fail(line, f"“{verb.name}” needs a place.", step)


def _one_of(names: Iterable[str]) -> str:
    return f"one of {', '.join(names)}"


def _nearest(name: str, names: Iterable[str]) -> str:
    known = list(names)
    near = difflib.get_close_matches(name, known, n=1)
    return f"Did you mean “{near[0]}”?" if near else f"Use {_one_of(known)}."

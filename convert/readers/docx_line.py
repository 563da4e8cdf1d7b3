"""Print on its way into the ledger, and the inlines of the paragraph being read.

Neighbouring text of equal looks becomes one run, however the word processor cut it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from ..document.ledger import GENERATED, PRINT, LedgerBuilder
from ..document.nodes import UNDERLINE, AnswerSpace, Inline, Inlines, Omission, Run
from ..findings import Findings
from .docx_styles import Facts
from .docx_symbols import boxes, from_font, is_private

# Blanks and boxes typed as characters (common practice, no source).
# The first character is a class, then what must follow it: the search skips all others quickly.
_ODD = re.compile(
    "[_[.…☐☑☒❏❑❒◻□\uf000-\uf0ff\n\r\t](?:(?<=_)__+|(?<=[☐☑☒❏❑❒◻□\uf000-\uf0ff\n\r\t])"
    "|(?<=\\[)[ \u00a0]{1,4}\\]|(?<=[.])(?<![.][.])\\.{5,}+(?!\\s*\\d)|(?<=…)……+)"
)
_ODD_SIGNS = (b"___", b"[ ", b"......")
_ODD_SPACE = "[\u00a0".encode()
_NUMBERED = re.compile(rb"&#(x?)([0-9A-Fa-f]{1,7});")
_ODD_BYTES = tuple(s.encode() for s in ("☐", "☑", "☒", "❏", "❑", "❒", "◻", "□", "………"))
_PRIVATE_BYTES = (b"\xef\x80", b"\xef\x81", b"\xef\x82", b"\xef\x83")
_ASCII = bytes(range(128))
_PLAIN = Facts()
_SPACES = re.compile("[\n\r\t]")
# Bullets of symbol fonts whose font the file has lost; word processors show them so (from memory).
_BULLETS = {"\uf0b7": "•", "\uf0a7": "▪"}
_DOTS = ("dot", "hyphen", "middleDot")
_SHORTEST_BLANK = 3


def odd_signs(data: bytes, rest: bytes | None = None) -> bool | tuple[bytes, ...]:
    """By a quick look at a part: ``False`` where it can hold no typed blanks, boxes or private
    characters, the signs that texts with one must hold, or ``True`` where it may hold any.
    ``rest``: the part without ASCII."""
    if b"\0" in data[:100] or any(map(_is_odd, set(_NUMBERED.findall(data)))):
        return True
    if rest is None:
        rest = data.translate(None, _ASCII)
    if any(sign in rest for sign in _PRIVATE_BYTES):
        return True
    met = [sign for sign in _ODD_SIGNS if next(places(data, sign), None) is not None]
    if _ODD_SPACE[1:] in rest and _ODD_SPACE in data:
        met.append(_ODD_SPACE)
    # Neighbours in the rest need not be neighbours in the text.
    met += [sign for sign in _ODD_BYTES if sign in rest and sign in data]
    return (*met, b"\n", b"\t") if met else False


def places(data: bytes, sign: bytes, at: int = 0) -> Iterator[int]:
    """Where a sign stands from ``at`` on, also where two share bytes.

    A sign that begins with a byte rare in markup is looked for by that byte alone, which is
    many times quicker than looking for all of it.
    """
    sought = sign if sign.startswith(b".") else sign[:1]
    while (at := data.find(sought, at)) >= 0:
        if data.startswith(sign, at):
            yield at
        at += 1


def _is_odd(reference: tuple[bytes, bytes]) -> bool:
    """Whether a character written as a number may be one of those, or part of one."""
    sort, digits = reference
    try:
        char = chr(int(digits, 16 if sort else 10))
    except (ValueError, OverflowError):
        return True
    return char in "_[.…\u00a0 " or _ODD.search(char) is not None


class Line:
    """The paragraph being read.  ``mute``: the finding kind under which text is left out.

    ``odd``: whether text may hold typed blanks and the like.
    ``answer``: text here is the face of a form control (kind, name, choices).
    ``said``: the words of the paragraph, kept only where ``listening``.
    """

    __slots__ = (
        "_end", "_facts", "_last", "_led", "_ledger", "_start", "answer", "findings", "listening",
        "mute", "odd", "omissions", "part", "runs", "said",
    )  # fmt: skip

    def __init__(self, ledger: LedgerBuilder, findings: Findings) -> None:
        self._ledger = ledger
        self.findings = findings
        self.part = ""
        self.runs: list[Inline] = []
        self.omissions: list[Omission] = []
        self.mute = ""
        self.odd = True
        self.answer: tuple[str, str, tuple[str, ...]] | None = None
        self.listening = False
        self.said: list[str] = []
        self._facts: Facts | None = None
        self._start = self._end = 0
        self._last = ""
        self._led = -1

    # ------------------------------------------------------------ text

    def text(self, text: str, facts: Facts, place: str) -> None:
        """Print of the source."""
        if (
            facts.odd
            or self.mute
            or self.answer
            or self.listening
            or (self.odd and _ODD.search(text))
            or (self._facts is None and not self.runs and text[0].isspace())
        ):
            self._careful(text, facts, place)
            return
        start, end = self._ledger.add(text, self.part, place)
        self._last = text
        here = self._facts
        if here is not None and self._end == start and (here is facts or _alike(here, facts)):
            self._end = end
        else:
            self.flush()
            self._facts, self._start, self._end = facts, start, end

    def plain(
        self, texts: list[str], looks: list[Facts], place: tuple[str, list[str]], odd: bool
    ) -> Inlines | None:
        """A whole paragraph of runs of text, by their looks and their place (path of the
        paragraph, steps of each run); ``None``, and nothing done, where a text needs a careful
        look (``odd``: may hold a typed blank and the like)."""
        if not texts:
            return ()
        if texts[0][0].isspace() or True in [facts.odd for facts in looks]:
            return None
        if odd and any(map(_ODD.search, texts)):
            return None
        bounds = self._ledger.add_row(texts, self.part, *place)
        runs: list[Inline] = []
        here, start = looks[0], bounds[0]
        for at, facts in enumerate(looks):
            if facts is not here and not _alike(here, facts):
                runs.append(Run(start, bounds[at], here.typeform, here.lang, here.voice))
                here, start = facts, bounds[at]
        last, end = texts[-1], bounds[-1]
        if last[-1].isspace():
            end = max(start, end - len(last) + len(last.rstrip()))
        if start < end:
            runs.append(Run(start, end, here.typeform, here.lang, here.voice))
        return tuple(runs)

    def generated(self, text: str, place: str, facts: Facts = _PLAIN) -> None:
        """Print that the file computes, as part of the running text."""
        if self.mute or facts.hidden:
            return
        start, end = self._ledger.add(text, self.part, place, 0, GENERATED)
        self._extend(text, facts, start, end)

    def mark(self, text: str, place: str, box: str = "") -> Inlines:
        """A computed mark that stands before the text; one space apart in the ledger."""
        if not text.strip():
            return ()
        start, end = self._ledger.add(text.strip(), self.part, place, 0, GENERATED)
        self._ledger.add(" ", self.part, place, 0, GENERATED)
        return (AnswerSpace(start, end, box),) if box else (Run(start, end),)

    def _careful(self, text: str, facts: Facts, place: str) -> None:
        if self.mute or facts.hidden:
            self._leave_out(text, place)
            return
        if facts.caps:
            text = text.upper()
        if facts.font:
            text = self._from_font(text, facts, place)
        if self.listening:
            self.said.append(text)
        at = 0
        if self._facts is None and not self.runs and text[0].isspace() and not facts.blank:
            at = len(text) - len(text.lstrip())
            if not facts.typeform & UNDERLINE or at < len(text):
                self._ledger.add(text[:at].replace("\n", " "), self.part, place)
            else:
                at = 0
        if self.answer:
            self._face(text[at:], place, at)
            return
        if self.odd or facts.odd:
            for odd in _ODD.finditer(text, at):
                self._plain(text[at : odd.start()], facts, place, at)
                self._special(odd[0], facts, place, odd.start(), text[odd.end() :].lstrip())
                at = odd.end()
        self._plain(text[at:], facts, place, at)

    def _plain(self, text: str, facts: Facts, place: str, at: int) -> None:
        if not text:
            return
        start, end = self._ledger.add(text, self.part, place, at)
        if facts.colour and not text.isspace():
            self.findings.add("docx.colour", (start, end), colour=facts.colour)
        if facts.look and not text.isspace():
            self.findings.add("docx.look", (start, end), look=facts.look)
        self._extend(text, facts, start, end)

    def _extend(self, text: str, facts: Facts, start: int, end: int) -> None:
        if facts.typeform & UNDERLINE and text.isspace():
            facts = replace(facts, blank=True)
        here = self._facts
        self._last = text
        if here is not None and self._end == start and (here is facts or _alike(here, facts)):
            self._end = end
        else:
            self.flush()
            self._facts, self._start, self._end = facts, start, end

    def _special(self, text: str, facts: Facts, place: str, at: int, after: str) -> None:
        """A typed blank, a box to tick, a private character, a line end inside a text node."""
        if text.isspace():
            self._plain(" ", facts, place, at)
        elif text in _BULLETS:
            start = self._ledger.length
            self._plain(_BULLETS[text], facts, place, at)
            span = (start, start + 1)
            self.findings.add("docx.bullet", span, font=facts.font or "none", code=_code(text))
        elif len(text) == 1 and is_private(text):
            start = self._ledger.length
            self._plain(text, facts, place, at)
            span = (start, start + 1)
            self.findings.add("docx.symbol", span, font=facts.font or "none", code=_code(text))
        else:
            start, end = self._ledger.add(text, self.part, place, at)
            kind = boxes().get(text) or ("check" if text[0] == "[" else "line")
            if kind == "either":
                kind = "check" if after[:1].isalpha() else "box"
            self.put(AnswerSpace(start, end, kind))

    def _from_font(self, text: str, facts: Facts, place: str) -> str:
        out = []
        for ch in text:
            shown = from_font(ord(ch), facts.font)
            if shown is None:
                code = ord(ch)
                shown = chr(0xF000 + code) if 0x21 <= code <= 0xFF else ch
            out.append(shown)
        return "".join(out)

    def _leave_out(self, text: str, place: str) -> None:
        start, end = self._ledger.add(text, self.part, place)
        why = self.mute or "docx.hidden-text"
        self.omissions.append(Omission(start, end, why))
        if why == "docx.hidden-text":
            self.findings.add(why, (start, end))

    def _face(self, text: str, place: str, at: int) -> None:
        """What print shows of a box or of a drop-down list."""
        assert self.answer is not None
        if not text:
            return
        start, end = self._ledger.add(text, self.part, place, at)
        kind, name, choices = self.answer
        last = self.runs[-1] if self.runs and self._facts is None else None
        if isinstance(last, AnswerSpace) and last.end == start and last.name == name:
            start = last.start
            self.runs.pop()
        self.put(AnswerSpace(start, end, kind, name, choices))

    # ------------------------------------------------------------ other inlines

    def put(self, inline: Inline) -> None:
        """Another inline after the text so far; blanks that touch are one blank."""
        self.flush()
        last = self.runs[-1] if self.runs else None
        if isinstance(inline, AnswerSpace) and isinstance(last, AnswerSpace):
            bare = not (inline.name or last.name)
            if bare and inline.kind == last.kind == "line" and last.end == inline.start:
                self.runs[-1] = replace(last, end=inline.end)
                return
        self.runs.append(inline)

    def tab(self, facts: Facts, place: str, leader: str) -> None:
        """A tab; one that draws a line is a blank to fill in."""
        if self.mute or facts.hidden:
            return
        if leader in ("underscore", "heavy") or facts.typeform & UNDERLINE:
            start, end = self._ledger.add("\t", self.part, place)
            self.put(AnswerSpace(start, end, "line"))
        elif self._facts is None and not self.runs:
            self._ledger.add("\t", self.part, place)
        else:
            start, end = self._ledger.add("\t", self.part, place)
            self._extend("\t", facts, start, end)
            if leader in _DOTS:
                self._led = end

    def break_line(self) -> None:
        """The end of a line within the block, in the ledger."""
        self.flush()
        self._ledger.end_block()

    def flush(self) -> None:
        """Make a run of the text so far."""
        facts = self._facts
        if facts is None:
            return
        self._facts = None
        start, end = self._start, self._end
        if facts.blank and end - start >= _SHORTEST_BLANK:
            self.put(AnswerSpace(start, end, "line"))
        elif start < end:
            self.runs.append(Run(start, end, facts.typeform, facts.lang, facts.voice))

    @property
    def pending(self) -> bool:
        """Whether anything waits for the end of its paragraph."""
        return bool(self.runs) or self._facts is not None

    def _close_led(self, facts: Facts | None) -> Facts | None:
        """Dots or hyphens drawn to the end of the line and leading nowhere are a blank."""
        led, self._led = self._led, -1
        if facts is None or self._end != led:
            return facts
        self._end -= 1
        self.flush()
        self.put(AnswerSpace(led - 1, led, "line"))
        return None

    def take(self) -> Inlines:
        """The inlines of the finished paragraph, white space at its end left out."""
        facts, text = self._facts, self._last
        if self._led >= 0:
            facts = self._close_led(facts)
        if facts is not None and text[-1:].isspace() and not facts.blank:
            self._end = max(self._start, self._end - (len(text) - len(text.rstrip())))
        self.flush()
        if self.said:
            self.said = []
        runs = tuple(self.runs)
        self.runs = []
        return runs


def _alike(one: Facts, other: Facts) -> bool:
    """Whether two stretches of text can be one run."""
    return (
        one.typeform == other.typeform
        and one.lang == other.lang
        and one.voice == other.voice
        and one.blank == other.blank
    )


def _code(ch: str) -> str:
    return f"{ord(ch):04X}"


__all__ = ["PRINT", "Line", "odd_signs"]

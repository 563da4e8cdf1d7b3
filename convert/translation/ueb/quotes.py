"""Quotation marks (UEB 7.6): which way each one points, and which kind predominates.

Roles are one letter a mark: ``o``/``c`` the one-cell opening and closing marks, ``D``/``d``
the specific double, ``S``/``s`` the specific single marks, ``n`` nondirectional double,
``'`` apostrophe or nondirectional single.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from .. import signs
from .chars import DASHES, GUILLEMETS, HYPHEN, QUOTES, same
from .data import data

DOUBLE, SINGLE, AUTO = "double", "single", "auto"
APOSTROPHE, NONDIRECTIONAL = "'", "n"
NAMES = {
    "o": "one-cell opening quotation mark",
    "c": "one-cell closing quotation mark",
    "D": "opening double quotation mark",
    "d": "closing double quotation mark",
    "S": "opening single quotation mark",
    "s": "closing single quotation mark",
    "n": "nondirectional double quotation mark",
    "'": "nondirectional single quotation mark",
}
OPENING, CLOSING = frozenset("oDS"), frozenset("cds")
# Other marks print has for these (variants.toml), and those that may end as well as begin.
_LIKE = {char: mark for char, mark in same().items() if mark in QUOTES}
MARKS = QUOTES.union(_LIKE)
_LOW_OPENING = {"„": "double", "‟": "double", "‚": "single", "‛": "single"}
_MARKS = re.compile(f"[{''.join(sorted(MARKS))}]")
# Marks whose direction depends on more than themselves: unlike ones, one in mid-word, and one
# that closes what another paragraph opened.
_STATEFUL = re.compile(
    f"[{''.join(sorted(_LIKE))}]|“(?<=[^\\s([{{“\"'‘’–—―-]“)|“(?<=\\S[([{{“\"'‘’]“)"
    "|’(?<=[.,!?;:…—–”]’)(?!\\w)"
)
_DOUBLES = re.compile('[“”"]')
_SEVERAL = 2
# Speech between straight single marks: a capital after the first, a stop before the second.
_STRAIGHT_SPEECH = re.compile(r"(?<![\w'])'[A-Z][^'\"]*[.,!?]'(?!\w)")
# Words between straight single marks: one before a letter, one after a letter or a stop.  Marks
# between letters are apostrophes.  The mark comes first, so that a search goes from mark to mark.
_STRAIGHT_PAIR = re.compile(
    r"'(?<![\w'’.]')(?=[^\W\d_])[^'\"“”]*(?:(?<=\w)'(?=\w)[^'\"“”]*)*(?<=[\w.,!?…])'(?!\w)"
)
_BEGUN = re.compile(r"'\S+(?:\s\S+){0,2}")
_STRAIGHT_CLOSING = re.compile(r"[\w.,!?…]'(?!\w)")
_SURE_CLOSING = re.compile(r"[.,!?;:…—–”]’(?!\w)")
_DECADE = re.compile(r"\d\ds")
# The mark first, then what stands before it: a search goes from mark to mark.
_ANY_QUOTES = re.compile(r"‘(?<!\w‘)(?=[\w“\"])|[“”\"]|’(?!(?<=\w’)\w)")
_STRAIGHT_OPENING = re.compile(r'"(?<!\S")(?=\w)')
# What may stand between an opening mark and a space, hyphen or dash (UEB 2.6.2).
_LEFT_MARKS = frozenset("([{“‘\"'’").union(GUILLEMETS, _LIKE)
_LEFT_BRACKETS = frozenset("([{“‘¿¡")
_BEFORE_OPENING = frozenset("([{–—―-/“‘\"'<«¿¡=")


class Roles(NamedTuple):
    """A text's marks: their roles and places in order, and those whose direction was guessed."""

    letters: str
    places: tuple[int, ...]
    doubtful: tuple[int, ...]


def cells(role: str) -> str:
    """The cells of a role."""
    return signs.cells(NAMES[role])


def single_predominates(texts: list[str]) -> bool:
    """Whether single marks are the predominant kind of a work (UEB 7.6.1, 7.6.2).

    They are if more of what is quoted, not counting quotations inside others, stands between them,
    and it is more than one, or one that holds double marks; straight ones count only where there
    is no other mark at all.
    """
    singles = doubles = nested = 0
    for text in texts:
        if "‘" in text:
            found = _outermost(text)
            singles, doubles = singles + found[0], doubles + found[1]
            nested += found[2]
        else:
            doubles += text.count("“")
            if '"' in text:
                doubles += len(_STRAIGHT_OPENING.findall(text))
    if singles or doubles:
        return singles > doubles and (singles >= _SEVERAL or nested > 0)
    return sum(len(_STRAIGHT_SPEECH.findall(text)) for text in texts if "'" in text) >= _SEVERAL


def _outermost(text: str) -> tuple[int, int, int]:
    """How many quotations, not counting those inside others, stand between single and between
    double marks; and how many double marks open inside single ones."""
    counts = {"single": 0, "double": 0}
    nested, open_ = 0, ""
    sure = [match.start() for match in _SURE_CLOSING.finditer(text)]
    for match in _ANY_QUOTES.finditer(text):
        mark, at = match.group(), match.start()
        if mark == "’" and _closes_later(text, at, sure):
            continue
        kind = "single" if mark in "‘’" else "double"
        if open_ == kind and mark not in "‘“":
            open_ = ""
        elif mark in '‘“"':
            nested += open_ == "single" and kind == "double"
            if not open_:
                counts[kind] += 1
                open_ = kind
    return counts["single"], counts["double"], nested


def _closes_later(text: str, at: int, sure: list[int]) -> bool:
    """Whether a single closing mark after punctuation, of those at ``sure`` places, comes before
    the next opening one."""
    end = text.find("‘", at + 1)
    row = bisect_right(sure, at)
    return row < len(sure) and (end < 0 or sure[row] < end)


def _opens(text: str, at: int) -> bool | None:
    """Which way a straight mark points by its neighbours; None where they do not tell."""
    before = text[at - 1] if at else " "
    after = text[at + 1] if at + 1 < len(text) else " "
    left, right = before.isspace() or before in _BEFORE_OPENING, after.isspace()
    if left and not right:
        # After a straight mark, which may itself close ("'!'",), only a word or a mark follows one
        # that opens.
        return True if before not in "\"'" or after.isalnum() or after in _LEFT_BRACKETS else None
    if right and not left:
        return False
    if not after.isalnum() and (before.isalnum() or before in ")]}"):
        return False
    if after.isalnum() and not before.isalnum():
        return None if before in ".,;:!?" else True
    return None


def roles(
    text: str,
    single: bool,
    straight_single: bool = False,
    decided: Mapping[int, bool | None] | None = None,
) -> Roles:
    """The role of every quotation mark and apostrophe of a text.

    ``single``: single marks take the one-cell signs.  ``straight_single``: apostrophes that
    stand where quotation marks do are read as such (UEB 7.6.5; in doubt an apostrophe).
    ``decided``: marks whose direction is known: true opening, false closing, None neither.
    """
    one, other = ("oc", "Dd") if single else ("Ss", "oc")
    state = _State(text, other, one, straight_single)
    state.decided = decided or {}
    places = tuple([match.start() for match in _MARKS.finditer(text)])
    for at in places:
        state.take(at, text[at])
    return Roles("".join(state.out), places, tuple(state.doubtful))


def needs_state(text: str, single: bool) -> bool:
    """Whether a mark's role depends on more than the mark itself."""
    if '"' in text or "‘" in text or (single and ("'" in text or "’" in text)):
        return True
    return not text.isascii() and _STATEFUL.search(text) is not None


def plain_roles(token: str, single: bool) -> str:
    """The roles of a token's marks where none needs the state of the paragraph."""
    if token[:-1].isalpha() and token[-1] not in "“”‘’'":
        return ""
    table = {"“": "D", "”": "d"} if single else {"“": "o", "”": "c"}
    return "".join([table.get(mark, APOSTROPHE) for mark in token if mark in MARKS])


def straight_pairs(text: str) -> list[int]:
    """The straight single marks that seem to open what another closes, where no such mark is
    taken as a quotation mark (UEB 7.6.5: in doubt an apostrophe)."""
    found = _STRAIGHT_PAIR.finditer(text) if "'" in text else ()
    return [match.start() for match in found if not _is_elided(text, match.start())]


def begun(text: str, at: int) -> str:
    """A straight mark with what it opens: up to the mark that closes, three words at most."""
    words = _BEGUN.match(text, at)
    shown = words.group() if words else text[at : at + 1]
    end = _STRAIGHT_CLOSING.search(shown, 1)
    return shown[: end.end()] if end else shown


def _is_elided(text: str, at: int) -> bool:
    """Whether a word follows that is written with an apostrophe first ('tis, '90s)."""
    word = re.match(r"\w+", text[at + 1 : at + 9])
    if word is None:
        return False
    return word.group().lower() in _elisions() or bool(_DECADE.fullmatch(word.group()))


@cache
def _elisions() -> frozenset[str]:
    return frozenset(data()["list"]["elisions"]["words"].split())


class _State:
    def __init__(self, text: str, double: str, single: str, straight: bool) -> None:
        self.text, self.straight = text, straight
        self.asked = False  # Whether somebody said that a straight single mark opens.
        self.double, self.single = double, single
        self.out: list[str] = []
        self.doubtful: list[int] = []
        self.open: list[tuple[str, str]] = []  # (kind, role that closes)
        self.depth = {"double": 0, "single": 0}
        self.low: list[str] = []  # Kinds opened by a mark that “ or ‘ closes („so“, ›so‹).
        self.last_straight = text.rfind('"')
        self.begun = (-1, False)  # The mark last asked about, and whether it begins a word.
        self.decided: Mapping[int, bool | None] = {}
        self.sure = [match.start() for match in _SURE_CLOSING.finditer(text)] if "‘" in text else []

    def take(self, at: int, mark: str) -> None:
        if at in self.decided:
            like = _LIKE.get(mark, mark)
            self.out.append(self._decided(at, like, self.decided[at]))
        elif mark in _LIKE or (self.low and mark in "“‘"):
            self.out.append(self._like(at, mark))
        elif mark in '“”"':
            self.out.append(self._double(at, mark))
        else:
            self.out.append(self._single(at, mark))

    def _like(self, at: int, mark: str) -> str:
        """The role of a mark other than the usual ones, or of a usual one that it makes close."""
        like = _LIKE.get(mark, mark)
        kind, pair = ("double", self.double) if like in "“”" else ("single", self.single)
        if mark in _LOW_OPENING or (mark == "›" and self._begins(at) and not self._inside(kind)):
            self.low.append(kind)
            return self._open(at, kind, pair)
        if self.low[-1:] == [kind]:
            return self._close(at, kind, pair)
        return self._double(at, like) if kind == "double" else self._single(at, like)

    def _begins(self, at: int) -> bool:
        """Whether a letter stands after a mark and none before it."""
        before = self.text[max(0, at - 1) : at]
        return self.text[at + 1 : at + 2].isalnum() and not before.isalnum()

    def _decided(self, at: int, mark: str, opens: bool | None) -> str:
        """The role of a mark whose direction somebody knows."""
        double = mark in '“”"'
        if opens is None:
            return NONDIRECTIONAL if double else APOSTROPHE
        kind, pair = ("double", self.double) if double else ("single", self.single)
        self.asked = self.asked or (opens and mark == APOSTROPHE)
        return (self._open if opens else self._close)(at, kind, pair)

    def _inside(self, kind: str) -> bool:
        return self.depth[kind] > 0

    def _open(self, at: int, kind: str, pair: str) -> str:
        """An opening mark: the specific form by itself (UEB 7.6.4) and in mid-word (10.12.12),
        where the other would read as a question mark (7.5.3)."""
        after = self.text[at + 1 : at + 2]
        inside = bool(after) and not (after.isspace() or self._begins_word(at))
        if inside or self._alone(at):
            pair = "Dd" if kind == "double" else "Ss"
        self._push(kind, pair[1])
        return pair[0]

    def _push(self, kind: str, closer: str) -> None:
        self.open.append((kind, closer))
        self.depth[kind] += 1

    def _close(self, at: int, kind: str, pair: str) -> str:
        if self.low[-1:] == [kind]:
            self.low.pop()
        while self.depth[kind]:
            opened, closer = self.open.pop()
            self.depth[opened] -= 1
            if opened == kind:
                return closer
        if self._alone(at):
            return "d" if kind == "double" else "s"
        return pair[1]

    def _begins_word(self, at: int) -> bool:
        """Whether only the marks of UEB 2.6.2 stand between a mark and a space, hyphen or dash."""
        asked, (known, begins) = at, self.begun
        while at and at != known and self.text[at - 1] in _LEFT_MARKS:
            at -= 1
        if at != known:
            before = self.text[at - 1] if at else " "
            begins = before.isspace() or before == HYPHEN or before in DASHES
        self.begun = asked, begins
        return begins

    def _alone(self, at: int) -> bool:
        """Whether a mark stands by itself between spaces (UEB 7.6.4)."""
        after = self.text[at + 1 : at + 2] or " "
        return after.isspace() and (not at or self.text[at - 1].isspace())

    def _double(self, at: int, mark: str) -> str:
        if mark == "“":
            return self._open(at, "double", self.double)
        if mark == "”":
            return self._close(at, "double", self.double)
        inside = self._inside("double")
        if at and self.text[at - 1].isdigit() and (not inside or self._measures(at)):
            return NONDIRECTIONAL
        opens = _opens(self.text, at)
        if opens is None:
            opens = not inside
        if opens and inside:
            self._close(at, "double", self.double)
        if opens and at == self.last_straight:
            self.doubtful.append(at)
        return (self._open if opens else self._close)(at, "double", self.double)

    def _measures(self, at: int) -> bool:
        """Whether a straight mark after a digit inside a quotation is no end of it, because
        another mark closes it (UEB 3.15: “It is 5'6" high”)."""
        if self.open[-1][1] == "d" != self.double[1]:  # It opened in mid-word: value="20".
            return False
        later = _DOUBLES.search(self.text, at + 1)
        if later is None or later.group() != '"':
            return later is not None and later.group() == "”"
        self.doubtful.append(at)
        return _opens(self.text, later.start()) is False

    def _doubled(self, at: int) -> bool:
        """Whether another mark like this one, right behind, closes all that is open (‘’n’’)."""
        return self.depth["single"] == 1 and self.text[at + 1 : at + 2] == "’"

    def _closed_later(self, at: int) -> bool:
        return _closes_later(self.text, at, self.sure)

    def _single(self, at: int, mark: str) -> str:
        text = self.text
        before = text[at - 1 : at].isalnum()
        after = text[at + 1 : at + 2].isalnum()
        if mark == "‘":
            nested = self._inside("single")
            if _is_elided(text, at) and (nested or not self._closed_later(at)):
                return APOSTROPHE
            return self._open(at, "single", self.single)
        if before and after:
            return APOSTROPHE
        if mark == "’":
            closing = self._inside("single") and not (after and not before)
            closing = closing or bool(_SURE_CLOSING.match(text, at - 1))
            if closing and before and (self._closed_later(at) or self._doubled(at)):
                closing = False
            return self._close(at, "single", self.single) if closing else APOSTROPHE
        if not (self.straight or self.asked):
            return APOSTROPHE
        if self._inside("single") and not after:
            return self._close(at, "single", self.single)
        if self._inside("single") and _is_elided(text, at):
            return APOSTROPHE
        if self.straight and not before and after and _STRAIGHT_CLOSING.search(text, at + 1):
            return self._open(at, "single", self.single)
        return APOSTROPHE

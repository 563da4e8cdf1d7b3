"""Single words that look wrong, from the vocabulary of a document."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cache

from ..findings import Findings
from .leaves import Reading, data, file

_DIGIT_INSIDE = re.compile(r"[A-Z]?[a-z]+[015]+[a-z]*")
_DIGIT_DEEP = re.compile(r"[A-Z]?[a-z]+[015]+[a-z]{2,}")
_LETTER_IN_NUMBER = re.compile(r"l[\dO]\d+|l\d+l\d*|\d+[lO]\d+|\d{2,}[lO]|l\d{2,}|[1-9]O")
_READ_AS = str.maketrans("015", "ols")
_GLUED_STOP = re.compile(r"([a-z]{2,})[.!?;,]([A-Z][a-z]+|(?<=,)[a-z]{2,})")
_NOTE_MARK = re.compile(r"([a-z]{3,})[.,;:]?\d{1,2}")
_AREA = re.compile(r"\d*(?:mm|cm|km|m|ft)[23]")
_ATOM = re.compile(r"([A-Z][a-z]?)(?!0)(\d*)|[()]\d*")
_ION = re.compile(r"[A-Z][a-z]?\d?[+−-]")
_CHESS = re.compile(r"(?:[KQRBN][a-h]?[1-8]?x?[a-h][1-8]|O-O(?:-O)?)[+#]?")
_KNITTING = re.compile(r"[kp]\d{1,2}(?:tog)?|ssk|yo|psso|sl1")
_STAMMER = re.compile(r"([A-Za-z]{1,3})-(?:\1-)*\1[a-z]*", re.I)
_UNIT = re.compile(r"(\d*)(ug|pg|rng|rnl|mI|rnm)")


Flagged = dict[str, list[str]]


def flagged(reading: Reading) -> Flagged:
    """The words that look wrong, by the kind of doubt; of notations, by their names."""
    letters = [word for word in reading.counts if word.isalpha() and _is_odd(word)]
    mixed = [word for word in reading.counts if not (word.isalpha() or word.isdecimal())]
    if "" in reading.counts:
        mixed.remove("")
    found: Flagged = {}
    for kind, (test, of_letters, of_mixed) in _TESTS.items():
        words = (letters if of_letters else []) + (mixed if of_mixed else [])
        found[kind] = [word for word in words if test(reading, word)]
    for name, sign in (("chess", _CHESS), ("knitting", _KNITTING)):
        found[name] = [word for word in mixed if sign.fullmatch(word)]
    found["knitting"] += [word for word in ("ssk", "yo", "psso") if word in reading.counts]
    found["so"] = ["50"] if "50" in reading.counts else []
    return found


def _is_odd(word: str) -> bool:
    """Whether a word of letters is anything but small letters or a name."""
    return not (word.islower() or word.istitle()) or "rn" in word or "vv" in word


def look(reading: Reading, findings: Findings, found: Flagged) -> None:
    """File the words that look wrong, each kind once with all its places."""
    for kind in _TESTS:
        _file(reading, findings, kind, found[kind])
    _so(reading, findings, found["so"])
    _notation(reading, findings, found)


def _file(reading: Reading, findings: Findings, kind: str, words: Iterable[str]) -> None:
    spans, shown = [], []
    for word in words:
        for start, end in reading.places(word):
            if not reading.scripted(start, end):
                spans.append((start, end))
                shown.append(word)
    file(findings, kind, spans, shown)


@cache
def _common() -> frozenset[str]:
    return frozenset(data()["words"]["common"].split())


@cache
def _real(name: str) -> frozenset[str]:
    return frozenset(data()["words"][name].split())


def _known(reading: Reading, word: str) -> bool:
    return word in _common() or word in reading.counts


def _look_alike(reading: Reading, word: str) -> bool:
    """Letters and figures mixed, ``rn`` for ``m``, ``vv`` for ``w``."""
    if not word.isalpha():
        if _DIGIT_INSIDE.fullmatch(word):
            meant = word.translate(_READ_AS).lower()
            deep = len(word) > 4 and _DIGIT_DEEP.fullmatch(word) is not None
            return deep or (meant in _common() and word[-2:] not in ("s1", "s5", "s0"))
        return _LETTER_IN_NUMBER.fullmatch(word) is not None
    if not word.islower() or word in _real("with_rn_or_vv"):
        return False
    if "vv" in word:
        return _known(reading, word.replace("vv", "w"))
    meant = word.replace("rn", "m")
    often = reading.counts.get(meant, 0) >= 3 * reading.counts[word] if meant != word else False
    return meant != word and (often or meant in _common())


def _inner_capital(reading: Reading, word: str) -> bool:
    """A capital inside a word that is an ordinary one in small letters."""
    if not word.isalpha() or word.isupper() or word[1:].islower() or reading.counts[word] > 2:
        return False
    small = word.lower()
    if small in _common():
        return word not in _real("with_capitals")
    return len(word) > 3 and small in reading.counts and any(ch.islower() for ch in word[:-1])


def _missing_space(reading: Reading, word: str) -> bool:
    """A sentence mark with no space after it, between ordinary words."""
    parts = _GLUED_STOP.fullmatch(word)
    return parts is not None and all(_known(reading, part.lower()) for part in parts.groups())


def _flattened(reading: Reading, word: str) -> bool:
    """A formula, power or note mark whose raised or lowered signs stand on the line."""
    if word[-1:] not in "0123456789+−-" and not any(ch.isdigit() for ch in word):
        return False
    note = _NOTE_MARK.fullmatch(word)
    if note:
        return note[1] not in _real("before_numbers") and _known(reading, note[1])
    if _AREA.fullmatch(word) or word in _real("formulas"):
        return True
    if _ION.fullmatch(word):
        return word.rstrip("+−-0123456789") in _real("ions")
    return _compound(word)


def _compound(word: str) -> bool:
    """Whether a word with figures is made of symbols of chemical elements alone."""
    if word in _real("no_formulas") or not any(ch.isdigit() for ch in word) or len(word) > 20:
        return False
    at, symbols = 0, set()
    while at < len(word):
        atom = _ATOM.match(word, at)
        if atom is None or (atom[1] and atom[1] not in _real("elements")):
            return False
        symbols.add(atom[1])
        at = atom.end()
    return len(symbols - {None}) > 1


def _stammered(_: Reading, word: str) -> bool:
    """The beginning of a word said twice or more."""
    return not word.isupper() and _STAMMER.fullmatch(word) is not None


def _unit(reading: Reading, word: str) -> bool:
    """A unit as scanning spoils it, in one word with its number or after one."""
    found = _UNIT.fullmatch(word)
    if found is None:
        return False
    if found[1]:
        return True
    return any(reading.text[start - 2 : start - 1].isdigit() for start, _ in reading.places(word))


# The tests, and whether words of letters alone and words with other signs can fail them.
_TESTS: dict[str, tuple[Callable[[Reading, str], bool], bool, bool]] = {
    "suspect.look-alike": (_look_alike, True, True),
    "suspect.inner-capitals": (_inner_capital, True, False),
    "suspect.missing-space": (_missing_space, False, True),
    "suspect.flattened-script": (_flattened, False, True),
    "suspect.unit": (_unit, True, True),
    "suspect.stammer": (_stammered, False, True),
}


def _so(reading: Reading, findings: Findings, words: list[str]) -> None:
    """The figure 50 where the word “so” makes sense."""
    after = tuple(data()["words"]["after_so"].split())
    spans = [
        span for word in words for span in reading.places(word)
        if reading.text[span[1] + 1 : span[1] + 8].startswith(after)
    ]  # fmt: skip
    file(findings, "suspect.so", spans)


def _notation(reading: Reading, findings: Findings, found: Flagged) -> None:
    """Notations of chess and knitting: four signs of one or more; of music: one."""
    for name in ("chess", "knitting"):
        if len(found[name]) >= 4:
            spans = [span for word in found[name] for span in reading.places(word)]
            for span in sorted(set(spans)):
                findings.add("suspect.notation", span, notation=name)
    for sign in data()["words"]["music"]:
        for at in _all(reading.text, sign) if sign in reading.signs else ():
            findings.add("suspect.notation", (at, at + 1), notation="music")


def _all(text: str, sign: str) -> Iterable[int]:
    at = text.find(sign)
    while at >= 0:
        yield at
        at = text.find(sign, at + 1)

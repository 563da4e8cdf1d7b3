"""Passages in another language that the file does not mark, and texts of two languages."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping
from functools import cache

from ..document.nodes import Run
from ..findings import Findings, Span
from ..languages import language_name
from .leaves import Leaf, Reading, data, file

_WORD = re.compile(r"[^\W\d_]+")
_WINDOW, _ENOUGH, _NEAR = 8, 3, 120
_FEWEST_TURNS = 4
# Tags of English, or of no one language (BCP 47).
_OF_ENGLISH = frozenset(("", "en", "eng", "und", "mul", "zxx"))
_SURE, _TIMES = 10, 3  # Function words of a language that settle it, and how many more than other.


@cache
def _tongues() -> dict[str, frozenset[str]]:
    """Words of each language that are not words of English."""
    return {name: frozenset(words.split()) for name, words in data()["tongues"].items()}


def sought() -> Iterator[str]:
    """The words whose places may be asked for."""
    for words in _tongues().values():
        yield from words


def look(reading: Reading, findings: Findings) -> None:
    """File passages in a language that is not marked, and blocks in two languages by turns."""
    main = reading.document.meta.language.lower()[:2] or "en"
    if whole := _whole(reading, main):
        marked = bool(reading.document.meta.language)
        said = f"says that it is {_names()[main]}" if marked else "does not say its language"
        findings.add("suspect.document-language", lang=whole, language=_names()[whole], said=said)
        main = whole
    likely = {
        name: words
        for name, words in _tongues().items()
        if name != main and sum(word in reading.counts for word in words) >= _ENOUGH
    }
    spoken = {id(leaf): _marked(leaf) or main for leaf in reading.leaves}
    if likely and main == "en":
        spans: list[Span] = []
        for name, words in likely.items():
            for leaf in _leaves_with(reading, words):
                span = _passage(leaf, words)
                if span and spoken[id(leaf)] == main and not _marks_at(leaf, span[0]):
                    spans.append(span)
                    spoken[id(leaf)] = name
        file(findings, "suspect.language", spans)
    file(findings, "suspect.marked-language", _english(reading))
    if len(set(spoken.values())) > 1:
        file(findings, "suspect.parallel-text", _by_turns(reading, spoken))


def look_at_code(reading: Reading, code: str, findings: Findings) -> None:
    """File that a code for English is to write a document in another language (UEB 13)."""
    main = reading.document.meta.language.lower().partition("-")[0]
    if not code.startswith("ueb"):
        return
    tongue = _whole(reading, main if main in _judges() else "en") or main
    if tongue in _OF_ENGLISH or _has_english(reading):
        return
    findings.add("suspect.code-language", lang=tongue, language=language_name(tongue))


def _has_english(reading: Reading) -> bool:
    """Whether text that its source says is in another language has more function words of
    English than of any other."""
    weights = _weights(reading.counts)
    return weights["en"] >= _SURE and weights["en"] == max(weights.values())


def _english(reading: Reading) -> Iterator[Span]:
    """Stretches marked as another language whose words are plainly those of English: a word
    processor's language for typing is often not that of the words."""
    ours = _judges()["en"]
    for leaf in reading.leaves:
        for start, end, lang in _foreign(leaf):
            words = set(_WORD.findall(leaf.words[start - leaf.start : end - leaf.start].lower()))
            theirs = _judges().get(lang, frozenset())
            found = len(words & ours - theirs)
            if found >= _ENOUGH and found > _TIMES * len(words & theirs - ours):
                yield start, end


def _foreign(leaf: Leaf) -> Iterator[tuple[int, int, str]]:
    """The stretches of a block marked with one language that is not English, and which."""
    open_at, ends, tongue = 0, 0, ""
    for run in leaf.runs:
        lang = run.lang.lower() if isinstance(run, Run) else ""
        lang = "" if lang[:2] == "en" or lang.endswith("fonipa") else lang[:2]
        if isinstance(run, Run) and lang and lang == tongue:
            ends = run.end
            continue
        if tongue:
            yield open_at, ends, tongue
        tongue = lang
        if isinstance(run, Run) and lang:
            open_at, ends = run.start, run.end
    if tongue:
        yield open_at, ends, tongue


@cache
def _names() -> dict[str, str]:
    names: dict[str, str] = data()["tongue_names"]
    return names


@cache
def _judges() -> dict[str, frozenset[str]]:
    """Function words of each language, English too."""
    return {**_tongues(), "en": frozenset(data()["english"]["words"].split())}


def _whole(reading: Reading, main: str) -> str:
    """The language of the whole document where that is plainly another than ``main``, else ""."""
    if main not in _judges() or not _likelier(reading.counts, main):
        return ""
    own: dict[str, int] = {}
    for leaf in reading.leaves:
        if not _marked(leaf):
            for word in _WORD.findall(leaf.words):
                own[word] = own.get(word, 0) + 1
    return _likelier(own, main)


def _likelier(counts: Mapping[str, int], main: str) -> str:
    """The language whose function words stand much more often than those of ``main``."""
    weights = _weights(counts)
    best = max(weights, key=lambda name: (weights[name], name))
    sure = weights[best] >= _SURE and weights[best] > _TIMES * weights[main]
    return best if sure and best != main else ""


def _weights(counts: Mapping[str, int]) -> dict[str, int]:
    """How often the function words of each language stand."""
    return {name: sum(counts.get(word, 0) for word in words) for name, words in _judges().items()}


def _leaves_with(reading: Reading, words: frozenset[str]) -> list[Leaf]:
    """The blocks in which three of the words, in small letters, stand close together."""
    places = sorted(at for word in words if word in reading.counts
                    for at, _ in reading.places(word))  # fmt: skip
    close = [
        first for first, last in zip(places, places[_ENOUGH - 1 :], strict=False)
        if last - first < _NEAR
    ]  # fmt: skip
    leaves = sorted(reading.leaves, key=lambda leaf: leaf.start) if close else []
    starts = [leaf.start for leaf in leaves]
    return [leaves[at] for at in sorted({bisect_right(starts, place) - 1 for place in close})
            if at >= 0]  # fmt: skip


def _marked(leaf: Leaf) -> str:
    """The language that all of a block is marked with."""
    first = leaf.runs[0]
    if isinstance(first, Run) and not first.lang:
        return ""
    langs = {run.lang.lower()[:2] for run in leaf.runs if isinstance(run, Run)}
    return langs.pop() if len(langs) == 1 else ""


def _marks_at(leaf: Leaf, at: int) -> bool:
    return any(isinstance(run, Run) and run.lang and run.start <= at < run.end for run in leaf.runs)


def _passage(leaf: Leaf, words: frozenset[str]) -> Span | None:
    """A stretch of a few words with three function words of a language, and no fewer."""
    if sum(word in words for word in set(leaf.words.lower().split())) < _ENOUGH:
        return None
    found = list(_WORD.finditer(leaf.words))
    hits = [at for at, match in enumerate(found) if match[0].lower() in words]
    for first, last in zip(hits, hits[_ENOUGH - 1 :], strict=False):
        kinds = {found[at][0].lower() for at in hits if first <= at <= last}
        if last - first < _WINDOW and len(kinds) >= _ENOUGH:
            return leaf.start + found[first].start(), leaf.start + found[last].end()
    return None


def _by_turns(reading: Reading, spoken: dict[int, str]) -> list[Span]:
    """Four or more blocks in a row, each in another language than the one before."""
    spans: list[Span] = []
    for row in reading.rows:
        run: list[Leaf] = []
        for kid in (*row, None):
            if isinstance(kid, Leaf) and (not run or spoken[id(kid)] != spoken[id(run[-1])]):
                run.append(kid)
                continue
            if len(run) >= _FEWEST_TURNS and len({spoken[id(leaf)] for leaf in run}) == 2:
                spans.append((run[0].start, run[-1].end))
            run = [kid] if isinstance(kid, Leaf) else []
    return spans

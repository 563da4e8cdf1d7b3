"""Offers: for each finding the decisions that would settle it, as stanzas ready to paste.

The rows are data, the key ``offers`` of a kind in the catalogue, the safest first::

    offers = [
      {do = "read", as = "letters", everywhere = true, label = "Its letters are spoken"},
      {do = "describe", text = "", label = "Describe it"},
    ]

Words in braces are facts of the finding.  ``expect`` may be given where the print meant is not
the stretch of the finding, and ``what`` (a word of ``WHAT``) where the block meant is not the
innermost one.  An empty argument is for the person to fill in, and an empty
``expect`` where the finding has no place: such a decision names the finding it answers.
``whole`` makes it one for the whole document.  ``page`` stands for the argument ``label`` of the
verb ``print-page``.  ``only`` names the fact that a finding must have, as NAME=VALUE,
``unless`` one it must not have.
``{set = KEY, value = ...}`` is an option of the job file.  The place is filled in here.  Every
finding to settle or to look at can be accepted as well.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ..document.nodes import Document, Graphic, InlineGraphic, MathRun, Table, inlines_of
from ..findings import TOLD, Finding, Span, catalogue
from .alone import Alone
from .anchor import head, squeeze
from .index import Index, file_name
from .record import WHAT
from .shapes import fits
from .stanza import Value, option_line, stanza
from .verbs import verbs

MOST = 20  # Places of one offer that a report spells out.
LONGEST = 60  # Characters of print an offer expects of a block or a finding.
NEAR = 20  # Characters of print on each side; more where the place is not alone with so few.
FARTHEST = 320
# Roles that only a container or a table can be given.
CONTAINERS = ("plain", "table-to-read", "text-by-rows", "text-by-columns")
_PLACED = ("expect", "everywhere", "part", "whole")
_PARTS = re.compile(r"\{([a-z_0-9-]+)\}")
_CLASSES = {name: word for word, name in WHAT.items()}


@dataclass(frozen=True, slots=True)
class Offer:
    """One way to settle a finding: what it says, and a stanza for each place."""

    label: str
    verb: str
    stanzas: tuple[str, ...]
    places: int = 1

    @property
    def text(self) -> str:
        """The stanzas as one text; says how many places are left out of it."""
        text = "\n".join(self.stanzas)
        left = self.places - len(self.stanzas)
        if left > 0 and self.places > 1 and len(self.stanzas) > 1:
            text += f"\n# and {left} places more; cellset decide writes them all\n"
        return text


def with_offers(findings: Iterable[Finding], document: Document) -> list[Finding]:
    """The findings with their offers.  ``document`` is the one before decisions."""
    maker = Offers(document)
    out = []
    for finding in findings:
        made = maker.of(finding, MOST)
        texts = (*finding.offer, *(offer.text for offer in made))
        out.append(replace(finding, offer=texts) if texts else finding)
    return out


class Offers:
    """Makes offers; the index of the document is made when the first place is looked up."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._made: Index | None = None
        self._nears: dict[Span, dict[str, Value]] = {}
        self._alone = Alone(document.ledger.text)

    @property
    def _index(self) -> Index:
        if self._made is None:
            self._made = Index(self._document)
        return self._made

    def of(self, finding: Finding, most: int | None = None) -> list[Offer]:
        """The offers of a finding, each for at most so many places."""
        if finding.settled:
            return []
        offers = [
            offer
            for row in catalogue()[finding.kind].offers
            if (offer := self._offer(finding, dict(row), most))
        ]
        if finding.severity != TOLD:
            offers.append(self._accept(finding))
        return offers

    def _offer(self, finding: Finding, row: dict[str, Any], most: int | None) -> Offer | None:
        label, row = parts_of(row)
        label = _fill(label, finding)
        if not _has(finding, row.pop("only", ""), True) or _has(finding, row.pop("unless", "")):
            return None
        if "set" in row:
            return Offer(label, "set", (option_line(row["set"], row["value"], label),))
        filled: dict[str, Value] = {
            key: _fill(value, finding) if isinstance(value, str) else value
            for key, value in row.items()
        }
        verb = str(filled["do"])
        spans: Sequence[Span | None] = ()
        places: list[dict[str, Value] | None]
        if self._unplaced(verb, finding, filled):
            wide: dict[str, Value] = {"everywhere": True} if filled.get("everywhere") else {}
            places = [{"expect": "", "answers": finding.id, **wide}]
        elif filled.get("everywhere"):
            places = [*self._everywhere(finding, filled)]
        else:
            spans = self._spans(verb, str(filled.get("role")), finding, "what" in filled)
            places = [
                place and {**place, **_answers(verb, span, finding)}
                for span in spans[:most]
                for place in [self._at(verb, span, finding, filled)]
            ]
        found = [place for place in places if place is not None]
        if not found:
            return None
        count = len(found) if filled.get("everywhere") else len(spans)
        texts = tuple(stanza({**place, **_rest(filled)}, label) for place in found[:most])
        return Offer(label, verb, texts, count)

    def _spans(
        self, verb: str, role: str, finding: Finding, what: bool = False
    ) -> Sequence[Span | None]:
        """The places of a finding; for another role each block of a stretch is one, so that all
        items of a typed list become the list and not the first alone."""
        if verb != "treat-as" or role in CONTAINERS or what:
            return finding.spans or (None,)
        blocks = [block for span in finding.spans for block in self._index.blocks_of(span)]
        return blocks or (None,)

    def _unplaced(self, verb: str, finding: Finding, filled: dict[str, Value]) -> bool:
        """Whether the person must say where the decision applies."""
        if finding.spans or filled.get("expect") or _is_whole(finding, filled):
            return False
        return verbs()[verb].place != "picture"

    def _everywhere(
        self, finding: Finding, filled: dict[str, Value]
    ) -> Iterator[dict[str, Value] | None]:
        """All places of a word: that of the offer, or each that the finding is about; the whole
        work where a finding about it has no place and the verb can do that."""
        if _is_whole(finding, filled):
            yield {"everywhere": True}
            return
        expect = filled.get("expect")
        quote = self._document.ledger.quote
        found = [expect] if expect else [squeeze(quote(*span)) for span in finding.spans]
        for words in dict.fromkeys(found):
            yield {"expect": words, "everywhere": True} if words else None

    # ------------------------------------------------------------ one place

    def _at(
        self, verb: str, span: Span | None, finding: Finding, filled: dict[str, Value]
    ) -> dict[str, Value] | None:
        """``at``, ``expect``, ``near`` of a place, as the verb needs them."""
        place = verbs()[verb].place
        if place == "picture":
            return self._picture(span, finding)
        expect = filled.get("expect")
        if span is None:
            return self._page(str(expect)) if place == "page" and expect else None
        if place == "page":
            return self._page("", span)
        if filled.get("part") == "word":
            span = self._word(span)
        if place == "omitted":
            return self._print(span, "", True)
        if place in ("print", "finding") or (place == "either" and "part" in filled):
            return self._print(span, str(expect) if expect else "", place == "finding")
        wanted = WHAT.get(str(filled.get("what")), "")
        node = self._block(place, span, str(filled.get("role")), wanted)
        if node is None:
            return None
        if place == "formula":
            return self._print(self._index.extent[id(node)], "", True)
        return self._of_block(node)

    def _print(self, span: Span, expect: str, short: bool) -> dict[str, Value] | None:
        """A stretch of print; ``expect`` is looked for in it."""
        text = self._document.ledger.text
        start, end = span
        if expect:
            at = text.find(expect, max(0, start - LONGEST), end + LONGEST)
            if at < 0:
                return None
            start, end = at, at + len(expect)
        start, end = head(text, (start, end))
        if short and end - start > LONGEST:
            end = start + len(text[start : start + LONGEST].rpartition(" ")[0].rstrip()) or end
        at_address = self._document.ledger.address(start)
        if not at_address or start >= end:
            return None
        out: dict[str, Value] = {"at": at_address, "expect": squeeze(text[start:end])}
        return {**out, **self._near(start, end)}

    def _near(self, start: int, end: int) -> dict[str, Value]:
        """Print before and after a place: as much as sets it apart from all others."""
        found = self._nears.get((start, end))
        if found is None:
            found = self._nears[start, end] = self._neighbours(start, end)
        return dict(found)

    def _neighbours(self, start: int, end: int) -> dict[str, Value]:
        text = self._document.ledger.text
        size = NEAR
        while size <= FARTHEST:
            low, high = max(0, start - size), end + size
            if self._alone.at(low, high):
                return {"near": (squeeze(text[low:start]), squeeze(text[end:high]))}
            size *= 2
        low, high = max(0, start - NEAR), end + NEAR
        return {"near": (squeeze(text[low:start]), squeeze(text[end:high])), "follow": False}

    def _block(self, place: str, span: Span, role: str = "", wanted: str = "") -> Any | None:
        """The block of a finding: the innermost one a verb of this place acts on."""
        leaf = self._index.holding(head(self._document.ledger.text, span)[0])
        if place == "formula":
            maths = (run for run in inlines_of(leaf) if isinstance(run, MathRun))
            return leaf if leaf is not None and (not inlines_of(leaf) or any(maths)) else None
        for node in self._index.above(leaf):
            if wanted:
                meant = type(node).__name__ == wanted
            elif place == "table":
                meant = isinstance(node, Table)
            elif role in CONTAINERS:
                meant = fits(role, node)
            else:
                meant = type(node).__name__ in _CLASSES
            if meant:
                return node
        return None

    def _word(self, span: Span) -> Span:
        """A stretch with all of the words in which it begins and ends."""
        text, (start, end) = self._document.ledger.text, span
        while start and not text[start - 1].isspace():
            start -= 1
        while end < len(text) and not text[end].isspace():
            end += 1
        return start, end

    def _of_block(self, node: Any) -> dict[str, Value] | None:
        start, _ = self._index.extent[id(node)]
        expect = self._index.words(node, LONGEST)
        if not node.address or not expect:
            return None
        out: dict[str, Value] = {"at": node.address}
        if what := _CLASSES.get(type(node).__name__):
            out["what"] = what
        out["expect"] = expect
        hit = re.compile(r"\s+".join(map(re.escape, expect.split())))
        match = hit.match(self._document.ledger.text, start)
        return {**out, **(self._near(*match.span()) if match else {})}

    def _page(self, label: str, span: Span | None = None) -> dict[str, Value] | None:
        """The last place at which a print page of this label begins; with a place, the page that
        begins nearest to it."""
        pages = [(node, known or "unnumbered") for node, known in self._index.pages()]
        found = [(node, known) for node, known in pages if span or known == label]
        if span:
            found.sort(key=lambda row: -abs(self._index.extent[id(row[0])][0] - span[0]))
        if not found or not found[-1][0].address:
            return None
        return {"at": found[-1][0].address, "expect": found[-1][1]}

    def _picture(self, span: Span | None, finding: Finding) -> dict[str, Value] | None:
        """The picture of a finding: that of the file it names, or the one at its place."""
        facts = dict(finding.facts)
        name = str(facts.get("resource") or facts.get("picture") or "")
        index = self._index
        for node, resource in index.pictures_named(name) if name else index.pictures():
            low, high = index.extent[id(node)]
            if span is None or low <= span[0] <= high:
                return self._of_picture(node, resource)
        return None

    def _of_picture(self, node: Any, resource: str) -> dict[str, Value]:
        at = self._index.extent[id(node)][0]
        if not isinstance(node, Graphic):
            inline = next(
                run for run in inlines_of(node)
                if isinstance(run, InlineGraphic) and run.resource == resource
            )  # fmt: skip
            at = inline.start
        return {"at": node.address, "expect": file_name(resource), **self._near(at, at)}

    # ------------------------------------------------------------ acceptance

    def _accept(self, finding: Finding) -> Offer:
        """To accept a finding: at its place, by its id where it has none, with all its places
        where it is grouped."""
        values: dict[str, Value] = {}
        if len(finding.spans) == 1:
            values = self._print(finding.spans[0], "", True) or {}
        elif len(finding.spans) > 1:
            values = {"places": len(finding.spans)}
        values |= {"do": "accept", "kind": finding.kind}
        facts = dict(finding.facts)
        if about := facts.get("resource") or facts.get("picture"):
            values["about"] = str(about)
        if "at" not in values:
            values["id"] = finding.id
        values |= {"why": "", "by": ""}
        label = "A person has looked at it and accepts it"
        return Offer(label, "accept", (stanza(values, label),), len(finding.spans))


def parts_of(row: dict[str, Any]) -> tuple[str, dict[str, Any]]:
    """What an offer's row says, and the rest of it."""
    rest = {("label" if key == "page" else key): v for key, v in row.items() if key != "label"}
    return str(row.get("label", "")), rest


def _is_whole(finding: Finding, filled: dict[str, Value]) -> bool:
    """Whether an offer is for the whole document."""
    whole = not finding.spans and verbs()[str(filled["do"])].whole
    return bool(filled.get("whole")) or bool(whole and filled.get("everywhere"))


def _rest(filled: dict[str, Value]) -> dict[str, Value]:
    """What an offer's row adds to the place: the verb, its arguments, the reason to fill in."""
    kept = {key: value for key, value in filled.items() if key not in _PLACED}
    return {"why": "", **kept, "by": ""}


def _answers(verb: str, span: Span | None, finding: Finding) -> dict[str, Value]:
    """A note about what has no print names its finding: several such may stand in one place."""
    bare = verb == "insert-note" and span is not None and span[0] == span[1]
    return {"answers": finding.id} if bare else {}


def _has(finding: Finding, fact: str, unnamed: bool = False) -> bool:
    """Whether a finding has a fact, as NAME=VALUE; ``unnamed`` where none is asked for."""
    name, _, value = fact.partition("=")
    return str(dict(finding.facts).get(name)) == value if name else unnamed


def _fill(text: str, finding: Finding) -> str:
    facts = dict(finding.facts)
    return _PARTS.sub(lambda found: str(facts.get(found[1], "")), text)

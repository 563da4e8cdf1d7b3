"""The body of a Word document block by block, straight from its bytes, never as one tree.

Most paragraphs are runs of text and nothing else; these are taken apart here by patterns that
fit them wholly or not at all.  Any other block is cut out and parsed by itself.  Where the part
as a whole is not of the plain make that patterns can be trusted with, or a block is not well
formed, :class:`Irregular` says so and the part is parsed as one tree (:mod:`.markup`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from lxml import etree

from .docx_line import places
from .docx_names import M, W
from .limits import LIMITS
from .markup import MarkupError, parse_xml

_ATTRIBUTES = rb'(?:\s+[\w:.-]+="[^"<>&]*")*'
_PROPERTY = rb"<w:\w+%s\s*/>" % _ATTRIBUTES
_MARKS = rb"((?:<w:(?:proofErr|bookmarkStart|bookmarkEnd)%s\s*/>)*)" % _ATTRIBUTES
_ONLY_MARKS = re.compile(_MARKS)
# What stands between the end of one run of text and the text of the next, less the last sign.
_BETWEEN = re.compile(
    rb"%s<w:r%s>(?:<w:rPr>((?:%s)+)</w:rPr>)?<w:t%s" % (_MARKS, _ATTRIBUTES, _PROPERTY, _ATTRIBUTES)
)
_HEAD = re.compile(
    rb"<w:p%s>(?:<w:pPr>((?:%s|</?w:(?:numPr|rPr|tabs|pBdr)>)*)</w:pPr>)?"
    % (_ATTRIBUTES, _PROPERTY)
)
_FOOT, _RUN_END = b"</w:p>", b"</w:t></w:r>"
_START = re.compile(
    rb"""<([\w:.-]+)(?:\s+[\w:.-]+\s*=\s*(?:"[^"<]*"|'[^'<]*'))*\s*(/?)>""",
)
_ROOT = re.compile(rb"\s*(?:<\?xml[^<>]*\?>\s*)?(<w:document%s\s*>)\s*" % _ATTRIBUTES)
_BEFORE = re.compile(rb"<w:background%s\s*/>\s*" % _ATTRIBUTES)
_BODY = re.compile(rb"<w:body>\s*")
_END = re.compile(rb"</w:body>\s*</w:document>\s*")
_SPACE = re.compile(rb"\s*")
_SKELETON = re.compile(
    rb"<w:p(?=[\s>])[^>]*>|</w:p>|<w:sectPr(?=[\s>]).*?</w:sectPr>"
    rb"|<w:(?:lastRenderedPageBreak|footnoteReference|endnoteReference)(?=[\s/])[^>]*/>",
    re.DOTALL,
)
_ASCII = bytes(range(128))
_NO_CONTROLS = bytes(set(range(256)) - set(range(32)) | {9, 10, 13})
_NO_CHARACTERS = (b"\xef\xbf\xbe", b"\xef\xbf\xbf")
_BATCH, _PAUSE = 32_768, 4
_MOST_STEPS = 5000


class Irregular(Exception):
    """The part cannot be read block by block."""


class Steps(dict[int, str]):
    """The CFI steps from a paragraph to the text of its run by the run's place among the
    children (from 1); ``tail``: the step inside the run.  Those of common places are kept."""

    def __init__(self, tail: str) -> None:
        super().__init__()
        self._tail = tail

    def __missing__(self, at: int) -> str:
        steps = f"/{2 * at}{self._tail}"
        if at < _MOST_STEPS:
            self[at] = steps
        return steps


_AFTER_LOOKS, _ALONE = Steps("/4"), Steps("/2")
# What stands before the text of a run: how many children begin, the steps to the text, and the
# inside of the ``rPr``.
_Before = tuple[int, Steps, bytes]


class Plain:
    """A paragraph of nothing but runs of text.  ``properties``: the inside of its ``pPr``, or
    ``None``; of each run, ``looks``: the inside of its ``rPr``, ``steps``: the CFI steps to its
    text, and ``texts``: that text; ``odd``: it holds one of the signs looked for."""

    __slots__ = ("_start", "_stream", "end", "looks", "odd", "properties", "steps", "texts")

    def __init__(self, stream: Stream, at: tuple[int, int], properties: bytes | None) -> None:
        self._stream = stream
        self._start, self.end = at
        self.odd = False
        self.properties = properties
        self.looks: list[bytes] = []
        self.steps: list[str] = []
        self.texts: list[str] = []

    def element(self) -> etree._Element:
        """The same paragraph, parsed."""
        return self._stream.parse(self._stream.data[self._start : self.end])[0]


class Stream:
    """The blocks of a main part; ``path``: the steps of its body; ``rest``: the part without
    ASCII."""

    __slots__ = ("_at", "_between", "_head", "_odd", "data", "path", "rest")

    def __init__(self, data: bytes) -> None:
        """Raises Irregular where the part is not of the plain make."""
        if data.count(b"<") > 2 * LIMITS.elements or data.translate(None, _NO_CONTROLS):
            raise Irregular
        self.rest = b"" if data.isascii() else data.translate(None, _ASCII)
        if any(sign in self.rest for sign in _NO_CHARACTERS):
            raise Irregular
        root = _ROOT.match(data.removeprefix(b"\xef\xbb\xbf")[:65_536])
        if root is None or _declares_another_encoding(root[0]):
            raise Irregular
        for prefix, space in ((b"w", W), (b"m", M)):
            name = space[1:-1].encode()
            bound = root[1].count(b'xmlns:%s="%s"' % (prefix, name))
            if data.count(name) != bound or (prefix == b"w" and not bound):
                raise Irregular
        at = root.end() + (3 if data.startswith(b"\xef\xbb\xbf") else 0)
        self.path = "/2"
        if before := _BEFORE.match(data, at):
            at, self.path = before.end(), "/4"
        body = _BODY.match(data, at)
        if body is None:
            raise Irregular
        again = data.find(b"xmlns", at)
        if again >= 0 and re.compile(rb"xmlns:[wm]\s*=").search(data, again):
            raise Irregular
        self.data, self._head, self._at = data, root[1], body.end()
        self._odd: list[int] | None = []
        self._between: dict[bytes, _Before | None] = {}

    def parse(self, blocks: bytes) -> etree._Element:
        """A body with some blocks inside.  Raises Irregular if they are not well formed."""
        whole = b"%s<w:body>%s</w:body></w:document>" % (self._head, blocks)
        try:
            return parse_xml(whole, LIMITS, allow_dtd=False)[0]
        except MarkupError:
            raise Irregular from None

    def look_for(self, signs: bool | tuple[bytes, ...]) -> None:
        """Which signs make a paragraph odd: none, any, or these."""
        if isinstance(signs, bool):
            self._odd = None if signs else []
            return
        self._odd = sorted(at for sign in signs for at in places(self.data, sign, self._at))

    def skeleton(self) -> etree._Element:
        """A tree of the paragraphs with the ends of sections, recorded pages and calls of notes
        inside them, for those who look ahead; of an empty body where nothing calls a note."""
        calls = b"noteReference" in self.data
        if calls and b"<!" in self.data:
            raise Irregular
        rows = _SKELETON.findall(self.data, self._at) if calls else []
        root = self.parse(b"".join(rows)).getparent()
        assert root is not None
        return root

    def languages(self) -> tuple[list[str], int]:
        """The languages that runs and styles name, in order, and how many runs there are."""
        data = self.data
        if b"<w:lang" not in data:
            return [], 0
        if b"<!" in data:
            raise Irregular
        found = re.findall(rb'<w:lang(?=\s)[^>]*?\sw:val="([^"]*)"', data)
        named = [name.decode("utf-8", "replace") for name in found]
        return named, len(re.findall(rb"<w:r[ >/\t\n]", data))

    def blocks(self) -> Iterator[Plain | etree._Element]:
        """Every block in order.  Raises Irregular where one is not well formed."""
        data, at = self.data, self._at
        odd, nth = [*self._odd, len(data)] if self._odd is not None else None, 0
        while True:
            if (plain := self._plain(at)) is not None:
                start, at = at, plain.end
                plain.odd = odd is None
                while odd is not None and odd[nth] < at:
                    plain.odd, nth = plain.odd or odd[nth] > start, nth + 1
                yield plain
            elif data.startswith((b"<w:", b"<m"), at):
                end = self._batch(at)
                yield from self.parse(data[at:end])
                at = end
            elif (space := _SPACE.match(data, at)) is not None and space.end() > at:
                at = space.end()
            elif _END.fullmatch(data, at):
                return
            else:
                raise Irregular

    def _plain(self, at: int) -> Plain | None:
        """The plain paragraph that begins at ``at``, if one does."""
        data = self.data
        head = _HEAD.match(data, at)
        if head is None:
            return None
        start = head.end()
        end = data.find(_FOOT, start)
        if end - start > LIMITS.text_node:
            return None
        *runs, last = data[start:end].split(_RUN_END)
        if last and _ONLY_MARKS.fullmatch(last) is None:
            return None
        plain = Plain(self, (at, end + len(_FOOT)), head[1])
        return plain if not runs or self._take_apart(runs, plain) else None

    def _take_apart(self, runs: list[bytes], plain: Plain) -> bool:
        """Fill in looks, steps and texts of a paragraph's runs; ``False`` if one is not plain."""
        child = 0 if plain.properties is None else 1
        texts: list[bytes] = []
        known, looks, steps = self._between, plain.looks, plain.steps
        for run in runs:
            between, _, text = run.rpartition(b">")
            found = known[between] if between in known else self._look_between(between)
            if found is None:
                return False
            begun, places, look = found
            child += begun
            if text:
                looks.append(look)
                steps.append(places[child])
                texts.append(text)
        if texts:
            plain.texts = unescaped(b"\0".join(texts)).split("\0")
        return True

    def _look_between(self, between: bytes) -> _Before | None:
        """What the stretch between two texts says of the second; none where it is not plain."""
        match = _BETWEEN.fullmatch(between)
        if match is None:
            found = None
        else:
            looks = match[2] or b""
            found = 1 + match[1].count(b"<"), _AFTER_LOOKS if looks else _ALONE, looks
        if match is None or not match[1]:  # marks have names and numbers, so rarely come again
            self._between[between] = found
        return found

    def _batch(self, at: int) -> int:
        """Where some blocks from ``at`` end that are parsed together, the first no plain one."""
        data, first, end, plain = self.data, at, at, 0
        while at - first < _BATCH and plain < _PAUSE and data.startswith(b"<", at):
            if (found := self._plain(at)) is not None:
                plain, at = plain + 1, found.end
            elif data.startswith(b"</", at):
                break
            else:
                plain, at = 0, _end_of(data, at)
                end = at
        return end


def _declares_another_encoding(head: bytes) -> bool:
    found = re.search(rb"""encoding\s*=\s*["']([^"']*)""", head)
    return found is not None and found[1].lower() not in (b"utf-8", b"utf8", b"us-ascii", b"ascii")


@cache
def _tags(name: bytes) -> re.Pattern[bytes]:
    return re.compile(
        rb"""<(/?)%s(?=[\s/>])(?:\s+[\w:.-]+\s*=\s*(?:"[^"<]*"|'[^'<]*'))*\s*(/?)>"""
        % re.escape(name)
    )


def _end_of(data: bytes, at: int) -> int:
    """Where the element that begins at ``at`` ends."""
    start = _START.match(data, at)
    if start is None:
        raise Irregular
    if start[2]:
        return start.end()
    depth = 1
    for tag in _tags(start[1]).finditer(data, start.end()):
        depth += 0 if tag[2] else -1 if tag[1] else 1
        if depth == 0:
            return tag.end()
    raise Irregular


_NAMED = ((b"&quot;", b'"'), (b"&#x27;", b"'"), (b"&apos;", b"'"), (b"&lt;", b"<"), (b"&gt;", b">"))
_NUMBERED = re.compile(rb"&(?!amp;)(#x[0-9A-Fa-f]{1,7}|#[0-9]{1,7})?;?")


def unescaped(raw: bytes) -> str:
    """Raw text as print.  Raises Irregular for what is no reference or no character."""
    for reference, sign in _NAMED:
        if b"&" not in raw:
            break
        raw = raw.replace(reference, sign)
    else:
        if b"&" in raw:
            raw = _NUMBERED.sub(_character, raw).replace(b"&amp;", b"&")
    try:
        return raw.decode()
    except UnicodeDecodeError:
        raise Irregular from None


def _character(match: re.Match[bytes]) -> bytes:
    if not match[1] or not match[0].endswith(b";"):
        raise Irregular
    code = int(match[1][2:], 16) if match[1][1:2] == b"x" else int(match[1][1:])
    if code not in (9, 10, 13) and (code < 32 or code > 0x10FFFF or 0xD800 <= code < 0xE000):
        raise Irregular
    if code in (0xFFFE, 0xFFFF, 0x26):  # an ampersand would be read again
        raise Irregular
    return chr(code).encode()

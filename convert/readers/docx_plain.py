"""The body of a Word document as :mod:`.docx_stream` gives it: plain paragraphs without a tree."""

from __future__ import annotations

from ..document.nodes import Block, Paragraph
from .docx_begin import begin, properties
from .docx_between import in_their_items
from .docx_blocks import block, close, end_of_story, paragraph
from .docx_lists import Entry, group
from .docx_paragraph_style import ParagraphStyle
from .docx_stream import Plain, Stream
from .docx_styles import Facts
from .docx_walk import Walk, step

# What makes a paragraph more than plain, beside what the patterns of the stream leave out.
_CHANGED = (b"<w:ins", b"<w:del", b"<w:move", b"<w:framePr", b"<w:specVanish")
_Known = tuple[str, ParagraphStyle, bool]


def stream_blocks(walk: Walk, stream: Stream) -> tuple[Block, ...]:
    """The blocks of the body, lists and boxes put together.  Raises Irregular."""
    entries: list[Entry | Block] = []
    plain = PlainParagraphs(walk, stream)
    walk.deeper()
    for at, item in enumerate(stream.blocks(), 1):
        path = stream.path + step(at)
        if not isinstance(item, Plain):
            block(walk, item, path, entries)
        elif not plain.read(item, path, entries):
            paragraph(walk, item.element(), path, entries)
    end_of_story(walk, stream.path, entries)
    walk.higher()
    return group(in_their_items(entries))


class PlainParagraphs:
    """Reads plain paragraphs; each set of properties is parsed once."""

    __slots__ = ("_looks", "_properties", "_stream", "_walk")

    def __init__(self, walk: Walk, stream: Stream) -> None:
        self._walk = walk
        self._stream = stream
        self._properties: dict[bytes | None, _Known | None] = {
            None: ("", walk.styles.paragraph(""), False)
        }
        self._looks: dict[str, dict[bytes, Facts]] = {}  # by style and properties

    def read(self, plain: Plain, path: str, entries: list[Entry | Block]) -> bool:
        """Read a paragraph; ``False``, and nothing done, where the place asks for more care."""
        walk, line = self._walk, self._walk.line
        if walk.fields.open or walk.waiting or walk.after or walk.pages.on or line.mute:
            return False
        if line.answer or (known := self._known(plain.properties)) is None:
            return False
        walk.style_id, style, skip_mark = known
        if style.special or style.num_id or style.break_before or line.pending or walk.later:
            marks = begin(walk, style, path, (False, skip_mark))
            looks = self._looks_of(plain)
            self._one_by_one(plain, looks, path)
            if looks:
                walk.look = looks[-1]
            walk.carry = False
            close(walk, style, path, marks, entries)
            return True
        walk.plain = walk.styles.facts(walk.style_id)
        walk.leaders, walk.tabs = style.tabs, 0
        line.listening = walk.carry = False
        walk.begun = walk.ledger.length
        looks = self._looks_of(plain)
        walk.look = looks[-1] if looks else walk.plain
        runs = line.plain(plain.texts, looks, (path, plain.steps), plain.odd)
        if runs is None:
            self._one_by_one(plain, looks, path)
            close(walk, style, path, (None, ()), entries)
        else:
            walk.ledger.end_block()
            if (style.centred or walk.look.large) and runs:
                walk.stands.add(walk.begun)
            entries.append(Paragraph(runs=runs, address=f"{line.part}!{path}"))
        return True

    def _one_by_one(self, plain: Plain, looks: list[Facts], path: str) -> None:
        for text, facts, steps in zip(plain.texts, looks, plain.steps, strict=True):
            self._walk.line.text(text, facts, path + steps)

    def _looks_of(self, plain: Plain) -> list[Facts]:
        """The looks of each run in the style of the paragraph."""
        style = self._walk.style_id
        known = self._looks.setdefault(style, {})
        try:
            return [known[props] for props in plain.looks]
        except KeyError:
            known |= {props: self._facts(style, props) for props in {*plain.looks} - known.keys()}
            return [known[props] for props in plain.looks]

    def _facts(self, style: str, props: bytes) -> Facts:
        if not props:
            return self._walk.plain
        return self._walk.styles.facts(style, self._stream.parse(b"<w:rPr>%s</w:rPr>" % props)[0])

    def _known(self, props: bytes | None) -> _Known | None:
        """The style with these properties, and whether a mark is hidden; none if not plain."""
        if props not in self._properties:
            assert props is not None
            self._properties[props] = self._read_properties(props)
        return self._properties[props]

    def _read_properties(self, props: bytes) -> _Known | None:
        if any(sign in props for sign in _CHANGED):
            return None
        walk = self._walk
        element = self._stream.parse(b"<w:pPr>%s</w:pPr>" % props)[0]
        style, _, skip_mark = properties(walk, element)
        return walk.style_id, style, skip_mark
